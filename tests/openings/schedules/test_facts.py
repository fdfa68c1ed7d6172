"""What a schedule says of its openings beside their sizes."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from openings.calc.labor_rates import Access
from openings.calc.terms import FrameMaterial
from openings.models import Opening
from openings.schedules import Meaning
from openings.schedules.headings.plain import Heading
from openings.schedules.layout import FACTS
from openings.schedules.rows import NO_FACTS
from tests.openings.schedules.grids import MARK, RO_H, RO_W, TableRead, rows, settled

HEADS = ["Mark", "RO Width", "RO Height"]
_8TH, _4TH = Decimal("0.125"), Decimal("0.25")


def said(meaning: Meaning, cell: object, *, heading: str = "Fact", unit: str = "") -> TableRead:
    column: Meaning | Heading = settled(meaning, unit) if unit else meaning
    return rows([[*HEADS, heading], ["W1", 36, 54, cell]], MARK, RO_W, RO_H, column)


# Words for materials, glass and access, and ticks: common practice, no source. Clad wood is a frame of wood.
READ: list[tuple[Meaning, object, Any]] = [
    (Meaning.FRAME_MATERIAL, "Vinyl", FrameMaterial.VINYL),
    (Meaning.FRAME_MATERIAL, "PVC", FrameMaterial.VINYL),
    (Meaning.FRAME_MATERIAL, "u-PVC, white", FrameMaterial.VINYL),
    (Meaning.FRAME_MATERIAL, "Alum.", FrameMaterial.ALUMINUM),
    (Meaning.FRAME_MATERIAL, "aluminium", FrameMaterial.ALUMINUM),
    (Meaning.FRAME_MATERIAL, "wood", FrameMaterial.WOOD),
    (Meaning.FRAME_MATERIAL, "Alum-clad wood", FrameMaterial.WOOD),
    (Meaning.FRAME_MATERIAL, "fibreglass", FrameMaterial.FIBERGLASS),
    (Meaning.LITES, "1/8 + 1/8", (_8TH, _8TH)),
    (Meaning.LITES, '1/4" | 1/4"', (_4TH, _4TH)),
    (Meaning.LITES, '1/4"/1/8"', (_4TH, _8TH)),
    (Meaning.LITES, "0.125", (_8TH,)),
    (Meaning.LITES, 0.25, (_4TH,)),
    (Meaning.DESIGN_PRESSURE, "50", Decimal(50)),
    (Meaning.DESIGN_PRESSURE, 50, Decimal(50)),
    (Meaning.DESIGN_PRESSURE, "DP50", Decimal(50)),
    (Meaning.DESIGN_PRESSURE, "DP-35", Decimal(35)),
    (Meaning.DESIGN_PRESSURE, "+50/-50", Decimal(50)),
    (Meaning.DESIGN_PRESSURE, "+50.0 / \N{MINUS SIGN}50 psf", Decimal(50)),
    (Meaning.DESIGN_PRESSURE, "±42.5", Decimal("42.5")),
    (Meaning.ACCESS, "Ladder", Access.LADDER),
    (Meaning.ACCESS, "boom lift", Access.LIFT),
    (Meaning.ACCESS, "Scaffolding", Access.SCAFFOLD),
    (Meaning.STOREYS_UP, 3, 3),
    (Meaning.STOREYS_UP, "0", 0),
    (Meaning.STOREYS_UP, 100, 100),
    (Meaning.SILL_ABOVE_FLOOR, "2'-6\"", Decimal(30)),
    (Meaning.SILL_ABOVE_FLOOR, 0, Decimal(0)),
    (Meaning.SILL_ABOVE_GRADE, "-36", Decimal(-36)),
    (Meaning.SILL_ABOVE_GRADE, "-3'-0\"", Decimal(-36)),
    (Meaning.SILL_ABOVE_GRADE, -12.5, Decimal("-12.5")),
    (Meaning.SILL_ABOVE_GRADE, 700, Decimal(700)),
    (Meaning.CLEAR_SILL_ABOVE_FLOOR, 44, Decimal(44)),
    (Meaning.CLEAR_WIDTH, "20 1/4", Decimal("20.25")),
    (Meaning.PANE_HEIGHT, "48\"", Decimal(48)),
    *((Meaning.IS_EGRESS, cell, True) for cell in ("yes", "Y", "x", "X", True, "TRUE", 1, "✓")),
    *((Meaning.IS_NEAR_DOOR, cell, False) for cell in ("no", "N", False, "false", 0)),
]  # fmt: skip


@pytest.mark.parametrize(("meaning", "cell", "value"), READ, ids=[f"{case[0]}={case[1]}" for case in READ])
def test_fact_is_read(meaning: Meaning, cell: object, value: Any) -> None:
    read = said(meaning, cell)
    assert read.faults == ()
    assert read.rows[0].facts == {meaning.value: value}
    assert type(read.rows[0].facts[meaning.value]) is type(value)


# Inch of 25.4 mm: NIST Handbook 44, Appendix C. A pound a square foot is 47.88026 Pa: NIST SP 811, Appendix B.8.
METRIC: list[tuple[Meaning, object, str, str, Any]] = [
    (Meaning.LITES, "6 mm / 4 mm", "Lites", "", (Decimal("0.23622"), Decimal("0.15748"))),
    (Meaning.LITES, "6mm/4mm", "Lites", "", (Decimal("0.23622"), Decimal("0.15748"))),
    (Meaning.LITES, "3 + 3 mm", "Lites", "", (Decimal("0.11811"), Decimal("0.11811"))),
    (Meaning.LITES, "6 + 4", "Lites (mm)", "mm", (Decimal("0.23622"), Decimal("0.15748"))),
    (Meaning.SILL_ABOVE_FLOOR, 915, "Sill (mm)", "mm", Decimal("36.02362")),
    (Meaning.DESIGN_PRESSURE, "2400 Pa", "DP", "", (Decimal(2400) / Decimal("47.88026")).quantize(Decimal("0.001"))),
    (Meaning.DESIGN_PRESSURE, "2.4 kPa", "DP", "", (Decimal(2400) / Decimal("47.88026")).quantize(Decimal("0.001"))),
    (Meaning.DESIGN_PRESSURE, 2400, "DP (Pa)", "", (Decimal(2400) / Decimal("47.88026")).quantize(Decimal("0.001"))),
]


@pytest.mark.parametrize(
    ("meaning", "cell", "heading", "unit", "value"), METRIC, ids=[f"{c[1]} {c[2]}" for c in METRIC]
)
def test_metric_fact_becomes_the_trade_s_measure(
    meaning: Meaning, cell: object, heading: str, unit: str, value: Any
) -> None:
    found: Any = said(meaning, cell, heading=heading, unit=unit).rows[0].facts[meaning.value]
    assert (found.quantize(Decimal("0.001")) if meaning is Meaning.DESIGN_PRESSURE else found) == value


@pytest.mark.parametrize("meaning", FACTS)
@pytest.mark.parametrize("blank", ["", None, "-", "n/a"], ids=repr)
def test_blank_says_nothing(meaning: Meaning, blank: object) -> None:
    read = said(meaning, blank)
    assert read.faults == ()
    assert read.rows[0].facts is NO_FACTS


@pytest.mark.parametrize("meaning", [Meaning.CLEAR_WIDTH, Meaning.PANE_HEIGHT])
def test_side_of_0_says_nothing(meaning: Meaning) -> None:
    assert said(meaning, 0).rows[0].facts == {}


WRONG: list[tuple[Meaning, object, str]] = [
    (Meaning.FRAME_MATERIAL, "steel", "write one of vinyl, wood, aluminum, fiberglass"),
    (Meaning.FRAME_MATERIAL, "wood/vinyl", "names two frame materials"),
    (Meaning.FRAME_MATERIAL, "vinyl clad", "or clad wood"),
    (Meaning.LITES, "1/4-1/2-1/4", "lites with the air gaps between them; give the lites alone"),
    (Meaning.LITES, "6-12-6", "air gaps"),
    (Meaning.LITES, "6/12/6", "air gaps"),
    (Meaning.LITES, "1/8+1/8+1/8+1/8+1/8", "5 lites; a unit has at most 4"),
    (Meaning.LITES, "6 + 4", "if the numbers are millimeters, write mm"),
    (Meaning.LITES, "0", "thicker than 0"),
    (Meaning.LITES, "double", "not a length"),
    (Meaning.DESIGN_PRESSURE, "+50/-65", "50 inward and 65 outward; one figure is kept for both, so give the smaller"),
    (Meaning.DESIGN_PRESSURE, 0, "above 0 and at most 1000 psf"),
    (Meaning.DESIGN_PRESSURE, 1001, "above 0 and at most 1000 psf"),
    (Meaning.DESIGN_PRESSURE, "high", "like 50, DP50, +50/-50 or 2400 Pa"),
    (Meaning.DESIGN_PRESSURE, "-50", "like 50"),
    (Meaning.ACCESS, "rope", "write one of clear, ladder, scaffold, lift, tight"),
    (Meaning.STOREYS_UP, 101, "from 0 to 100"),
    (Meaning.STOREYS_UP, 1.5, "from 0 to 100"),
    (Meaning.STOREYS_UP, -1, "from 0 to 100"),
    (Meaning.SILL_ABOVE_FLOOR, -1, "negative"),
    (Meaning.SILL_ABOVE_FLOOR, "480.5\"", "at most 40' 0\""),
    (Meaning.SILL_ABOVE_GRADE, "100000\"", "at most 8333' 3\""),
    (Meaning.CLEAR_WIDTH, "481\"", "at most 40' 0\""),
    (Meaning.PANE_WIDTH, "5/8", "can mean 5/8 in or 5'-8\""),
    (Meaning.IS_EGRESS, "maybe", "write yes, no or leave it blank"),
    (Meaning.IS_WET_AREA, 2, "write yes, no or leave it blank"),
]  # fmt: skip


@pytest.mark.parametrize(("meaning", "cell", "right"), WRONG, ids=[f"{case[0]}={case[1]}" for case in WRONG])
def test_wrong_fact_is_reported_with_what_would_be_right(meaning: Meaning, cell: object, right: str) -> None:
    read = said(meaning, cell)
    assert read.rows == ()
    [fault] = read.faults
    assert (fault.row, fault.field) == (2, "Fact")
    assert right in fault.detail


@pytest.mark.parametrize(("meaning", "cell", "value"), READ, ids=[f"{case[0]}={case[1]}" for case in READ])
def test_database_takes_what_is_read(meaning: Meaning, cell: object, value: Any) -> None:
    column = Opening._meta.get_field(meaning.value)
    column.clean(list(value) if isinstance(value, tuple) else value, None)


def test_rows_that_say_the_same_share_their_facts() -> None:
    lines = [
        [*HEADS, "Frame", "Egress"],
        *([f"W{at}", 36, 54, "vinyl", "x"] for at in range(3)),
        ["W9", 36, 54, "", ""],
    ]
    read = rows(lines, MARK, RO_W, RO_H, Meaning.FRAME_MATERIAL, Meaning.IS_EGRESS)
    first, *others, last = (row.facts for row in read.rows)
    assert all(facts is first for facts in others)
    assert first == {"frame_material": FrameMaterial.VINYL, "is_egress": True}
    assert last is NO_FACTS
