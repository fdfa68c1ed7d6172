"""Moves that mend a crew day: whatever is offered fits, and nothing is offered that cannot be done."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from itertools import chain

from hypothesis import given
from hypothesis import strategies as st

from openings.calc.mending import MOST_CREW_DAYS, Broken, DayWithRoom, Way, offers

TUESDAY = date(2026, 12, 1)
WEDNESDAY, THURSDAY = TUESDAY + timedelta(days=1), TUESDAY + timedelta(days=2)


def broken(assignment_id: int, person_h: str = "4", *, people: int = 2, not_before: date | None = TUESDAY) -> Broken:
    return Broken(
        assignment_id=assignment_id,
        job_id=1,
        person_h=Decimal(person_h),
        people=people,
        not_before=not_before,
        may_unassign=True,
    )


def room(
    crew_id: int, on: date, free_person_h: str, *, people: int = 2, jobs: frozenset[int] = frozenset({1})
) -> DayWithRoom:
    return DayWithRoom(crew_id=crew_id, on=on, free_person_h=Decimal(free_person_h), people=people, job_ids=jobs)


def test_a_sick_crew_is_mended_by_itself_later_or_by_others_the_same_day() -> None:
    days = [room(2, TUESDAY, "8"), room(1, WEDNESDAY, "4"), room(1, THURSDAY, "16")]
    found = offers([broken(11), broken(12)], days, crew_id=1, on=TUESDAY)
    assert [(offer.way, [(move.crew_id, move.on, move.assignment_ids) for move in offer.moves]) for offer in found] == [
        (Way.SAME_DAY, [(2, TUESDAY, (11, 12))]),
        (Way.SAME_CREW, [(1, WEDNESDAY, (11,)), (1, THURSDAY, (12,))]),
        (Way.UNASSIGN, []),
    ]


def test_an_offer_that_leaves_something_comes_after_one_that_leaves_nothing() -> None:
    found = offers([broken(11), broken(12)], [room(2, TUESDAY, "4"), room(1, THURSDAY, "8")], crew_id=1, on=TUESDAY)
    assert [(offer.way, offer.left) for offer in found] == [
        (Way.SAME_CREW, ()),
        (Way.SOONEST, ()),
        (Way.SAME_DAY, (12,)),
        (Way.UNASSIGN, ()),
    ]


def test_a_late_unit_waits_for_its_day() -> None:
    days = [room(1, WEDNESDAY, "16"), room(1, THURSDAY, "16")]
    first = offers([broken(11, not_before=THURSDAY)], days, crew_id=1, on=TUESDAY)[0]
    assert [(move.on, move.assignment_ids) for move in first.moves] == [(THURSDAY, (11,))]


def test_what_nobody_knows_a_day_for_can_only_be_unassigned() -> None:
    found = offers([broken(11, not_before=None)], [room(1, THURSDAY, "99")], crew_id=1, on=TUESDAY)
    assert [offer.way for offer in found] == [Way.UNASSIGN]


def test_a_unit_that_takes_four_people_goes_to_no_crew_of_two() -> None:
    found = offers([broken(11, people=4)], [room(2, TUESDAY, "99")], crew_id=1, on=TUESDAY)
    assert [offer.way for offer in found] == [Way.UNASSIGN]


def test_the_drive_to_another_site_counts() -> None:
    def half_an_hour_more(day: DayWithRoom, job_ids: frozenset[int]) -> Decimal:
        return Decimal(1) if job_ids - day.job_ids else Decimal(0)

    elsewhere = room(2, TUESDAY, "4.5", jobs=frozenset({7}))
    assert offers([broken(11)], [elsewhere], crew_id=1, on=TUESDAY)[0].way is not Way.UNASSIGN
    found = offers([broken(11)], [elsewhere], crew_id=1, on=TUESDAY, travel_h=half_an_hour_more)
    assert [offer.way for offer in found] == [Way.UNASSIGN]


days_with_room = st.builds(
    DayWithRoom,
    crew_id=st.integers(1, 4),
    on=st.dates(TUESDAY, TUESDAY + timedelta(days=6)),
    free_person_h=st.integers(0, 20).map(Decimal),
    people=st.integers(1, 4),
    job_ids=st.just(frozenset({1})),
)
what_breaks = st.lists(
    st.builds(
        Broken,
        assignment_id=st.integers(1, 99),
        job_id=st.just(1),
        person_h=st.integers(1, 9).map(Decimal),
        people=st.integers(1, 4),
        not_before=st.none() | st.dates(TUESDAY, TUESDAY + timedelta(days=6)),
        not_on=st.frozensets(st.dates(TUESDAY, TUESDAY + timedelta(days=6)), max_size=3),
        may_unassign=st.booleans(),
    ),
    min_size=1,
    max_size=8,
    unique_by=lambda one: one.assignment_id,
)


@given(what_breaks, st.lists(days_with_room, max_size=12, unique_by=lambda day: (day.crew_id, day.on)))
def test_every_offer_can_be_done_and_names_each_opening_once(found: list[Broken], days: list[DayWithRoom]) -> None:
    by_id = {one.assignment_id: one for one in found}
    by_day = {(day.crew_id, day.on): day for day in days}
    for offer in offers(found, days, crew_id=1, on=TUESDAY):
        moved = list(chain.from_iterable(move.assignment_ids for move in offer.moves))
        assert sorted([*moved, *offer.unassigned, *offer.left]) == sorted(by_id)
        assert len(offer.moves) <= MOST_CREW_DAYS
        assert all(by_id[pk].may_unassign for pk in offer.unassigned)
        for move in offer.moves:
            day, given_ones = by_day[move.crew_id, move.on], [by_id[pk] for pk in move.assignment_ids]
            assert sum(one.person_h for one in given_ones) <= day.free_person_h
            assert all(one.people <= day.people for one in given_ones)
            assert all(one.not_before and one.not_before <= day.on not in one.not_on for one in given_ones)
