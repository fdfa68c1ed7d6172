"""One opening: what it takes, how it is laid, and what is recorded of it."""

from __future__ import annotations

from decimal import Decimal

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.answer import Question
from jobs.calc import say
from jobs.models import Person
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import ANYONE, FIELD, OFFICE
from jobs.queries import today_at
from jobs.signed_in import signed_in
from materials import queries
from materials.calc.anchors import CAUTION
from materials.calc.load_list import SOURCE
from openings import services
from openings.calc import code_advice, lay_order
from openings.calc.hours import say_hours
from openings.calc.labor import HEIGHT_CAUTION
from openings.calc.units import METRIC, US
from openings.forms import AcceptForm, HoldForm, HoursForm, MeasurementForm, ReleaseForm, StepForm
from openings.measure_fields import units_of
from openings.models import Hold
from openings.queries import is_held, record_id_of

OPENING = "opening-page"


@Page
def opening(request: HttpRequest, opening_id: int) -> HttpResponse:
    """The opening drawn to scale, its draw, hours, lift, install steps, measurements and holds."""
    units = units_of(request)
    sheet = queries.opening_sheet(opening_id, units=units)
    today = today_at(sheet.opening.job)
    return render(
        request,
        "materials/opening.html",
        {
            "sheet": sheet,
            "anchor_caution": CAUTION,
            "code_caution": code_advice.CAUTION,
            "height_caution": HEIGHT_CAUTION,
            "load_source": SOURCE,
            "lay_caution": lay_order.CAUTION,
            "other_units": US if units.is_metric else METRIC,
            "step_entered": entered(request, "step") or {},
            "hours_form": HoursForm(entered(request, "hours"), initial={"on": today}),
            "measurement_form": MeasurementForm(entered(request, "measure"), units=units),
            "hold_form": HoldForm(entered(request, "hold")),
            "today": today,
            "may_change": may(signed_in(request), OFFICE),
            "may_record": may(signed_in(request), FIELD),
            "may_lay": may(signed_in(request), FIELD) and _is_their_crews(signed_in(request), sheet),
            "may_release": may(signed_in(request), FIELD | OFFICE),
            "may_accept": may(signed_in(request), FIELD | OFFICE),
        },
    )


def _is_their_crews(person: Person, sheet: queries.OpeningSheet) -> bool:
    """Return whether somebody records for the crew that has the opening: a crew lead only for their own."""
    record = sheet.install.record
    crew_id = sheet.assignment.crew_day.crew_id if sheet.assignment else record and record.crew_id
    return person.role != Person.Role.CREW_LEAD or person.crew_id == crew_id


def what_is_begun_on_another_day(request: HttpRequest, opening_id: int) -> Question | None:
    """Ask where the opening is assigned to another day than today."""
    found, given = services.starting(opening_id=opening_id, by=signed_in(request))
    today = today_at(found.job)
    if given.on == today:
        return None
    return Question(
        asks=f"{found.mark} of {found.job.code} is assigned to {given.crew} for {say.day(given.on, today)}. Start it "
        f"today, {say.day(today, today)}?",
        follows="It stays assigned to that day, whose pull sheet leaves out what is installed before. The record says "
        "when it started.",
        yes="Start it today",
        no="Not today",
    )


@opening.act(by=FIELD, asks=what_is_begun_on_another_day)
def start(request: HttpRequest, opening_id: int) -> HttpResponse:
    """Start the install; on another day than it is assigned to, once that is confirmed."""
    is_sure = request.POST.get("sure") == "yes"
    record = services.start_install(opening_id=opening_id, by=signed_in(request), other_day=is_sure)
    return done(request, f"{record.opening} is started", OPENING, at="next-step", opening_id=opening_id)


@opening.act(by=FIELD)
def step(request: HttpRequest, opening_id: int) -> HttpResponse:
    """Record one of the install steps."""
    asked = values_of(StepForm(request.POST))
    recorded = services.record_step(record_id=record_id_of(opening_id), by=signed_in(request), **asked)
    said = f"Recorded: {recorded.title}"
    return done(request, said, OPENING, at="next-step", opening_id=opening_id)


@opening.act(by=FIELD)
def hours(request: HttpRequest, opening_id: int) -> HttpResponse:
    """Record who worked how long."""
    asked = values_of(HoursForm(request.POST))
    worked = services.record_hours(record_id=record_id_of(opening_id), by=signed_in(request), **asked)
    said = f"Recorded: {worked}"
    return done(request, said, OPENING, at="worked", opening_id=opening_id)


def what_is_closed(request: HttpRequest, opening_id: int) -> Question:
    """Ask about the opening with the hours that its record will stand with."""
    record = services.closing(record_id=record_id_of(opening_id), by=signed_in(request))
    hours = say_hours(sum((worked.person_h for worked in record.hours.all()), Decimal(0)))
    return Question(
        asks=f"Mark {record.opening.mark} of {record.opening.job.code} complete, with {hours} labor hours in all?",
        follows="Its record is closed: no step, hours or hold can be added, and it cannot be reopened. What turns out "
        "wrong later is reported as a callback.",
        yes="Mark complete",
        no="Not yet",
    )


@opening.act(by=FIELD, asks=what_is_closed)
def finish(request: HttpRequest, opening_id: int) -> HttpResponse:
    """Close the install."""
    record = services.finish_install(record_id=record_id_of(opening_id), by=signed_in(request))
    return done(request, f"{record.opening} is complete", OPENING, at="ending", opening_id=opening_id)


@opening.act(by=FIELD)
def measure(request: HttpRequest, opening_id: int) -> HttpResponse:
    """Record a field measurement; what is out of tolerance gets a hold."""
    units = units_of(request)
    readings = values_of(MeasurementForm(request.POST, units=units))
    measurement = services.record_measurement(opening_id=opening_id, by=signed_in(request), units=units, **readings)
    held = ". It is on hold" if is_held(opening_id, Hold.Kind.OUT_OF_TOLERANCE) else ""
    return done(request, f"Measured: {measurement.verdict}{held}", OPENING, at="measured", opening_id=opening_id)


@opening.act(by=FIELD | OFFICE)
def accept(request: HttpRequest, opening_id: int) -> HttpResponse:
    """Take a measured size for the rough opening as built."""
    asked, units = values_of(AcceptForm(request.POST)), units_of(request)
    accepted = services.accept_measurement(measurement_id=asked["measurement"], by=signed_in(request), units=units)
    held = ". It is on hold: what is cut may be short" if is_held(opening_id, Hold.Kind.MATERIAL_SHORT) else ""
    size = accepted.opening.rough_opening.said(units.say)
    said = f"Rough opening {size}. Draw, cuts and labor are figured for it, and an issued pull sheet is updated within "
    return done(request, f"{said}a minute{held}", OPENING, at="measured", opening_id=opening_id)


@opening.act(by=ANYONE)
def hold(request: HttpRequest, opening_id: int) -> HttpResponse:
    """Place a hold."""
    asked = values_of(HoldForm(request.POST))
    services.place_hold(opening_id=opening_id, by=signed_in(request), **asked)
    return done(request, f"On hold: {asked['kind']}", OPENING, at="holds", opening_id=opening_id)


@opening.act(by=FIELD | OFFICE)
def release(request: HttpRequest, opening_id: int) -> HttpResponse:
    """Release a hold."""
    asked = values_of(ReleaseForm(request.POST))
    released = services.release_hold(hold_id=asked["hold"], note=asked["note"], by=signed_in(request))
    return done(request, f"Hold released: {released.kind}", OPENING, at="holds", opening_id=opening_id)
