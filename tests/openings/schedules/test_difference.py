"""Which opening a row of a later schedule means."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from openings.schedules import Existing, Matched, ScheduleRow, matched

# Which opening a row means when a schedule changes: common practice, no source.


def row(mark: str, quantity: int = 1, floor: str = "") -> ScheduleRow:
    return ScheduleRow(
        row=1, mark=mark, quantity=quantity, ro_width_in=None, ro_height_in=None, unit_width_in=None,
        unit_height_in=None, operation="", floor=floor, detail="", remarks="", weight_lb=None,
    )  # fmt: skip


def existing(*marks: str, of: str = "", **more) -> list[Existing]:
    return [
        Existing(opening_id=number, mark=mark, schedule_mark=of or mark, **more)
        for number, mark in enumerate(marks, start=sum(map(ord, of or "".join(marks))) * 100)
    ]


def marks(found: Matched) -> list[tuple[str, bool]]:
    return [(pair.mark, pair.existing is not None) for pair in found.pairs]


CASES = [
    ("first file", [row("W", 2), row("V")], [], [("W-01", False), ("W-02", False), ("V", False)], []),
    ("one more", [row("W", 2)], existing("W-01", of="W"), [("W-01", True), ("W-02", False)], []),
    ("one becomes two", [row("W", 2)], existing("W"), [("W", True), ("W-02", False)], []),
    ("two become one", [row("W")], existing("W-01", "W-02", of="W"), [("W-01", True)], ["W-02"]),
    ("its own mark", [row("W-02")], existing("W-01", "W-02", of="W"), [("W-02", True)], ["W-01"]),
    ("any case", [row("w3")], existing("W3"), [("W3", True)], []),
    ("gone", [row("V")], existing("W"), [("V", False)], ["W"]),
    ("by hand stays", [row("V")], existing("X", is_by_hand=True), [("V", False)], []),
    ("by hand is met", [row("X")], existing("X", is_by_hand=True), [("X", True)], []),
    ("void comes back", [row("W")], existing("W", is_void=True), [("W", True)], []),
    ("void is not missed", [row("V")], existing("W", is_void=True), [("V", False)], []),
    (
        "a hundred take three places, old ones keep two",
        [row("W", 101)],
        existing(*(f"W-{n:02}" for n in range(1, 100)), of="W"),
        [(f"W-{n:02}", True) for n in range(1, 100)] + [("W-100", False), ("W-101", False)],
        [],
    ),
]  # fmt: skip


@pytest.mark.parametrize(
    ("rows", "stand", "expected", "missing"), [case[1:] for case in CASES], ids=[c[0] for c in CASES]
)
def test_rows_mean_the_openings_of_their_mark(rows, stand, expected, missing):
    found = matched(rows, stand)
    assert marks(found) == expected
    assert [one.mark for one in found.missing] == missing


def test_floors_tell_openings_of_one_mark_apart_whatever_the_order_of_the_file():
    stand = [*existing("W-01", of="W", floor="1"), Existing(opening_id=1, mark="W-02", schedule_mark="W", floor="2")]
    found = matched([row("W", 1, "2"), row("W", 1, "1")], stand)
    assert [pair.mark for pair in found.pairs] == ["W-02", "W-01"]


def test_what_is_bound_stays_when_fewer_are_asked_for():
    stand = [
        Existing(opening_id=1, mark="W-01", schedule_mark="W"),
        Existing(opening_id=2, mark="W-02", schedule_mark="W", bound=3),
        Existing(opening_id=3, mark="W-03", schedule_mark="W", bound=1),
    ]
    found = matched([row("W", 2)], stand)
    assert {pair.mark for pair in found.pairs} == {"W-02", "W-03"}


QUANTITIES = st.dictionaries(st.sampled_from("ABC"), st.integers(1, 12), min_size=1)


@settings(deadline=None, max_examples=60)
@given(first=QUANTITIES, second=QUANTITIES)
def test_no_opening_is_lost_met_twice_or_named_twice(first, second):
    made = matched([row(mark, count) for mark, count in first.items()], []).pairs
    stand = [
        Existing(opening_id=number, mark=pair.mark, schedule_mark=pair.row.mark) for number, pair in enumerate(made)
    ]
    found = matched([row(mark, count) for mark, count in second.items()], stand)
    met = [pair.existing.opening_id for pair in found.pairs if pair.existing]
    assert sorted([*met, *(one.opening_id for one in found.missing)]) == list(range(len(stand)))
    named = [pair.mark for pair in found.pairs]
    assert len(set(named)) == len(named) == sum(second.values())
    assert not {one.mark for one in found.missing} & set(named)
    for mark, count in second.items():
        assert sum(1 for pair in found.pairs if pair.row.mark == mark and pair.existing) == min(
            count, first.get(mark, 0)
        )
