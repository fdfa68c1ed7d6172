"""Tools and small supplies. Common practice, no source; amounts are arithmetic."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from jobs.calc.sentence import Sentence
from materials.calc.draw import draw_of
from materials.calc.laying import left_to_draw
from materials.calc.load_list import LoadItem, add_up, load_list, load_list_of
from materials.calc.parts import MEASURES, Part
from materials.calc.product import Attachment, Measure, ProductFacts
from materials.calc.staged import with_staged
from materials.calc.supply import SuppliedLine, supplied
from openings.calc.facts import DetailFacts
from openings.calc.lay_order import steps_for
from openings.calc.terms import FastenerKind
from openings.calc.units import METRIC
from tests.materials.calc.drawn import CASED, FLANGED, REPLACEMENT, opening

BEFORE = replace(FLANGED, barrier_before_window=True)


def product(part: Part, **facts: object) -> ProductFacts:
    values = {"code": part, "name": part, "package": "package", "package_quantity": Decimal(900)}
    width_in = Decimal(12) if MEASURES[part] is Measure.LENGTH else None
    return ProductFacts(**values | {"measure": MEASURES[part], "width_in": width_in} | facts)


def lines_of(detail: DetailFacts, *, laid: frozenset[str] = frozenset(), **facts: object) -> tuple[SuppliedLine, ...]:
    drawn = left_to_draw(draw_of(opening(36, 54), detail), laid=laid)
    return supplied(drawn, lambda part: product(part, **facts.get(part.name.lower(), {}))).lines


def taken(detail: DetailFacts, **options: object) -> dict[str, LoadItem]:
    laid = options.get("laid", frozenset())
    return {item.name: item for item in load_list(lines_of(detail, **options), detail, laid=laid)}


FASTENED = {"attachment": Attachment.MECHANICAL}
STRIPS = {"sill_strip": FASTENED, "jamb_strip": FASTENED, "head_strip": FASTENED}


def test_mechanically_attached_strips_take_staples_along_the_edge_and_no_roller():
    items = taken(replace(FLANGED, has_pan=False, has_head_membrane=False), **STRIPS)
    # 7 on the sill strip, 12 on each jamb strip, 10 on the head strip: tests/materials/calc/test_attachment.py.
    assert items["staples or cap nails"].amount == "41"
    assert "hammer tacker or cap nailer" in items
    assert "hand roller" not in items


def test_self_adhered_strips_take_a_roller_and_no_staples():
    items = taken(FLANGED)
    assert "hand roller" in items
    assert "staples or cap nails" not in items


def test_the_cuts_beside_the_head_flap_are_taped():
    # Two cuts at 45° through a strip of 9 in: 9 × √2 = 12.73 in, up to the next 1/4 in.
    tape = taken(BEFORE)["sheathing tape"]
    assert tape.quantity == Decimal("25.5")
    assert (tape.amount, tape.amount_in(METRIC)) == ("2' 2\"", "647.7 mm")
    assert "sheathing tape" not in taken(FLANGED)


@pytest.mark.parametrize(
    ("detail", "options", "has", "lacks"),
    [
        (FLANGED, {"sill_strip": {"needs_primer": True}, "primer": {"primer_sqft_per_gal": Decimal(250)}},
         {"primer roller or brush"}, set()),
        (FLANGED, {}, {"caulking gun", "bead tool", "solvent wipes", "backer rod tool"}, {"primer roller or brush"}),
        (FLANGED, {"flange_bead": {"package": "sausage"}}, {"bulk caulking gun", "caulking gun"}, set()),
        (FLANGED, {}, {"screw gun with bits"}, {"hammer or nailer", "tin snips"}),
        (CASED, {}, {"screw gun with bits", "tin snips", "levels, 2 ft and 4 ft", "string"}, {"hammer or nailer"}),
        (REPLACEMENT, {}, {"thin shim stock", "eye protection, cut-resistant gloves and sleeves"}, {"sheathing tape"}),
    ],
    ids=["primed", "beads", "sausages", "screws", "casing", "insert"],
)  # fmt: skip
def test_a_detail_takes_the_tools_of_what_it_lays(detail, options, has, lacks):
    items = taken(detail, **options)
    assert items.keys() >= has
    assert not items.keys() & lacks
    assert all(item.why for item in items.values())


def test_nails_that_are_staged_take_a_hammer():
    nail = product(
        Part.FLANGE_FASTENER,
        fastener_kind=FastenerKind.NAIL, fastener_diameter_in=Decimal("0.12"), fastener_penetration_in=Decimal(1),
    )  # fmt: skip
    items = taken(with_staged(FLANGED, {Part.FLANGE_FASTENER: nail}.get))
    assert "hammer or nailer" in items
    assert "screw gun with bits" not in items


def test_what_is_laid_takes_nothing_more():
    steps = [step.code for step in steps_for(BEFORE)]
    left = taken(BEFORE, laid=frozenset(steps[:-1]))  # all but the air seal
    assert {"caulking gun", "backer rod tool"} <= left.keys()
    assert not left.keys() & {"hand roller", "sheathing tape", "levels, 2 ft and 4 ft", "screw gun with bits"}
    assert load_list((), BEFORE, laid=frozenset(steps)) == ()


def test_a_detail_alone_names_no_amounts():
    items = load_list_of(lines_of(BEFORE), BEFORE)
    assert {item.name for item in items} == taken(BEFORE).keys()
    assert {item.amount for item in items} == {""}


def test_a_day_adds_amounts_and_takes_one_of_each_tool():
    day = add_up([load_list(lines_of(detail, **STRIPS), detail) for detail in (FLANGED, BEFORE, BEFORE)])
    by_name = {item.name: item for item in day}
    assert len(by_name) == len(day)
    assert by_name["staples or cap nails"].amount == str(41 + 2 * (10 + 26 + 10))
    assert by_name["sheathing tape"].quantity == 51
    assert by_name["caulking gun"].amount == ""


def test_what_is_said_can_be_said_in_another_language():
    for item in load_list(lines_of(CASED), CASED):
        assert isinstance(item.name, Sentence)
        assert isinstance(item.why, Sentence)
