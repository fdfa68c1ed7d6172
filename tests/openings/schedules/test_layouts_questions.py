"""What must be asked, and what the answers make of it; what is remembered for the next file of a sender."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from openings.errors import BadSchedule
from openings.schedules import Layout, Meaning, ScheduleRead
from openings.schedules.layout import ColumnAnswer
from tests.openings.schedules.layouts import Case, Opening, Size, answered, mm, never_silent, said, sheet

RO = (36, 54)
W1, W2 = Opening("W1", 2, ro=RO), Opening("W2", 1, ro=(24, 36))


def sides(width: str, height: str, first: tuple[float, float], second: tuple[float, float], *sizes: Size) -> Case:
    """Return a schedule whose bare numbers say nothing of their unit."""
    text = f"Mark | Qty | {width} | {height}\nW1 | 2 | {first[0]} | {first[1]}\nW2 | 1 | {second[0]} | {second[1]}\n"
    openings = (Opening("W1", 2, ro=sizes[0]), Opening("W2", 1, ro=sizes[1])) if sizes else (W1, W2)
    return sheet(f"{width} {first[0]}", text, *openings)


# No window is 3 in or 915 in wide: common practice, no source.
UNITS = [
    (sides("RO Width", "RO Height", (915, 1830), (610, 915), mm(915, 1830), mm(610, 915)), "mm"),
    (sides("RO Width", "RO Height", (3, 4.5), (2, 3)), "ft"),
    (sides("RO Width", "RO Height", (0.9144, 1.3716), (0.6096, 0.9144)), "m"),
]


@pytest.mark.parametrize(("case", "unit"), UNITS, ids=[unit for _, unit in UNITS])
def test_bare_numbers_that_are_no_inches_are_asked_about_or_reported(case: Case, unit: str) -> None:
    told = never_silent(case.content)
    assert isinstance(told, ScheduleRead)
    units = [asked for asked in told.questions if asked.field.endswith(".unit")]
    assert told.faults or all(unit in asked.choices for asked in units)
    assert {asked.field for asked in units} <= {"columns.C.unit", "columns.D.unit"}


@pytest.mark.parametrize(("case", "unit"), UNITS, ids=[unit for _, unit in UNITS])
def test_bare_numbers_are_read_in_the_unit_that_was_answered(case: Case, unit: str) -> None:
    answered(
        case,
        {
            "C": ColumnAnswer(meaning=Meaning.RO_WIDTH, unit=unit),
            "D": ColumnAnswer(meaning=Meaning.RO_HEIGHT, unit=unit),
        },
    )


FOREIGN = sheet(
    "headings of another tongue",
    """
    Fensterliste
    Pos. | Stk. | B   | H    | Bem.
    W1   | 2    | 915 | 1830 | Küche
    W2   | 1    | 610 | 915  |
    """,
    Opening("W1", 2, ro=mm(915, 1830), remarks="Küche"), Opening("W2", 1, ro=mm(610, 915), remarks=""),
)  # fmt: skip
FOREIGN_SAYS = {
    "A": ColumnAnswer(meaning=Meaning.MARK),
    "B": ColumnAnswer(meaning=Meaning.QUANTITY),
    "C": ColumnAnswer(meaning=Meaning.RO_WIDTH, unit="mm"),
    "D": ColumnAnswer(meaning=Meaning.RO_HEIGHT, unit="mm"),
    "E": ColumnAnswer(meaning=Meaning.REMARKS),
}


def test_headings_that_mean_nothing_here_are_asked_about_or_refused() -> None:
    assert said(never_silent(FOREIGN.content))


def test_headings_that_mean_nothing_here_are_read_as_answered_by_letter() -> None:
    answered(FOREIGN, FOREIGN_SAYS)


@pytest.mark.parametrize(
    "change", [str, str.upper, lambda name: f" {name.lower()}  "], ids=["as is", "upper", "spaced"]
)
def test_answers_may_name_the_heading_in_any_case_and_spacing(change: Callable[[str], str]) -> None:
    headings = ("Pos. Nr.", "Stk.", "Lichte  Breite", "Lichte Höhe", "Bem.")
    case = sheet("", f"{' | '.join(headings)}\nW1 | 2 | 915 | 1830 | Küche\n", Opening("W1", 2, ro=mm(915, 1830)))
    answered(case, {change(heading): says for heading, says in zip(headings, FOREIGN_SAYS.values(), strict=True)})


# Dimensions that are neither rough opening nor unit: section 11.3 of the check values.
OTHERS = ["Masonry Opening", "M.O.", "Clear Opening", "Glass", "Daylight Opening", "Sash"]


@pytest.mark.parametrize("kind", OTHERS)
def test_other_dimensions_alone_are_refused_or_asked_about(kind: str) -> None:
    assert said(never_silent(sides(f"{kind} Width", f"{kind} Height", RO, (24, 36)).content))


@pytest.mark.parametrize("kind", OTHERS)
def test_other_dimensions_are_read_where_a_person_says_so(kind: str) -> None:
    case = sides(f"{kind} Width", f"{kind} Height", RO, (24, 36))
    answered(case, {"C": ColumnAnswer(meaning=Meaning.RO_WIDTH), "D": ColumnAnswer(meaning=Meaning.RO_HEIGHT)})


TWO_WIDTHS = sheet(
    "two widths",
    """
    Mark | Qty | RO Width | Rough Width | RO Height
    W1   | 2   | 36       | 37          | 54
    W2   | 1   | 24       | 25          | 36
    """,
    W1, W2,
)  # fmt: skip


def test_two_columns_of_one_meaning_are_asked_about_or_refused() -> None:
    told = said(never_silent(TWO_WIDTHS.content))
    assert "RO Width" in told
    assert "Rough Width" in told


def test_column_can_be_left_unread() -> None:
    answered(TWO_WIDTHS, {"D": ColumnAnswer(meaning=None)})


TYPE = sheet(
    "type that may be operation or mark",
    """
    Type | Qty | RO Width | RO Height
    W1   | 2   | 36       | 54
    W2   | 1   | 24       | 36
    """,
    W1, W2,
    may_ask=r"columns\.A\.meaning",
)  # fmt: skip


def test_type_in_place_of_a_mark_is_asked_about_or_refused() -> None:
    assert "Type" in said(never_silent(TYPE.content))


def test_type_is_the_mark_once_answered() -> None:
    answered(TYPE, {"A": ColumnAnswer(meaning=Meaning.MARK)})


WRONG_ANSWERS = [
    ("no such column", {"ZZ": ColumnAnswer(meaning=Meaning.MARK)}),
    ("no such heading", {"Kennung": ColumnAnswer(meaning=Meaning.MARK)}),
    ("two marks", {"A": ColumnAnswer(meaning=Meaning.MARK), "B": ColumnAnswer(meaning=Meaning.MARK)}),
    ("no size left", {"C": ColumnAnswer(meaning=None), "D": ColumnAnswer(meaning=None)}),
    ("half a size", {"C": ColumnAnswer(meaning=None)}),
    ("marks that are sizes", {"A": ColumnAnswer(meaning=Meaning.RO_WIDTH), "C": ColumnAnswer(meaning=Meaning.MARK)}),
]


@pytest.mark.parametrize("columns", [columns for _, columns in WRONG_ANSWERS], ids=[name for name, _ in WRONG_ANSWERS])
def test_answer_that_cannot_be_is_named_and_breaks_nothing(columns: dict[str, ColumnAnswer]) -> None:
    case = sides("RO Width", "RO Height", RO, (24, 36))
    try:
        read = case.read(settled=Layout(columns=columns))
    except BadSchedule as refused:
        told = refused.detail
    else:
        told = said(read)
    assert told


def test_table_that_is_not_there_is_named() -> None:
    case = sides("RO Width", "RO Height", RO, (24, 36))
    with pytest.raises(BadSchedule) as refused:
        case.read(settled=Layout(tables=("Fenster!7",)))
    assert "Fenster!7" in refused.value.detail + " ".join(fault.value + fault.detail for fault in refused.value.faults)


REVISED = sheet(
    "next file of the sender",
    """
    Fensterliste, Stand 2
    Pos. | Stk. | B   | H    | Bem.
    W1   | 3    | 915 | 1830 | Küche
    W5   | 1    | 915 | 1220 |
    W6   | 4    | 915 | 915  |
    """,
    Opening("W1", 3, ro=mm(915, 1830)), Opening("W5", 1, ro=mm(915, 1220)), Opening("W6", 4, ro=mm(915, 915)),
)  # fmt: skip


def test_answers_are_remembered_for_the_next_file_laid_out_alike() -> None:
    settled = FOREIGN.read(settled=Layout(columns=FOREIGN_SAYS))
    again = REVISED.read(remembered={settled.fingerprint: settled.layout})
    assert (again.faults, again.questions) == ((), ())
    assert [(row.mark, row.quantity, row.ro_width_in) for row in again.rows] == [
        ("W1", 3, mm(915, 0)[0]), ("W5", 1, mm(915, 0)[0]), ("W6", 4, mm(915, 0)[0]),
    ]  # fmt: skip


def test_fingerprint_knows_the_sender_by_headings_and_not_by_rows() -> None:
    settled, again = (case.read(settled=Layout(columns=FOREIGN_SAYS)) for case in (FOREIGN, REVISED))
    other = sides("RO Width", "RO Height", RO, (24, 36)).read()
    assert settled.fingerprint
    assert settled.fingerprint == again.fingerprint
    assert settled.fingerprint != other.fingerprint


def test_what_is_remembered_never_swaps_columns_that_moved() -> None:
    # Width before height, by headings and never by position: section 11.2 of the check values.
    first = sides("RO Width", "RO Height", RO, (24, 36))
    moved = sheet("", "Mark | Qty | RO Height | RO Width\nW1 | 2 | 54 | 36\nW2 | 1 | 36 | 24\n", W1, W2)
    known = first.read()
    read = moved.read(remembered={known.fingerprint: known.layout})
    assert read.questions or [(row.ro_width_in, row.ro_height_in) for row in read.rows] == [RO, (24, 36)]


def test_columns_remembered_that_are_gone_do_not_stop_the_next_file() -> None:
    longer = sheet("", "Mark | Qty | RO Width | RO Height | Remarks\nW1 | 2 | 36 | 54 | egress\n", W1)
    shorter = sides("RO Width", "RO Height", RO, (24, 36))
    known = longer.read()
    read = shorter.read(remembered={known.fingerprint: known.layout})
    assert read.faults == ()
    assert [row.mark for row in read.rows] == ["W1", "W2"]


def test_settled_answer_counts_before_what_is_remembered() -> None:
    case = sides("Width", "Height", RO, (24, 36))
    as_unit = Layout(
        columns={"C": ColumnAnswer(meaning=Meaning.UNIT_WIDTH), "D": ColumnAnswer(meaning=Meaning.UNIT_HEIGHT)}
    )
    as_rough = Layout(
        columns={"C": ColumnAnswer(meaning=Meaning.RO_WIDTH), "D": ColumnAnswer(meaning=Meaning.RO_HEIGHT)}
    )
    read = case.read(settled=as_rough, remembered={case.read().fingerprint: as_unit})
    assert [(row.ro_width_in, row.unit_width_in) for row in read.rows] == [(36, None), (24, None)]
