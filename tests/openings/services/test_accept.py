"""Taking what was measured for the size of a rough opening. What follows from it is our own rule."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError

from jobs.errors import Conflict, NotFound
from openings import services
from openings.errors import OpeningBound
from openings.models import Hold, Opening
from tests.factories import DetailFactory, PersonFactory, make_openings
from tests.openings.rows import finish, make_assigned, measure, schedule_of, start, take

pytestmark = pytest.mark.django_db

SIX_BY_FIVE = {"ro_width_in": 72, "ro_height_in": 60, "unit_width_in": "71.5", "unit_height_in": "59.5"}


def accept(measurement, by=None):
    return services.accept_measurement(measurement_id=measurement.pk, by=by or PersonFactory())


def size_of(opening: Opening) -> tuple[Decimal, Decimal]:
    facts = Opening.objects.get(pk=opening.pk).as_facts()
    return facts.ro_width_in, facts.ro_height_in


@pytest.fixture
def opening() -> Opening:
    return make_openings(1, **SIX_BY_FIVE)[0]


def test_an_accepted_measurement_is_the_size_that_counts_and_the_drawn_one_stays(opening):
    measured = measure(opening, "75 74.9375 75", "60")
    assert size_of(opening) == (72, 60)
    lead = PersonFactory()
    accepted = accept(measured, lead)
    assert (accepted.accepted_by, accepted.accepted_at is not None) == (lead, True)
    assert size_of(opening) == (75, 60)
    opening.refresh_from_db()
    assert (opening.ro_width_in, opening.ro_height_in, opening.built_from) == (72, 60, measured)
    assert opening.as_facts().drawn_ro_in == (72, 60)


def test_accepted_twice_it_is_accepted_once(opening):
    measured = measure(opening, "72.25", "60")
    first = accept(measured)
    again = accept(measured)
    assert (again.accepted_at, again.accepted_by) == (first.accepted_at, first.accepted_by)


def test_a_later_measurement_replaces_an_earlier_one_and_not_the_other_way_round(opening):
    earlier, later = measure(opening, "72.25", "60"), measure(opening, "72.125", "60.125")
    accept(earlier)
    accept(later)
    assert size_of(opening) == (Decimal("72.125"), Decimal("60.125"))
    with pytest.raises(Conflict, match=r"was measured again .* and that is accepted"):
        accept(earlier)
    assert size_of(opening) == (Decimal("72.125"), Decimal("60.125"))


def test_what_the_unit_does_not_go_into_is_refused_with_what_to_do(opening):
    with pytest.raises(Conflict, match="open the framing up and measure again, or order a unit that goes in"):
        accept(measure(opening, "71.4375", "60"))
    assert size_of(opening) == (72, 60)


def test_a_measurement_that_is_not_there_is_said():
    with pytest.raises(NotFound):
        services.accept_measurement(measurement_id=0, by=PersonFactory())


def test_a_started_install_goes_on_hold_for_what_is_laid_may_be_short():
    (opening,) = make_assigned(1, **SIX_BY_FIVE)
    start(opening)
    measured = measure(opening, "72.5", "60")
    accept(measured)
    hold = opening.holds.open().get()
    assert hold.kind == Hold.Kind.MATERIAL_SHORT
    assert "6' 0 1/2\" × 5' 0\" as built (drawn 6' 0\" × 5' 0\"), and its install was started" in hold.reason
    services.release_hold(hold_id=hold.pk, by=PersonFactory())
    accept(measured)
    assert not opening.holds.open().exists()


def test_a_size_that_is_as_drawn_holds_nothing_up():
    (opening,) = make_assigned(1, **SIX_BY_FIVE)
    start(opening)
    accept(measure(opening, "72", "60"))
    assert not opening.holds.open().exists()


def test_an_install_that_is_done_keeps_the_size_it_was_done_with(opening):
    (opening,) = make_assigned(1, **SIX_BY_FIVE)
    record = start(opening)
    measured = measure(opening, "72.5", "60")
    finish(record)
    with pytest.raises(OpeningBound, match="keeps its size: its install has been complete"):
        accept(measured)


def test_a_unit_larger_than_the_opening_as_built_is_refused(opening):
    accept(measure(opening, "71.75", "60"))
    with pytest.raises(ValidationError, match="larger than its rough opening as built"):
        services.revise_opening(opening_id=opening.pk, unit_width_in=Decimal(72))


@pytest.mark.parametrize(
    "values",
    [{"built_ro_width_in": 75}, {"built_ro_width_in": 75, "built_ro_height_in": 60}],
    ids=["one side", "no measurement"],
)
def test_half_of_a_size_as_built_is_none(opening, values):
    with pytest.raises(IntegrityError, match="opening_as_built_has_both_sides_and_a_measurement"):
        Opening.objects.filter(pk=opening.pk).update(**values)


def test_a_schedule_that_changes_the_drawn_size_leaves_the_built_one_and_says_so():
    job = DetailFactory(name="wall type 1").job
    take(job, schedule_of("W1,1,36,54,"))
    opening = Opening.objects.get()
    accept(measure(opening, "36.25", "54"))
    content = schedule_of("W1,1,36.125,54,")
    plan = services.preview_schedule(job_id=job.pk, filename="windows.csv", content=content)
    (line,) = plan.lines
    assert line.follows == "its rough opening stays 3' 0 1/4\" × 4' 6\" as built; the drawn size alone changes"
    take(job, content)
    opening.refresh_from_db()
    assert (opening.ro_width_in, opening.built_ro_width_in) == (Decimal("36.125"), Decimal("36.25"))


def test_a_schedule_with_a_unit_that_does_not_go_in_changes_that_opening_not():
    job = DetailFactory(name="wall type 1").job
    take(job, schedule_of("W1,1,36,54,"))
    accept(measure(Opening.objects.get(), "36.25", "54"))
    plan = services.preview_schedule(job_id=job.pk, filename="windows.csv", content=schedule_of("W1,1,40,54,"))
    assert plan.lines[0].hindrance == (
        "its rough opening is 3' 0 1/4\" × 4' 6\" as built, and a unit of 3' 3 1/2\" × 4' 5 1/2\" does not go in; "
        "correct the row, or open the framing up and measure again"
    )
