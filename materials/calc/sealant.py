"""Beads of sealant, by volume, and the rod behind them."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from functools import lru_cache

from materials.calc.lines import DrawLine, Rule, new_line
from materials.calc.parts import Part
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import plain
from openings.calc.geometry import (
    CASING,
    FLANGE,
    IN_PER_FT,
    air_seal_in,
    box_frame_edge_in,
    casing_edge_in,
    drip_cap_in,
    head_gap_in,
    is_bedded_drip_cap,
    jamb_gap_in,
    three_sides_in,
)

PI = Decimal("3.141592653589793")

LEAST_DEPTH_IN = Decimal("0.25")
MOST_DEPTH_IN = Decimal("0.5")


def _round(
    run_in: Callable[[OpeningFacts, DetailFacts], Decimal], diameter: str, where: str
) -> Callable[[OpeningFacts, DetailFacts], str]:
    """Return what says how a round bead came about; `diameter` names the field of the detail."""

    def because(opening: OpeningFacts, detail: DetailFacts) -> str:
        return (
            f"{plain(run_in(opening, detail))} in of {plain(getattr(detail, diameter))} in round bead + "
            f"{plain(detail.sealant_waste_pct)} % waste; {where}"
        )

    return because


def _air_seal_because(opening: OpeningFacts, detail: DetailFacts) -> str:
    jamb_in, head_in = jamb_gap_in(opening), head_gap_in(opening)
    return (
        f"inside, 2 × {plain(opening.unit_height_in)} in of jamb joint {plain(jamb_in)} wide and "
        f"{plain(joint_depth_in(jamb_in))} deep, 2 × {plain(opening.unit_width_in)} in of head and sill "
        f"joint {plain(head_in)} wide and {plain(joint_depth_in(head_in))} deep, + "
        f"{plain(detail.sealant_waste_pct)} % waste"
    )


CASING_JOINT_BEAD = Rule(
    Part.CASING_JOINT_BEAD,
    _round(three_sides_in, "joint_bead_in", "joint of casing and jamb along two jambs and head"),
    "common practice, no source",
)
CASING_SETTING_BEAD = Rule(
    Part.SETTING_BEAD,
    _round(casing_edge_in, "setting_bead_in", "outer edge of the casing along two jambs and head; sill drains"),
    "common practice, no source",
)
BOX_FRAME_SETTING_BEAD = Rule(
    Part.SETTING_BEAD,
    _round(box_frame_edge_in, "setting_bead_in", "around the frame, 1/2 in left open at each end of the sill"),
    "Pella 80WW0101 (drain gaps)",
)
DRIP_CAP_BED = Rule(
    Part.SETTING_BEAD,
    _round(drip_cap_in, "setting_bead_in", "bed of the drip cap over the membrane"),
    "common practice, no source",
)
FLANGE_BEAD = Rule(
    Part.FLANGE_BEAD,
    _round(three_sides_in, "flange_bead_in", "back of the flange along two jambs and head; sill drains"),
    "AAMA 2400-10 cl. 5.7.3.4; sill open: Building Science Corp. Info-302; 3/8 in from memory",
)
AIR_SEAL_BEAD = Rule(
    Part.AIR_SEAL_BEAD,
    _air_seal_because,
    "depth half the width, 1/4 to 1/2 in: northernarchitecture.us, architectural detailing",
)
BACKER_ROD = Rule(
    Part.BACKER_ROD,
    lambda opening, _detail: (
        f"every side with a gap: {plain(jamb_gap_in(opening))} in at the jambs, "
        f"{plain(head_gap_in(opening))} in at head and sill; rod 1/8 in thicker "
        "than the gap, from 3/4 in up a quarter thicker"
    ),
    "rod size: Alcot, closed cell",
)


def round_area_sqin(diameter_in: Decimal) -> Decimal:
    """Return the cross-section of a round bead."""
    return PI * diameter_in * diameter_in / 4


def rectangle_area_sqin(width_in: Decimal, depth_in: Decimal) -> Decimal:
    """Return the cross-section of a joint filled to a depth."""
    return width_in * depth_in


def fillet_area_sqin(leg_in: Decimal) -> Decimal:
    """Return the cross-section of a fillet with two equal legs."""
    return leg_in * leg_in / 2


def yield_ft(package_cuin: Decimal, *, area_sqin: Decimal) -> Decimal:
    """Return how many feet of bead a package gives, without waste.

    Args:
        package_cuin: what the package holds, by its volume and not by the ounces of its label.
        area_sqin: cross-section of the bead, > 0.

    Source:
        feet = volume / (12 × area): Midwest Sealant Supply, questions and answers.
    """
    return package_cuin / (IN_PER_FT * area_sqin)


def joint_depth_in(width_in: Decimal) -> Decimal:
    """Return how deep a joint of that width is filled: half the width, at least 1/4 and at most 1/2 in.

    Source:
        northernarchitecture.us, architectural detailing; its examples are 1/4, 3/4 and 1-1/4 in wide.
    """
    return max(LEAST_DEPTH_IN, min(width_in / 2, MOST_DEPTH_IN))


def sealant_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    """Return the beads and the backer rod of one opening; waste is in the quantities.

    Flange: a bead on its back. Casing: joint bead, then setting bead. Box frame: setting bead around it. All
    leave the sill a way to drain. A bead of diameter 0 is none.
    """
    mounting = detail.mounting
    if mounting is FLANGE:
        lines = [_bead(FLANGE_BEAD, three_sides_in(opening, detail), detail.flange_bead_in, opening, detail)]
    elif mounting is CASING:
        lines = [
            _bead(CASING_JOINT_BEAD, three_sides_in(opening, detail), detail.joint_bead_in, opening, detail),
            _bead(CASING_SETTING_BEAD, casing_edge_in(opening, detail), detail.setting_bead_in, opening, detail),
        ]
    else:
        run_in = box_frame_edge_in(opening, detail)
        lines = [_bead(BOX_FRAME_SETTING_BEAD, run_in, detail.setting_bead_in, opening, detail)]
    if is_bedded_drip_cap(detail):
        cap_in = drip_cap_in(opening, detail)
        lines.append(_bead(DRIP_CAP_BED, cap_in, detail.setting_bead_in, opening, detail))
    if detail.has_air_seal:
        lines += _air_seal_lines(opening, detail)
    return [line for line in lines if line.quantity]


@lru_cache(maxsize=256)
def _bead_sqin(diameter_in: Decimal, waste_pct: Decimal) -> Decimal:
    """Return what each inch of a round bead takes from the package; remembered, as details have few beads."""
    return round_area_sqin(diameter_in) * (100 + waste_pct) / 100


@lru_cache(maxsize=256)
def _joint_sqin(width_in: Decimal, waste_pct: Decimal) -> Decimal:
    """Return what each inch of a joint takes from the package; remembered, as jobs have few gaps."""
    return rectangle_area_sqin(width_in, joint_depth_in(width_in)) * (100 + waste_pct) / 100


def _bead(rule: Rule, run_in: Decimal, diameter_in: Decimal, opening: OpeningFacts, detail: DetailFacts) -> DrawLine:
    volume_cuin = run_in * _bead_sqin(diameter_in, detail.sealant_waste_pct)
    return new_line((rule, 1, volume_cuin, volume_cuin, opening, detail))


def _air_seal_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    waste_pct = detail.sealant_waste_pct
    volume_cuin = 2 * (
        opening.unit_height_in * _joint_sqin(jamb_gap_in(opening), waste_pct)
        + opening.unit_width_in * _joint_sqin(head_gap_in(opening), waste_pct)
    )
    run_in = air_seal_in(opening)
    return [
        new_line((AIR_SEAL_BEAD, 1, volume_cuin, volume_cuin, opening, detail)),
        new_line((BACKER_ROD, 1, run_in, run_in, opening, detail)),
    ]
