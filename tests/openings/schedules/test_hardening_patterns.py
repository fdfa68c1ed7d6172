"""What people send is gone through in a time that grows no faster than its length: nothing is searched over and over.

Signs stand in each place 50,000 times over, alone, in pairs, and behind words that patterns look for. The bound is the
project's own and generous: with patterns that grow with the square of the length one of them alone took over a minute.
"""

from __future__ import annotations

import csv
import io
import string
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any

import pytest

from config.measured import declared
from config.metric import fault_in_metric, from_body
from jobs.calc.text import has_control
from jobs.errors import BadInput
from jobs.names import no_such
from materials.serializers import CutsAsked, DrawAsked
from openings.calc.operation import factor_of_operation
from openings.calc.tape import bare_size, read_length, read_size, size_in_text
from openings.calc.units import METRIC
from openings.errors import BadSchedule
from openings.schedules import Layout, layout_of, read_schedule
from openings.schedules.building.ifc_child import _broken
from openings.schedules.building.words import operation_in
from openings.schedules.columns.stated import stated_unit
from openings.schedules.headings.levels import floor_counted, floor_within
from openings.schedules.headings.plain import is_foreign, plain_text, read_heading, words_of
from openings.schedules.headings.similar import similar_headings
from openings.schedules.lines.mark_ranges import several_in
from openings.schedules.tables.table import kind_of
from openings.serializers import LaborAsked, LiftAsked
from tests.openings.schedules.files import xlsx

LENGTH = 50_000
MOST_CPU_S = 10
PAIRS = ("( ", "1 ", "1/", "- ", "x1", "1-", "1,", "a,", "[(", "(1)", "w1 x ", "level ", "schedule ", "in ", "a-\n")
SIGNS = (*string.punctuation, "×", "–", "′", "″", "½", "…", " ", "\t", "_1", *PAIRS)
TEXTS = [(sign * LENGTH)[:LENGTH] for sign in SIGNS]
BEHIND = ("W1", "Level ", "Dimensions in feet", "schedule (", "36 x ", "1,000", "Qty ")
MOST_IN_A_CELL = 32_767
"""Letters that a cell of a workbook holds: ECMA-376 Part 1, 18.18.93 (ST_Xstring) as programs limit it."""

HEADINGS = ["Mark", "Qty", "RO Size", "Remarks", "Floor", "Lites", "Design Pressure", "Place of it"]
SIDE_BY_SIDE = 4
ROW = ["W1", "2", '36" x 54"', "hall", "1", "1/8", "50", "x"]


@contextmanager
def in_bounded_time() -> Iterator[None]:
    began = time.process_time()
    yield
    assert time.process_time() - began < MOST_CPU_S


def beneath(first: int) -> list[list[str]]:
    """Return a schedule with each text in some columns side by side of a row of its own."""
    cells = [*TEXTS, *(f"{word}{'(' * LENGTH}" for word in BEHIND)]
    stop = first + SIDE_BY_SIDE
    return [HEADINGS, ROW, *([*ROW[:first], *[text] * SIDE_BY_SIDE, *ROW[stop:]] for text in cells), ROW]


PLACES: dict[str, Callable[[], list[list[str]]]] = {
    "headings": lambda: [[*HEADINGS, *TEXTS], [*ROW, *["x"] * len(TEXTS)]],
    "headings with words": lambda: [
        [*HEADINGS, *(f"RO Width {text}" for text in TEXTS)], [*ROW, *["36"] * len(TEXTS)]
    ],
    "title": lambda: [*([f"Window schedule {text}"] for text in TEXTS), HEADINGS, ROW],
    "alone between rows": lambda: [HEADINGS, ROW, *([f"Floor 1 {text}"] for text in TEXTS), ROW],
    "legend": lambda: [HEADINGS, ROW, [], *(["", f"Dimensions in feet{text}"] for text in TEXTS)],
    "no schedule": lambda: [[text] for text in TEXTS],
    "the first columns": lambda: beneath(0),
    "the last columns": lambda: beneath(SIDE_BY_SIDE),
}  # fmt: skip


@pytest.mark.parametrize("place", PLACES)
def test_no_sign_in_a_text_file_costs_more_than_its_length(place: str) -> None:
    written = io.StringIO()
    csv.writer(written).writerows(PLACES[place]())
    with in_bounded_time(), suppress(BadSchedule):
        read_schedule(filename="windows.csv", content=written.getvalue().encode())


