from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calc.draw import add_up, draw_of
from materials.calc.lines import DrawLine
from materials.calc.parts import MEASURES, Part
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.terms import HeadFlashing
from openings.calc.units import METRIC, US
from openings.errors import BadDetail
from tests.materials.calc.drawn import CASED, FLANGED, REPLACEMENT, line_of, opening, parts_of


def line(part: Part, detail: DetailFacts) -> DrawLine:
    return line_of(part, draw_of(opening(36, 54), detail))


def parts(detail: DetailFacts) -> set[Part]:
    return parts_of(draw_of(opening(36, 54), detail))


def test_beads_of_a_casing():
    # 1/4 in joint bead, 1/2 in setting bead, two jambs and head: common practice, no source; area πD²/4.
    detail = replace(CASED, sealant_waste_pct=Decimal(0))
    joint, setting = line(Part.CASING_JOINT_BEAD, detail), line(Part.SETTING_BEAD, detail)
    assert round(joint.quantity, 4) == round(Decimal("142.5") * Decimal("0.0490873852"), 4)
    assert round(setting.quantity, 4) == round(Decimal("150.5") * Decimal("0.1963495408"), 4)


def test_waste_is_in_the_quantity_and_in_the_reason():
    plain, wasted = (
        line(Part.FLANGE_BEAD, replace(FLANGED, sealant_waste_pct=Decimal(percent))) for percent in (0, 10)
    )
    assert round(wasted.quantity / plain.quantity, 10) == Decimal("1.1")
    assert "+ 10% waste" in wasted.reason


def test_a_bead_of_no_diameter_is_none():
    assert "casing joint bead" not in parts(replace(CASED, joint_bead_in=Decimal(0)))


def test_a_unit_as_large_as_its_opening_takes_no_air_seal():
    snug = OpeningFacts(
        ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal(36), unit_height_in=Decimal(54)
    )
    assert not {Part.AIR_SEAL_BEAD, Part.BACKER_ROD} & {line.part for line in draw_of(snug, FLANGED)}


def test_a_drip_cap_over_the_membrane_is_bedded():
    # Common practice, no source.
    found = [line.part for line in draw_of(opening(36, 54), replace(CASED, head_flashing=HeadFlashing.AFTER_MEMBRANE))]
    assert found.count(Part.SETTING_BEAD) == 2


def test_a_box_frame_behind_a_standing_barrier_takes_pan_beads_and_straps_but_no_strips():
    # Common practice, no source; drain gaps: Pella 80WW0101.
    found = parts(REPLACEMENT)
    assert not {"sill strip", "jamb strip", "head strip", "head membrane", "flange bead"} & found
    assert {"pan membrane", "setting bead", "air seal bead", "backer rod", "strap", "shim"} <= found


@pytest.mark.parametrize("detail", STARTING_DETAILS.values(), ids=STARTING_DETAILS.keys())
def test_every_line_holds_together(detail):
    for found in draw_of(opening(48, 60), detail):
        assert found.quantity == found.count * found.each > 0
        assert found.unit is MEASURES[found.part]
        assert found.reason.startswith(f"{found.part}, ")
        assert found.source


@pytest.mark.parametrize("detail", STARTING_DETAILS.values(), ids=STARTING_DETAILS.keys())
@pytest.mark.parametrize("units", [US, METRIC], ids=["US", "metric"])
def test_every_line_says_why_in_both_units(detail, units):
    rated = replace(opening(48, 60), design_pressure_psf=Decimal(40))
    other = METRIC if units is US else US
    for found in draw_of(rated, detail):
        said = found.reason_in(units)
        assert said.startswith(f"{found.part}, ")
        assert not re.search(rf"\d (?:{other.per('in')}|{other.per('cuin')}|{other.per('psf')})\b", said)
    assert [found.reason_in(US) for found in draw_of(rated, detail)] == [
        found.reason for found in draw_of(rated, detail)
    ]


