"""The units of a job: ordered, expected, received, damaged or wrong and ordered again; and their deliveries."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.calc import say
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import ANYONE, OFFICE, STOCK
from jobs.queries import job_of, today_on_sites
from jobs.signed_in import signed_in
from openings import queries, services
from openings.calc.readiness import Condition, Flaw
from openings.forms import BringForm, DeliveryForm, ExpectForm, ReceiveDeliveryForm, ReceiveForm, UnitOrderForm
from openings.serializers import PageAsked

UNITS, DELIVERIES = "units-page", "deliveries-page"


@Page
def units(request: HttpRequest, job_id: int) -> HttpResponse:
    """The openings of a job with their units, and what is entered for those that are selected."""
    asked = PageAsked(data=request.GET)
    asked.is_valid(raise_exception=True)
    today = today_on_sites()
    return render(
        request,
        "openings/units.html",
        {
            "sheet": queries.unit_sheet(job_id, page=asked.validated_data["page"]),
            "chosen": set(request.POST.getlist("openings")),
            "order_form": UnitOrderForm(
                entered(request, "order") or entered(request, "reorder"), initial={"ordered_on": today}
            ),
            "bring_form": BringForm(entered(request, "bring")),
            "receive_form": ReceiveForm(entered(request, "receive")),
            "may_order": may(signed_in(request), OFFICE | STOCK),
            "may_receive": may(signed_in(request), ANYONE),
        },
    )


@units.act(by=OFFICE | STOCK)
def order(request: HttpRequest, job_id: int) -> HttpResponse:
    """Enter that the units of the selected openings are ordered."""
    values = values_of(UnitOrderForm(request.POST))
    ordered = services.order_units(opening_ids=[one.pk for one in values.pop("openings")], **values)
    return done(request, f"{say.counted(len(ordered), 'unit')} ordered", UNITS, at="units", job_id=job_id)


@units.act(by=OFFICE | STOCK)
def reorder(request: HttpRequest, job_id: int) -> HttpResponse:
    """Order the units of the selected openings again; those before stay as history."""
    values = values_of(UnitOrderForm(request.POST))
    found = queries.current_units(values.pop("openings"))
    ordered = services.reorder_units(unit_ids=[unit.pk for unit in found], **values)
    return done(request, f"{say.counted(len(ordered), 'unit')} ordered again", UNITS, at="units", job_id=job_id)


@units.act(by=OFFICE | STOCK)
def bring(request: HttpRequest, job_id: int) -> HttpResponse:
    """Put the units of the selected openings on a delivery."""
    values = values_of(BringForm(request.POST))
    found = queries.current_units(values.pop("openings"))
    delivery = services.add_delivery(job=job_of(job_id), unit_ids=[unit.pk for unit in found], **values)
    said = f"{say.counted(len(found), 'unit')} on the delivery {delivery}"
    return done(request, said, UNITS, at="units", job_id=job_id)


@units.act(by=ANYONE)
def receive(request: HttpRequest, job_id: int) -> HttpResponse:
    """Enter that the units of the selected openings have come, and how they are."""
    values = values_of(ReceiveForm(request.POST))
    ids = [unit.pk for unit in queries.current_units(values["openings"])]
    condition = Condition(values["condition"])
    flaws = {} if condition is Condition.WHOLE else dict.fromkeys(ids, Flaw(condition=condition, note=values["note"]))
    came = services.receive_units(unit_ids=ids, by=signed_in(request), stands_at=values["stands_at"], flaws=flaws)
    said = f"{say.counted(len(came), 'unit')} received {condition}"
    return done(request, said, UNITS, at="units", job_id=job_id)


@Page
def deliveries(request: HttpRequest) -> HttpResponse:
    """What is awaited, what is late, and what came last."""
    awaited, came = queries.deliveries()
    shown = [(line, *_forms_of(line, request)) for line in awaited]
    return render(
        request,
        "openings/deliveries.html",
        {"awaited": shown, "came": came, "may_order": may(signed_in(request), OFFICE | STOCK)},
    )


def _forms_of(line: queries.DeliveryLine, request: HttpRequest) -> tuple[ExpectForm, ReceiveDeliveryForm]:
    """Return what is entered for one delivery, with what was refused of it."""
    pk = line.delivery.pk
    is_meant = request.POST.get("delivery") == str(pk)
    known = {"delivery": pk, "expected_on": line.delivery.expected_on}
    return (
        ExpectForm(entered(request, "expect") if is_meant else None, initial=known, auto_id=f"expect_{pk}_%s"),
        ReceiveDeliveryForm(
            entered(request, "receive_delivery") if is_meant else None,
            units=line.units,
            initial=known,
            auto_id=f"receive_{pk}_%s",
        ),
    )


@deliveries.act(by=OFFICE | STOCK)
def expect(request: HttpRequest) -> HttpResponse:
    """Say when a delivery is expected; the openings that wait for it follow."""
    values = values_of(ExpectForm(request.POST))
    slipped = services.revise_delivery(delivery_id=values["delivery"], expected_on=values["expected_on"])
    early = queries.assigned_too_early(job_id=slipped.job_id)
    left = f". Assigned too early now: {', '.join(one.assignment.opening.mark for one in early)}" if early else ""
    said = f"{slipped} is expected {say.day(values['expected_on'], today_on_sites())}{left}"
    return done(request, said, DELIVERIES, at=f"delivery-{slipped.pk}")


@deliveries.act(by=ANYONE)
def receive_delivery(request: HttpRequest) -> HttpResponse:
    """Enter that a delivery has come, and which of its units are damaged, wrong or missing."""
    line = queries.delivery_of(values_of(DeliveryForm(request.POST))["delivery"])
    values = values_of(ReceiveDeliveryForm(request.POST, units=line.units))
    came = services.receive_delivery(
        delivery_id=line.delivery.pk,
        by=signed_in(request),
        stands_at=values["stands_at"],
        flaws=values["flaws"],
        missing=values["missing"],
    )
    whole = len(line.units) - len(values["flaws"]) - len(values["missing"])
    return done(request, f"{came} is received: {say.counted(whole, 'unit')} whole", DELIVERIES, at="came")