def test_no_sign_out_of_quotes_costs_more_than_its_length() -> None:
    lines = [",".join(HEADINGS), *(f"{text},2,36 x 54" for text in TEXTS)]
    with in_bounded_time(), suppress(BadSchedule):
        read_schedule(filename="windows.csv", content="\n".join(lines).encode())


@pytest.mark.parametrize("place", ["headings with words", "the first columns"])
def test_no_sign_in_a_workbook_costs_more_than_its_length(place: str) -> None:
    content = xlsx([[cell[:MOST_IN_A_CELL] for cell in line] for line in PLACES[place]()])
    with in_bounded_time(), suppress(BadSchedule):
        read_schedule(filename="windows.xlsx", content=content)


READERS: list[Callable[[str], Any]] = [
    read_length, read_size, size_in_text, bare_size, has_control, several_in, read_heading, is_foreign,
    words_of, plain_text, similar_headings, floor_within, floor_counted, kind_of, operation_in, declared().metric,
    lambda text: factor_of_operation(text, ()),
    lambda text: stated_unit([[text]], [[text]]),
    lambda text: no_such(text, declared().measures, kind="field"),
    lambda text: fault_in_metric(text, text),
    lambda text: from_body({text: text, "ro_width_mm": text}, METRIC),
    lambda text: layout_of({"columns": {text: {"meaning": text, "unit": text}}, "tables": text}),
]  # fmt: skip


@pytest.mark.parametrize("reader", READERS, ids=lambda reader: reader.__name__)
def test_no_sign_costs_a_reader_of_text_more_than_its_length(reader: Callable[[str], Any]) -> None:
    with in_bounded_time():
        for text in (*TEXTS, *(f"{word}{'(' * LENGTH}" for word in BEHIND)):
            with suppress(BadInput):
                reader(text)


ASKED: dict[str, Callable[[str], Any]] = {
    "cuts": lambda text: CutsAsked(data={"roll_lengths_in": [text], "pieces": [{"length_in": text, "label": text}]}),
    "labor": lambda text: LaborAsked(
        data={"opening": {"ro_width_in": text, "operation": text, "lites_in": [text]}, "detail": {"mounting": text}}
    ),
    "draw": lambda text: DrawAsked(data={"opening": {"ro_width_in": text, "operation": text}, "detail": text}),
    "lift": lambda text: LiftAsked(data={"load_lb": text, "origin": {"height_in": text}, "coupling": text}),
}


@pytest.mark.parametrize("asked", ASKED)
def test_no_sign_in_what_is_computed_costs_more_than_its_length(asked: str) -> None:
    with in_bounded_time():
        for text in TEXTS:
            assert not ASKED[asked](text).is_valid()


def test_names_of_tables_are_taken_apart_in_bounded_time_and_depth() -> None:
    content = b"Mark,Qty,RO Size\nW1,2,36 x 54 in\n"
    with in_bounded_time(), pytest.raises(BadSchedule):
        read_schedule(filename="windows.csv", content=content, settled=Layout(tables=("1, " * LENGTH + "2",)))
    read = read_schedule(filename="windows.csv", content=content, settled=Layout(tables=("1, 1, 1",)))
    assert [row.mark for row in read.rows] == ["W1"]


def test_statement_of_a_model_that_never_ends_is_gone_through_once() -> None:
    with in_bounded_time():
        assert list(_broken(b"#1=IFCPROJECT(" * LENGTH)) == []
    assert list(_broken(b"#7 = IFCRELAGGREGATES ('a',$,(#8, #9)) ;\n#8=IFCWALL();")) == [
        (7, "IFCRELAGGREGATES", 9)
    ]  # fmt: skip


def test_text_too_long_for_a_heading_is_none_and_its_column_can_still_be_settled() -> None:
    heading = "Rough opening, width by height, " * 10
    content = f'Mark,Qty,RO Size,"{heading}"\nW1,2,36 x 54 in,40 x 60 in\n'.encode()
    read = read_schedule(filename="windows.csv", content=content)
    assert [(row.ro_width_in, row.ro_height_in) for row in read.rows] == [(36, 54)]
    assert any("column D" in note and "not a heading" in note for note in read.notes)
    settled = layout_of({"columns": {"C": "not read", "D": "ro_size"}})
    read = read_schedule(filename="windows.csv", content=content, settled=settled)
    assert [(row.ro_width_in, row.ro_height_in) for row in read.rows] == [(40, 60)]