def test_a_pan_that_would_turn_up_higher_than_the_opening_is_refused():
    low = opening(36, 6)
    with pytest.raises(BadDetail, match='the pan turn-up is 6", but the rough opening is only 6" high') as refused:
        draw_of(low, FLANGED)
    assert [fault.field for fault in refused.value.faults] == ["pan_turn_up_in"]
    assert draw_of(low, replace(FLANGED, has_pan=False))


# What can be asked of a detail, beyond its starting points.
details = st.builds(
    replace,
    st.sampled_from(list(STARTING_DETAILS.values())),
    strip_width_in=st.sampled_from([Decimal(9), Decimal(12)]),
    head_flashing=st.sampled_from(HeadFlashing),
    has_pan=st.booleans(),
    has_straps=st.booleans(),
    has_shims_at_straps=st.booleans(),
    lock_hinge_shim_points=st.integers(0, 6),
    sealant_waste_pct=st.decimals(0, 30, places=1),
    fastener_is_nail=st.booleans(),
    fastener_allowable_lb=st.none() | st.decimals(40, 300, places=1),
)
# The largest at the highest rating that a test asks for (35 + 50 psf on 260 in by 260 in) puts 39,900 lb on the weakest
# fastener of 40 lb: within the 500 anchors on each of two sides beyond which a draw is refused.
sides = st.decimals(7, 260, places=3)
ratings = st.none() | st.decimals(5, 35, places=1)
openings = st.builds(
    lambda width, height, rating: replace(opening(width, height), design_pressure_psf=rating), sides, sides, ratings
)


def never_less(small: dict[Part, Decimal], large: dict[Part, Decimal]) -> bool:
    """Whether no part but shims is less: straps that come to stand where jamb shims stood take their place."""
    return all(small[part] <= large[part] for part in small if part is not Part.SHIM)


@given(facts=openings, detail=details)
def test_nothing_that_is_drawn_is_zero_or_less(facts, detail):
    assert all(line.quantity == line.count * line.each > 0 for line in draw_of(facts, detail))


@given(
    width=sides, height=sides, wider=st.decimals(0, 20, places=3), taller=st.decimals(0, 20, places=3),
    rating=ratings, detail=details,
)  # fmt: skip
def test_a_larger_opening_never_takes_less(width, height, wider, taller, rating, detail):
    small, large = (
        add_up([draw_of(replace(opening(*size), design_pressure_psf=rating), detail)])
        for size in ((width, height), (width + wider, height + taller))
    )
    assert small.keys() == large.keys()
    assert never_less(small, large)


@given(facts=openings, detail=details, more=st.decimals(0, 50, places=1))
def test_a_higher_design_pressure_never_takes_less(facts, detail, more):
    rated = replace(facts, design_pressure_psf=(facts.design_pressure_psf or 20) + more)
    small, large = (add_up([draw_of(each, detail)]) for each in (facts, rated))
    assert never_less(small, large)


@given(
    first=st.lists(st.tuples(openings, details), max_size=4), second=st.lists(st.tuples(openings, details), max_size=4)
)
def test_totals_of_two_lots_of_openings_add_up(first, second):
    one, other = ([draw_of(*pair) for pair in lot] for lot in (first, second))
    apart, together = (add_up(one), add_up(other)), add_up(one + other)
    assert together.keys() == apart[0].keys() | apart[1].keys()
    for part, total in together.items():
        assert shown(total) == shown(sum((totals.get(part, Decimal(0)) for totals in apart), Decimal(0)))


@given(lot=st.lists(st.tuples(openings, details), max_size=6), chance=st.randoms(use_true_random=False))
def test_the_order_of_openings_does_not_change_their_total(lot, chance):
    draws = [draw_of(*pair) for pair in lot]
    mixed = chance.sample(draws, k=len(draws))
    assert {part: shown(total) for part, total in add_up(draws).items()} == {
        part: shown(total) for part, total in add_up(mixed).items()
    }


def shown(total: Decimal) -> Decimal:
    """Return a total to twelve places: Decimals of 28 digits do not add up alike in the very last."""
    return round(total, 12)


def test_totals_stand_in_the_order_of_the_parts():
    assert list(add_up([draw_of(opening(36, 54), CASED)])) == [part for part in Part if part in parts(CASED)]
    assert add_up([]) == {}
