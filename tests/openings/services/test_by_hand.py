"""Openings that people add, copy, make void and take back one by one, as a schedule does with many."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from jobs.errors import BadInput, Conflict
from openings import services
from openings.calc.starting_details import STARTING_DETAILS
from openings.errors import DetailLeaks, OpeningBound
from openings.models import InstallationDetail, Opening, State
from openings.queries import opening_list
from tests.factories import CrewFactory, DetailFactory, JobFactory, OpeningFactory, PersonFactory, tomorrow
from tests.openings.rows import measure

pytestmark = pytest.mark.django_db

SIZES = {
    "ro_width_in": Decimal(36),
    "ro_height_in": Decimal(54),
    "unit_width_in": Decimal(35),
    "unit_height_in": Decimal(53),
}


def marks(job) -> list[str]:
    return list(Opening.objects.filter(job=job).values_list("mark", flat=True))


@pytest.mark.parametrize(
    ("mark", "schedule_mark", "asked", "expected"),
    [
        ("W3", "W3", {}, ["W3-02"]),
        ("W3-12", "W3", {"count": 2}, ["W3-13", "W3-14"]),
        ("W3-120", "W3", {}, ["W3-121"]),
        ("W3-12", "W3", {"first_mark": "201", "count": 3}, ["201", "202", "203"]),
        ("W3-12", "W3", {"first_mark": "W3-08", "count": 3}, ["W3-08", "W3-09", "W3-10"]),
    ],
    ids=["one of a kind", "after the last", "as many places", "from a mark on", "over a ten"],
)
def test_copies_have_the_marks_that_follow(mark, schedule_mark, asked, expected):
    pattern = OpeningFactory(mark=mark, schedule_mark=schedule_mark)
    made = services.copy_opening(opening_id=pattern.pk, **asked)
    assert [one.mark for one in made] == expected
    assert {one.schedule_mark for one in made} == {schedule_mark}


def test_a_copy_is_the_same_window_and_not_the_same_hole():
    pattern = OpeningFactory(operation="casement", weight_lb=Decimal(120), lites_in=[Decimal("0.25")], is_egress=True)
    OpeningFactory(job=pattern.job, detail=pattern.detail, position=pattern.position + 1, mark="last")
    accepted = services.accept_measurement(measurement_id=measure(pattern, "36.125", "54").pk, by=PersonFactory())
    assert accepted.opening.built_ro_width_in
    (copy,) = services.copy_opening(opening_id=pattern.pk, floor="Level 2")
    copy = opening_list().get(pk=copy.pk)
    assert (copy.operation, copy.weight_lb, copy.lites_in, copy.is_egress) == (
        "casement", 120, [Decimal("0.25")], True,
    )  # fmt: skip
    assert (copy.floor, copy.state, copy.built_ro_width_in, copy.schedule) == ("Level 2", State.READY, None, None)
    assert marks(pattern.job) == [pattern.mark, copy.mark, "last"]


def test_a_mark_that_is_taken_is_refused_and_nothing_is_copied():
    pattern = OpeningFactory(mark="W1", schedule_mark="W1")
    OpeningFactory(job=pattern.job, detail=pattern.detail, mark="W3")
    with pytest.raises(Conflict, match=r"W3 is in job-\d+ already; give another first mark"):
        services.copy_opening(opening_id=pattern.pk, first_mark="W2", count=3)
    assert sorted(marks(pattern.job)) == ["W1", "W3"]


@pytest.mark.parametrize("count", [0, 201])
def test_so_many_are_not_copied_at_once(count):
    with pytest.raises(BadInput, match="copy 1 to 200 at once"):
        services.copy_opening(opening_id=OpeningFactory().pk, count=count)


def test_a_mark_that_grows_too_long_is_refused():
    pattern = OpeningFactory(mark="W" * 49, schedule_mark="W" * 49)
    with pytest.raises(ValidationError, match="at most 50"):
        services.copy_opening(opening_id=pattern.pk)


@pytest.mark.parametrize("count", [1, 40])
def test_copies_are_written_in_as_many_queries_however_many(count, django_assert_max_num_queries):
    pattern = OpeningFactory()
    with django_assert_max_num_queries(50):
        services.copy_opening(opening_id=pattern.pk, count=count)


def test_a_quantity_is_numbered_as_a_schedule_numbers_it_and_goes_to_the_end_of_the_job():
    detail = DetailFactory()
    OpeningFactory(job=detail.job, detail=detail, mark="W1", position=7)
    services.add_openings(count=3, job=detail.job, detail=detail, mark="W3", **SIZES)
    services.add_openings(count=1, job=detail.job, detail=detail, mark="W4", **SIZES)
    assert marks(detail.job) == ["W1", "W3-01", "W3-02", "W3-03", "W4"]


def test_what_is_made_void_by_hand_says_who_and_why_until_it_is_taken_back():
    opening, by = OpeningFactory(), PersonFactory()
    voided = services.void_opening(opening_id=opening.pk, by=by, why=" a door instead ")
    assert (voided.voided_by, voided.void_why, voided.voided_at is None) == (by, "a door instead", False)
    assert services.void_opening(opening_id=opening.pk, by=PersonFactory()).voided_by == by
    services.restore_opening(opening_id=opening.pk)
    restored = opening_list().get(pk=opening.pk)
    assert (restored.state, restored.voided_by, restored.void_why) == (State.READY, None, "")
    with pytest.raises(Conflict, match="is not void"):
        services.restore_opening(opening_id=opening.pk)


def test_what_is_assigned_is_not_made_void():
    opening = OpeningFactory()
    services.assign(opening_ids=[opening.pk], crew_id=CrewFactory().pk, on=tomorrow(), by=None)
    with pytest.raises(OpeningBound, match="unassign it first"):
        services.void_opening(opening_id=opening.pk, by=PersonFactory())


def test_an_opening_whose_detail_lets_water_in_meanwhile_stays_void():
    # A pan turns up 4 to 6 in: Fine Homebuilding, sill pan.
    opening = OpeningFactory(is_void=True)
    InstallationDetail.objects.filter(pk=opening.detail_id).update(pan_turn_up_in=2)
    with pytest.raises(DetailLeaks):
        services.restore_opening(opening_id=opening.pk)


def test_a_detail_is_copied_from_another_job_without_what_was_accepted_there():
    other = DetailFactory(pan_turn_up_in=Decimal(2), strip_width_in=Decimal(12))
    services.accept_leak(detail_id=other.pk, by=PersonFactory(), why="under a deep porch")
    copy = services.add_detail(job=JobFactory(), name="as there", copy_of=other, end_lap_in=Decimal(3))
    assert (copy.pan_turn_up_in, copy.strip_width_in, copy.end_lap_in) == (2, 12, 3)
    assert not copy.is_leak_accepted
    with pytest.raises(BadInput, match="not with both"):
        services.add_detail(job=copy.job, name="both", copy_of=other, starting_point=next(iter(STARTING_DETAILS)))
