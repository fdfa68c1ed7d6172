"""The install record: started by the crew, recorded in lay order, done once it is whole."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from jobs.errors import Conflict, DayOutOfReach, NotAllowed, NotFound
from jobs.models import Person
from openings import services
from openings.calc.lay_order import steps_for
from openings.errors import StepOutOfOrder, StepUnknown
from openings.models import Hold
from tests.factories import CrewFactory, DetailFactory, JobFactory, PersonFactory, make_openings
from tests.openings.rows import finish, make_assigned, start

pytestmark = pytest.mark.django_db


@pytest.fixture
def opening():
    return make_assigned()[0]


@pytest.fixture
def by():
    return PersonFactory()


def step_codes(opening) -> list[str]:
    return [step.code for step in steps_for(opening.detail.as_facts())]


def record_all(record, by) -> None:
    for code in step_codes(record.opening):
        services.record_step(record_id=record.pk, step=code, by=by)


def worked(record, by, *, on=None, person="Ines", person_h="2.5"):
    return services.record_hours(
        record_id=record.pk, person=person, on=on or timezone.now().date(), person_h=Decimal(person_h), by=by
    )


def test_a_whole_record_can_be_done(opening, by):
    record = start(opening, by=by)
    record_all(record, by)
    worked(record, by)
    finished = services.finish_install(record_id=record.pk, by=by)
    assert (finished.done_by, finished.crew.people_count) == (by, 20)
    assert finished.done_at >= finished.started_at


def test_straps_are_recorded_before_the_unit_is_set_and_it_is_fastened_once_true(opening, by):
    # Screwed on before it is lifted, fastened after it is level, plumb and square: common practice, no source.
    services.revise_detail(detail_id=opening.detail_id, has_straps=True)
    opening.detail.refresh_from_db()
    record, codes = start(opening, by=by), step_codes(opening)
    for code in codes[: codes.index("setting-bead") + 1]:
        if code != "straps":
            services.record_step(record_id=record.pk, step=code, by=by)
    with pytest.raises(StepOutOfOrder, match="comes after “Screw the straps to jambs and head of the unit"):
        services.record_step(record_id=record.pk, step="set-unit", by=by)
    for code in ("straps", "set-unit"):
        services.record_step(record_id=record.pk, step=code, by=by)
    with pytest.raises(StepOutOfOrder, match="comes after “Shim"):
        services.record_step(record_id=record.pk, step="fasten", by=by)


@pytest.mark.parametrize(
    ("recorded", "step", "first"),
    [
        (1, "jamb-strips", "Fasten the sill strip"),
        (5, "jamb-strips", "Set the unit"),
        (8, "head-strip", "Lay both jamb strips"),
    ],
    ids=["sill before jambs", "unit before jambs", "jambs before head"],
)
def test_a_step_out_of_order_is_refused_with_the_step_that_comes_first(opening, by, recorded, step, first):
    # Sill, jambs, head: AWDI installation manual p. 23. Jambs over the flange (methods A and A1) come after the unit:
    # AAMA 2400-10 cl. 5.7.
    record = start(opening, by=by)
    for code in step_codes(opening)[:recorded]:
        services.record_step(record_id=record.pk, step=code, by=by)
    with pytest.raises(StepOutOfOrder, match=f"comes after “{first}.*Record that first"):
        services.record_step(record_id=record.pk, step=step, by=by)
    assert record.steps.count() == recorded


def test_an_unknown_step_and_one_recorded_twice_are_refused(opening, by):
    record, (first, *_) = start(opening, by=by), step_codes(opening)
    with pytest.raises(StepUnknown):
        services.record_step(record_id=record.pk, step="paint", by=by)
    services.record_step(record_id=record.pk, step=first, by=by, lot="L7", note="dry")
    with pytest.raises(ValidationError, match="already recorded"):
        services.record_step(record_id=record.pk, step=first, by=by)
    assert list(record.steps.values_list("step", "lot", "note", "recorded_by")) == [(first, "L7", "dry", by.pk)]


def test_a_record_is_not_done_without_every_step_and_the_hours(opening, by):
    record, (*others, last) = start(opening, by=by), step_codes(opening)
    with pytest.raises(StepOutOfOrder, match=r"; \d+ steps are missing"):
        services.finish_install(record_id=record.pk, by=by)
    for code in others:
        services.record_step(record_id=record.pk, step=code, by=by)
    with pytest.raises(StepOutOfOrder, match="; 1 step is missing"):
        services.finish_install(record_id=record.pk, by=by)
    services.record_step(record_id=record.pk, step=last, by=by)
    with pytest.raises(Conflict, match="no labor hours"):
        services.finish_install(record_id=record.pk, by=by)
    assert last in record.steps.values_list("step", flat=True)


def test_nothing_is_added_to_a_record_that_is_done(opening, by):
    record = start(opening, by=by)
    finish(record)
    acts = [
        lambda: services.record_step(record_id=record.pk, step=step_codes(opening)[0], by=by),
        lambda: worked(record, by),
        lambda: services.finish_install(record_id=record.pk, by=by),
    ]
    for act in acts:
        with pytest.raises(Conflict, match="is complete"):
            act()


def test_nothing_is_laid_while_the_opening_is_on_hold(opening, by):
    record = start(opening, by=by)
    first = step_codes(opening)[0]
    hold = services.place_hold(opening_id=opening.pk, kind=Hold.Kind.WEATHER, reason="sleet", by=by)
    with pytest.raises(Conflict, match="on hold: weather"):
        services.record_step(record_id=record.pk, step=first, by=by)
    worked(record, by)
    services.release_hold(hold_id=hold.pk, by=by)
    services.record_step(record_id=record.pk, step=first, by=by)


@pytest.mark.parametrize("person_h", ["0", "-1", "24.01", "0.001"])
def test_hours_fit_in_a_day(opening, by, person_h):
    with pytest.raises(ValidationError):
        worked(start(opening, by=by), by, person_h=person_h)


def test_the_hours_of_a_person_stand_once_a_date(opening, by):
    record = start(opening, by=by)
    worked(record, by)
    worked(record, by, person="Tom")
    with pytest.raises(Conflict, match=r"on \w{3}, \w{3} \d+ are recorded already, \w+: [\d.]+ labor hours?$"):
        worked(record, by)


@pytest.mark.parametrize(
    ("person_h", "said"), [("1", "1 labor hour"), ("1.5", "1.5 labor hours"), ("0.5", "0.5 labor hours")]
)
def test_one_hour_is_one(opening, by, person_h, said):
    assert str(worked(start(opening, by=by), by, person_h=person_h)).endswith(f": {said}")


@pytest.mark.parametrize(
    ("time_zone", "is_future"), [("Pacific/Auckland", False), ("America/Denver", True)], ids=["Auckland", "Denver"]
)
def test_hours_are_of_the_future_when_they_are_where_the_job_is(monkeypatch, by, time_zone, is_future):
    # 20:00 UTC on 7 March 2027 is 09:00 on 8 March in Auckland, UTC+13, and 13:00 on 7 March in Denver (IANA).
    monkeypatch.setattr(timezone, "now", lambda: datetime(2027, 3, 7, 20, tzinfo=UTC))
    (opening,) = make_assigned(job=JobFactory(time_zone=time_zone), on=date(2027, 3, 9))
    record = start(opening, by=by)
    if is_future:
        with pytest.raises(DayOutOfReach, match="has not come yet"):
            worked(record, by, on=date(2027, 3, 8))
    else:
        assert worked(record, by, on=date(2027, 3, 8))


def test_an_install_starts_only_where_a_crew_may_go(by):
    def refused(opening, said: str) -> None:
        with pytest.raises(Conflict, match=said):
            start(opening, by=by)

    ready, void, held, started = [*make_openings(2), *make_assigned(2)]
    services.void_opening(opening_id=void.pk)
    services.place_hold(opening_id=held.pk, kind=Hold.Kind.ACCESS, reason="stairs", by=None)
    start(started, by=by)
    refused(ready, "not assigned")
    refused(void, "is void")
    refused(held, "on hold: access")
    refused(started, "already started")
    with pytest.raises(NotFound):
        services.start_install(opening_id=10**30, by=by)


def test_a_crew_lead_records_for_their_own_crew_only():
    crew = CrewFactory()
    (opening,) = make_assigned(crew=crew)
    own, other = (PersonFactory(role=Person.Role.CREW_LEAD, crew=c) for c in (crew, CrewFactory()))
    with pytest.raises(NotAllowed):
        start(opening, by=other)
    record = start(opening, by=own)
    for act in (lambda: worked(record, other), lambda: services.finish_install(record_id=record.pk, by=other)):
        with pytest.raises(NotAllowed):
            act()


def test_an_opening_is_void_only_while_nothing_is_planned_or_recorded(by):
    (ready,), (assigned, started) = make_openings(1), make_assigned(2)
    start(started, by=by)
    assert services.void_opening(opening_id=ready.pk).is_void
    for opening, said in ((assigned, "unassign it"), (started, "its install was started")):
        with pytest.raises(Conflict, match=said):
            services.void_opening(opening_id=opening.pk)


def test_what_an_install_record_speaks_of_stays_as_it_is(opening, by):
    services.revise_opening(opening_id=opening.pk, ro_width_in=Decimal("36.25"))
    start(opening, by=by)
    other = DetailFactory(job=opening.job)
    for said, values in (
        ("rough opening width", {"ro_width_in": Decimal(37)}), ("detail", {"detail": other}), ("mark", {"mark": "W99"}),
    ):  # fmt: skip
        with pytest.raises(Conflict, match=rf"stays as it is \({said}\): its install was started"):
            services.revise_opening(opening_id=opening.pk, **values)
    revised = services.revise_opening(opening_id=opening.pk, remarks="stair side", ro_width_in=Decimal("36.25"))
    assert revised.remarks == "stair side"
