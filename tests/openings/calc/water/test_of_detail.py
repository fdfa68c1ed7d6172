"""The water path of installation details, by their own steps and extents.

Methods A, A1, B, B1: AAMA 2400-10 cl. 5.7.3; sill, jambs, head from the bottom up: AWDI manual p. 23. Pan: Building
Science Corp. Info-302. Choices at the head of a casing unit: common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise, product

import pytest

from openings.calc.elevation import elevation_of
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import head_cut_in, strip_runs
from openings.calc.lay_order import usual_order
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.step_code import StepCode
from openings.calc.terms import HeadFlashing, Mounting, SillBead
from openings.calc.water.faults import Severity
from openings.calc.water.of_detail import layers_of, reference_opening, verdict_of
from openings.calc.water.verdict import Verdict

FLASHED = [name for name in STARTING_DETAILS if name != "box frame replacement"]
CASING = STARTING_DETAILS["casing, paper after"]
B = STARTING_DETAILS["flange behind, wrap after"]
B1 = STARTING_DETAILS["flange behind, wrap before"]


def names_of(verdict: Verdict) -> set[str]:
    return {fault.name.value for fault in verdict.faults}


@pytest.mark.parametrize("name", FLASHED)
def test_every_starting_detail_sheds_water(name: str) -> None:
    verdict = verdict_of(STARTING_DETAILS[name])
    assert (verdict.faults, verdict.not_judged) == ((), None)


@pytest.mark.parametrize(("flashing", "membrane", "strip"), list(product(HeadFlashing, (True, False), (True, False))))
@pytest.mark.parametrize("name", FLASHED)
def test_each_choice_at_the_head_sheds_water_while_something_covers_it(
    name: str, flashing: HeadFlashing, membrane: bool, strip: bool
) -> None:
    """Membrane or head strip; or, of a cap, a second strip over its leg or a bed of sealant."""
    detail = replace(STARTING_DETAILS[name], head_flashing=flashing, has_head_membrane=membrane, has_head_strip=strip)
    is_covered = membrane or strip or flashing is HeadFlashing.UNDER_SECOND_STRIP
    is_bedded = flashing is HeadFlashing.AFTER_MEMBRANE and detail.mounting is Mounting.CASING
    assert verdict_of(detail).passes is (is_covered or is_bedded)


@pytest.mark.parametrize("width_in", [9, 12, 18])
@pytest.mark.parametrize("name", FLASHED)
def test_a_strip_of_any_width_fits(name: str, width_in: int) -> None:
    assert verdict_of(replace(STARTING_DETAILS[name], strip_width_in=Decimal(width_in))).passes


def test_the_cuts_of_the_head_flap_follow_the_strip() -> None:
    """A cut at 45° opens its length over √2: 12 in needs 16.97, 9 in needs 12.73."""
    assert head_cut_in(replace(B1, has_head_membrane=False)) == Decimal(17)
    assert head_cut_in(replace(B1, has_head_membrane=False, strip_width_in=Decimal(9))) == Decimal("12.75")


@pytest.mark.parametrize("casing_in", ["0.75", "3.5", "5.5", "7"])
@pytest.mark.parametrize("flashing", HeadFlashing)
@pytest.mark.parametrize("is_before", [False, True])
def test_a_wide_casing_with_its_membrane_past_strips_of_9_in_sheds_water(
    is_before: bool, flashing: HeadFlashing, casing_in: str
) -> None:
    """Head flashing may go on past the jamb strips: AAMA 2400-10 note 3."""
    detail = replace(
        CASING, barrier_before_window=is_before, head_flashing=flashing, casing_width_in=Decimal(casing_in),
        strip_width_in=Decimal(9),
    )  # fmt: skip
    assert verdict_of(detail).faults == ()


WRONG: dict[str, tuple[str, DetailFacts]] = {
    "cap first, no membrane, no head strip": (
        "cap-leg-uncovered",
        replace(CASING, has_head_membrane=False, has_head_strip=False),
    ),
    "no front lap": ("pan-no-front-lap", replace(B, pan_front_lap_in=Decimal(0))),
    "turned up 2 in": ("pan-low-turn-up", replace(B, pan_turn_up_in=Decimal(2))),
    "no flange bead": ("no-head-bead", replace(B, flange_bead_in=Decimal(0))),
    "nothing at the head": ("no-head-flashing", replace(B, has_head_membrane=False, has_head_strip=False)),
}


@pytest.mark.parametrize("name", WRONG)
def test_a_wrong_answer_is_named(name: str) -> None:
    expected, detail = WRONG[name]
    verdict = verdict_of(detail)
    assert verdict.leaks
    assert expected in names_of(verdict)


def in_order(detail: DetailFacts, *moves: tuple[StepCode, StepCode]) -> DetailFacts:
    """Return the detail with an order of its own: each step moved before another one."""
    codes = list(usual_order(detail))
    for moved, before in moves:
        codes.remove(moved)
        codes.insert(codes.index(before), moved)
    return replace(detail, own_order=tuple(codes))


S = StepCode
WRONG_ORDER: dict[str, tuple[str, DetailFacts]] = {
    "B: head before jamb": ("head-before-jambs", in_order(B, (S.HEAD_STRIP, S.JAMB_STRIPS))),
    "B1: head before jamb": ("head-before-jambs", in_order(B1, (S.HEAD_STRIP, S.JAMB_STRIPS))),
    "B: jamb under sill": ("jambs-before-sill", in_order(B, (S.JAMB_STRIPS, S.SILL_STRIP))),
    "casing: jamb under sill": ("jambs-before-sill", in_order(CASING, (S.JAMB_STRIPS, S.SILL_STRIP))),
    "B: pan before the sill strip": ("pan-before-sill", in_order(B, (S.PAN, S.SILL_STRIP))),
    "B: unit before the pan": ("pan-after-unit", in_order(B, (S.SET_UNIT, S.PAN))),
    "B: unit over the head strip": (
        "unit-over-head", in_order(B, (S.HEAD_STRIP, S.SET_UNIT), (S.HEAD_MEMBRANE, S.SET_UNIT)),
    ),
    "B: bead after the unit": ("no-jamb-bead", in_order(B, (S.SET_UNIT, S.SETTING_BEAD))),
    "B1: flap closed before the head strip": ("wrb-under-head", in_order(B1, (S.CLOSE_BARRIER, S.SET_UNIT))),
    "casing: cap over the membrane": ("cap-leg-uncovered", in_order(CASING, (S.HEAD_MEMBRANE, S.DRIP_CAP))),
    "casing: second strip before the cap": (
        "cap-leg-uncovered",
        in_order(replace(CASING, head_flashing=HeadFlashing.UNDER_SECOND_STRIP), (S.COUNTER_FLASHING, S.DRIP_CAP)),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", WRONG_ORDER)
def test_a_wrong_order_is_named_with_its_step(name: str) -> None:
    expected, detail = WRONG_ORDER[name]
    verdict = verdict_of(detail)
    fault = next(fault for fault in verdict.faults if fault.name.value == expected)
    assert verdict.leaks or fault.severity is Severity.DRAINS
    assert fault.step in usual_order(detail)


HARMLESS = {S.SHIM, S.FASTEN, S.TOOL_BEAD, S.AIR_SEAL, S.STRAPS, S.JOINT_BEAD, S.CORNER_PIECES}


@pytest.mark.parametrize("name", FLASHED)
def test_steps_that_lay_nothing_may_change_places(name: str) -> None:
    detail = STARTING_DETAILS[name]
    for first, second in pairwise(usual_order(detail)):
        if {first, second} & HARMLESS:
            assert verdict_of(in_order(detail, (second, first))).passes


def test_a_box_frame_in_a_wall_flashed_before_is_not_judged_but_for_its_pan() -> None:
    detail = STARTING_DETAILS["box frame replacement"]
    good, bad = verdict_of(detail), verdict_of(replace(detail, pan_turn_up_in=Decimal(2)))
    assert (good.faults, bool(good.not_judged)) == ((), True)
    assert (names_of(bad), bad.leaks, bool(bad.not_judged)) == ({"pan-low-turn-up"}, True, True)


def test_a_box_frame_in_a_wall_flashed_with_it_is_judged() -> None:
    detail = replace(B, mounting=Mounting.BOX_FRAME, sill_bead=SillBead.DRAIN_GAPS)
    assert verdict_of(detail).faults == ()
    assert "head-before-jambs" in names_of(verdict_of(in_order(detail, (S.HEAD_STRIP, S.JAMB_STRIPS))))


def test_without_a_pan_it_is_said_that_none_is_there() -> None:
    verdict = verdict_of(replace(B, has_pan=False))
    assert (verdict.passes, names_of(verdict)) == (True, {"no-pan"})


@pytest.mark.parametrize("name", FLASHED)
def test_layers_are_as_long_as_the_pieces_that_are_cut_and_drawn(name: str) -> None:
    detail = STARTING_DETAILS[name]
    opening = reference_opening(detail)
    layers = {layer.name: layer.rects[0] for layer in layers_of(opening, detail).layers}
    runs = strip_runs(opening, detail)
    assert layers["sill strip"].width_in == runs.sill_in
    assert layers["left jamb strip"].height_in == layers["right jamb strip"].height_in == runs.jamb_in
    drawn = {shape.title.rsplit(" ", 1)[0]: shape for shape in elevation_of(opening, detail).shapes}
    for layer, rect in layers.items():
        for title, shape in drawn.items():
            if title.startswith(layer) and layer not in ("unit", "pan"):
                assert (shape.x_in, shape.y_in, shape.width_in, shape.height_in) == (
                    rect.left_in, rect.top_in, rect.width_in, rect.height_in,
                )  # fmt: skip


@pytest.mark.parametrize("sides", [(8, 8), (16, 96), (240, 24)])
@pytest.mark.parametrize("name", FLASHED)
def test_an_opening_of_any_size_is_judged_alike(name: str, sides: tuple[int, int]) -> None:
    width_in, height_in = map(Decimal, sides)
    opening = OpeningFacts(
        ro_width_in=width_in, ro_height_in=height_in, unit_width_in=width_in - 1, unit_height_in=height_in - 1
    )
    assert verdict_of(STARTING_DETAILS[name], opening).faults == ()
