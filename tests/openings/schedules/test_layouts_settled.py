"""What holds for every schedule of the corpus, whatever it says."""

from __future__ import annotations

from contextlib import suppress

import pytest

from openings.errors import BadSchedule
from openings.schedules import Layout, ScheduleRead, layout_of
from tests.openings.schedules import (
    test_layouts_beneath,
    test_layouts_counts,
    test_layouts_headings,
    test_layouts_marks,
    test_layouts_sizes,
    test_layouts_tables,
    test_layouts_texts,
    test_layouts_titles,
)
from tests.openings.schedules.layouts import Case

CASES: list[tuple[str, Case]] = [
    (module.__name__.rsplit("_", 1)[-1], case)
    for module in (
        test_layouts_beneath,
        test_layouts_counts,
        test_layouts_headings,
        test_layouts_marks,
        test_layouts_sizes,
        test_layouts_tables,
        test_layouts_texts,
        test_layouts_titles,
    )
    for case in module.CASES
]
EVERY = pytest.mark.parametrize(
    "case", [case for _, case in CASES], ids=[f"{noun}: {case.name}" for noun, case in CASES]
)


def answer_to(field: str, choice: str, read: ScheduleRead) -> Layout:
    """Return the layout that has a choice where the question asks for it, as a page or a client would send it."""
    if field in ("tables", "marks"):
        return layout_of({field: choice})
    columns, letter, part = field.split(".")
    [meaning] = {column.meaning for column in read.proposal if column.letter == letter}
    return layout_of({columns: {letter: {"meaning": meaning} | {part: choice}}})


@EVERY
def test_every_question_can_be_answered_by_each_of_its_choices(case: Case) -> None:
    # The contract of `Question`: where the answer goes in the layout, the likeliest first; and of
    # `ScheduleRead.questions`: the rows go by the likeliest answers. An answer may turn out to be impossible.
    read = case.read()
    for asked in read.questions:
        assert asked.detail
        assert len(set(asked.choices)) == len(asked.choices) >= 1
        for choice in asked.choices:
            settled = answer_to(asked.field, choice, read)
            with suppress(BadSchedule):
                assert asked.field not in {again.field for again in case.read(settled=settled).questions}
        assert case.read(settled=answer_to(asked.field, asked.choices[0], read)).rows == read.rows


@EVERY
def test_layout_of_a_file_reads_it_again_without_a_question(case: Case) -> None:
    # The contract of `ScheduleRead.layout`.
    read = case.read()
    layout = layout_of(read.layout.as_json())
    again = case.read(settled=layout)
    assert again.questions == ()
    assert again.rows == read.rows
    assert again.fingerprint == read.fingerprint
    assert case.read(remembered={read.fingerprint: layout}).rows == read.rows


@EVERY
def test_rows_and_columns_keep_their_contract(case: Case) -> None:
    read = case.read()
    for row in read.rows:
        assert row.mark == row.mark.strip() != ""
        assert row.quantity >= 1
        assert row.row >= 1
        pairs = [(row.ro_width_in, row.ro_height_in), (row.unit_width_in, row.unit_height_in)]
        given = [side for pair in pairs if pair != (None, None) for side in pair]
        assert given
        assert all(side is not None and 0 < side <= 480 for side in given)
    places = [(column.table, column.letter) for column in read.proposal]
    assert len(set(places)) == len(places)
    assert all(0 <= column.confidence <= 1 and len(column.samples) <= 3 for column in read.proposal)
    assert {letter for column in read.columns.values() for letter in column.letter.split(", ")} <= {
        column.letter for column in read.proposal if column.meaning
    }
