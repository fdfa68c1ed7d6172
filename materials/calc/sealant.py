"""Beads of sealant, by volume, and the rod behind them."""

from __future__ import annotations

import math
from collections.abc import Callable
from decimal import Decimal
from functools import lru_cache
from operator import attrgetter

from materials.calc.joint import (
    HEAD_AND_SILL,
    JAMBS,
    ROD_PAST_GAP_IN,
    WIDE_GAP_IN,
    WIDEST_GAP_IN,
    joint_depth_in,
    rod_diameter_in,
    sealed_joints,
)
from materials.calc.lines import DrawLine, Rule, new_line
from materials.calc.parts import Part
from materials.calc.product import Measure
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import plain
from openings.calc.geometry import (
    CASING,
    FLANGE,
    IN_PER_FT,
    drip_cap_in,
    has_head_membrane,
    head_gap_in,
    is_bedded_drip_cap,
    jamb_gap_in,
    setting_edge_in,
    three_sides_in,
)
from openings.calc.terms import BeadShape, Mounting, SillBead
from openings.calc.units import Units

PI = Decimal("3.141592653589793")
TEN_PLACES = Decimal("1E-10")

_Bead = Callable[[DetailFacts], tuple[Decimal, BeadShape]]
"""Reads size and shape of a bead off the detail."""

JOINT_BEAD: _Bead = attrgetter("joint_bead_in", "joint_bead_shape")
SETTING_BEAD: _Bead = attrgetter("setting_bead_in", "setting_bead_shape")
FLANGE_BEAD: _Bead = attrgetter("flange_bead_in", "flange_bead_shape")


def round_area_sqin(diameter_in: Decimal) -> Decimal:
    """Return the cross-section of a round bead."""
    return PI * diameter_in * diameter_in / 4


def rectangle_area_sqin(width_in: Decimal, depth_in: Decimal) -> Decimal:
    """Return the cross-section of a joint filled to a depth."""
    return width_in * depth_in


def fillet_area_sqin(leg_in: Decimal) -> Decimal:
    """Return the cross-section of a fillet with two equal legs."""
    return leg_in * leg_in / 2


def over_rod_area_sqin(width_in: Decimal, depth_in: Decimal, rod_radius_in: Decimal) -> Decimal:
    """Return the cross-section of a joint over a round rod, flat outside; what lies beside the rod to ten places.

    Args:
        depth_in: at the throat, the thinnest place, in the middle of the joint.
        rod_radius_in: at least half the width.

    Source:
        Geometry: width × depth, and the rectangle over the crown of the rod less the segment of a circle in it.
    """
    half_in = width_in / 2
    center_in = ((rod_radius_in - half_in) * (rod_radius_in + half_in)).sqrt()
    # The arc tangent is the arc sine of half ÷ radius, and stays exact where the rod is as wide as the joint.
    angle = Decimal(math.atan2(half_in, center_in))
    beside_sqin = width_in * rod_radius_in - half_in * center_in - rod_radius_in * rod_radius_in * angle
    return rectangle_area_sqin(width_in, depth_in) + beside_sqin.quantize(TEN_PLACES)


def bead_area_sqin(size_in: Decimal, shape: BeadShape) -> Decimal:
    """Return the cross-section of a bead: by its diameter, its width (as deep as a joint) or its leg."""
    if shape is BeadShape.ROUND:
        return round_area_sqin(size_in)
    if shape is BeadShape.FILLET:
        return fillet_area_sqin(size_in)
    return rectangle_area_sqin(size_in, joint_depth_in(size_in))


def air_seal_area_sqin(gap_in: Decimal) -> Decimal:
    """Return the cross-section of the joint that seals a gap: over its rod, or a rectangle where none is thick enough.

    The rod keeps its own curve, that of its stock size, though the gap squeezes it (our choice).
    """
    depth_in = joint_depth_in(gap_in)
    if gap_in > WIDEST_GAP_IN:
        return rectangle_area_sqin(gap_in, depth_in)
    return over_rod_area_sqin(gap_in, depth_in, rod_diameter_in(gap_in) / 2)


def yield_ft(package_cuin: Decimal, *, area_sqin: Decimal) -> Decimal:
    """Return how many feet of bead a package gives, without waste.

    Args:
        package_cuin: what the package holds, by its volume and not by the ounces of its label.
        area_sqin: cross-section of the bead, > 0.

    Source:
        feet = volume / (12 × area): Midwest Sealant Supply, questions and answers.
    """
    return package_cuin / (IN_PER_FT * area_sqin)


def _shaped(size_in: Decimal, shape: BeadShape, units: Units) -> str:
    if shape is BeadShape.RECTANGLE:
        return f"{units.bare(size_in)} × {units.say(joint_depth_in(size_in))} rectangular bead"
    return f"{units.say(size_in)} {shape}{' bead' if shape is BeadShape.ROUND else ', legs alike'}"


def _bead_rule(
    part: Part,
    run_in: Callable[[OpeningFacts, DetailFacts], Decimal],
    bead: _Bead,
    where: Callable[[DetailFacts, Units], str],
    source: str,
) -> Rule:
    """Return the rule of a bead, which says run, size, shape, waste and place."""

    def because(opening: OpeningFacts, detail: DetailFacts, units: Units) -> str:
        return (
            f"{units.say(run_in(opening, detail))} of {_shaped(*bead(detail), units)} + "
            f"{plain(detail.sealant_waste_pct)}% waste; {where(detail, units)}"
        )

    return Rule(part, because, source)


_SILLS: dict[SillBead, tuple[Callable[[DetailFacts, Units], str], str]] = {
    SillBead.OPEN: (
        lambda _detail, _units: "along two jambs and head; sill drains",
        "sill open: Building Science Corp. Info-302",
    ),
    SillBead.DRAIN_GAPS: (
        lambda detail, units: (
            f"along two jambs, head and sill, {units.say(detail.sill_drain_gap_in)} left open at each end of the sill"
        ),
        "drain gaps: Pella 80WW0101",
    ),
    SillBead.FULL: (
        lambda _detail, _units: "along two jambs, head and sill; nothing drains, so only where little rain comes",
        "full sill: Building Science Corp. Info-302",
    ),
}
"""What the bead in which a unit is set does along the sill, in words, and the source."""

_SET_IN: dict[Mounting, tuple[Part, _Bead, str, str]] = {
    Mounting.FLANGE: (
        Part.FLANGE_BEAD, FLANGE_BEAD, "back of the flange",
        'AAMA 2400-10 cl. 5.7.3.4; company default, editable (3/8", source not checked)',
    ),
    Mounting.CASING: (
        Part.SETTING_BEAD, SETTING_BEAD, "outer edge of the casing", "common practice, no source",
    ),
    Mounting.BOX_FRAME: (
        Part.SETTING_BEAD, SETTING_BEAD, "edge of the frame", "common practice, no source",
    ),
}  # fmt: skip


def _setting_rule(mounting: Mounting, sill: SillBead) -> Rule:
    part, bead, edge, source = _SET_IN[mounting]
    along, sill_source = _SILLS[sill]
    return _bead_rule(
        part, setting_edge_in, bead, lambda detail, units: f"{edge} {along(detail, units)}", f"{source}; {sill_source}"
    )


SETTING_RULES = {(mounting, sill): _setting_rule(mounting, sill) for mounting in Mounting for sill in SillBead}
"""The bead in which a unit is set, by its mounting and by what the bead does along the sill."""

CASING_JOINT_BEAD = _bead_rule(
    Part.CASING_JOINT_BEAD,
    three_sides_in,
    JOINT_BEAD,
    lambda _detail, _units: "joint of casing and jamb along two jambs and head",
    "common practice, no source",
)
DRIP_CAP_BED = _bead_rule(
    Part.SETTING_BEAD,
    drip_cap_in,
    SETTING_BEAD,
    lambda detail, _units: f"bed of the drip cap{' over the membrane' if has_head_membrane(detail) else ''}",
    "common practice, no source",
)


def _air_seal_because(opening: OpeningFacts, detail: DetailFacts, units: Units) -> str:
    joints = "; ".join(
        f"2 × {units.bare(joint.along_in)} at {joint.at}, {_section(joint.gap_in, units)}"
        for joint in sealed_joints(opening, detail)
    )
    return f"inside, {joints}; + {plain(detail.sealant_waste_pct)}% waste"


def _section(gap_in: Decimal, units: Units) -> str:
    size = f"joint {units.bare(gap_in)} wide and {units.say(joint_depth_in(gap_in))} deep"
    area = f"{units.bare(air_seal_area_sqin(gap_in), 'sqin')} {units.per('sqin')}"
    if gap_in > WIDEST_GAP_IN:
        return f"{size}, wider than any rod takes, so calculated as a rectangle without one: {area}"
    return f"{size} at its throat over a rod of {units.say(rod_diameter_in(gap_in))}: {area}"


AIR_SEAL_BEAD = Rule(
    Part.AIR_SEAL_BEAD,
    _air_seal_because,
    "depth half the width, 1/4 to 1/2 in: northernarchitecture.us, architectural detailing; section over a round rod: "
    "geometry",
)


def _rod_rule(*sides: str) -> Rule:
    """Return the rule of the rod along these sides, which all take the same size."""

    def because(opening: OpeningFacts, detail: DetailFacts, units: Units) -> str:
        joints = [joint for joint in sealed_joints(opening, detail) if joint.at in sides]
        runs = ", ".join(f"2 × {units.bare(joint.along_in)} along the {joint.named(units)}" for joint in joints)
        return (
            f"{units.say(rod_diameter_in(joints[0].gap_in))} thick, {runs}; rod {units.say(ROD_PAST_GAP_IN)} thicker "
            f"than the gap, from {units.say(WIDE_GAP_IN)} up a quarter thicker, next stock size"
        )

    return Rule(
        Part.BACKER_ROD, because, "rod size: Alcot, closed cell; stock sizes: company default (source not checked)"
    )


ROD_ALL_AROUND = _rod_rule(JAMBS, HEAD_AND_SILL)
ROD_AT_JAMBS = _rod_rule(JAMBS)
ROD_AT_HEAD_AND_SILL = _rod_rule(HEAD_AND_SILL)


def sealant_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    """Return the beads and the backer rod of one opening; waste is in the quantities.

    Flange: a bead on its back. Casing: joint bead, then setting bead. Box frame: setting bead along its edge. What
    the bead does along the sill is the detail's. A bead of size 0 is none.
    """
    lines = []
    mounting = detail.mounting
    if mounting is CASING:
        lines.append(_bead(CASING_JOINT_BEAD, three_sides_in(opening, detail), JOINT_BEAD, opening, detail))
    bead = FLANGE_BEAD if mounting is FLANGE else SETTING_BEAD
    rule = SETTING_RULES[mounting, detail.sill_bead]
    lines.append(_bead(rule, setting_edge_in(opening, detail), bead, opening, detail))
    if is_bedded_drip_cap(detail):
        lines.append(_bead(DRIP_CAP_BED, drip_cap_in(opening, detail), SETTING_BEAD, opening, detail))
    if detail.has_air_seal:
        lines += _air_seal_lines(opening, detail)
    return [line for line in lines if line.quantity]


def without_waste(line: DrawLine) -> Decimal:
    """Return the quantity of a line without what a bead has in it for waste; that of any other line as it is."""
    is_bead = line.unit is Measure.VOLUME and line.part is not Part.PRIMER
    return line.quantity * 100 / (100 + line.detail.sealant_waste_pct) if is_bead else line.quantity


@lru_cache(maxsize=256)
def _bead_sqin(bead: tuple[Decimal, BeadShape], waste_pct: Decimal) -> Decimal:
    """Return what each inch of a bead takes from the package; remembered, as details have few beads."""
    size_in, shape = bead
    return bead_area_sqin(size_in, shape) * (100 + waste_pct) / 100


def _bead(rule: Rule, run_in: Decimal, bead: _Bead, opening: OpeningFacts, detail: DetailFacts) -> DrawLine:
    volume_cuin = run_in * _bead_sqin(bead(detail), detail.sealant_waste_pct)
    return new_line((rule, 1, volume_cuin, volume_cuin, opening, detail))


@lru_cache(maxsize=1024)
def _joint(gap_in: Decimal, waste_pct: Decimal) -> tuple[Decimal, Decimal | None]:
    """Return what each inch of the air seal takes from the package, and its rod; remembered, as jobs have few gaps.

    There is no rod in a gap of 0 nor in one that is too wide for any.
    """
    rod_in = rod_diameter_in(gap_in) if 0 < gap_in <= WIDEST_GAP_IN else None
    return air_seal_area_sqin(gap_in) * (100 + waste_pct) / 100, rod_in


def _air_seal_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    """Return the seal inside, and a line of rod for each size of it."""
    waste_pct = detail.sealant_waste_pct
    jamb_sqin, jamb_rod_in = _joint(jamb_gap_in(opening), waste_pct)
    head_sqin, head_rod_in = _joint(head_gap_in(opening), waste_pct)
    jambs_in, head_and_sill_in = 2 * opening.unit_height_in, 2 * opening.unit_width_in
    volume_cuin = jambs_in * jamb_sqin + head_and_sill_in * head_sqin
    lines = [new_line((AIR_SEAL_BEAD, 1, volume_cuin, volume_cuin, opening, detail))]
    if jamb_rod_in == head_rod_in is not None:
        run_in = jambs_in + head_and_sill_in
        lines.append(new_line((ROD_ALL_AROUND, 1, run_in, run_in, opening, detail)))
        return lines
    if jamb_rod_in is not None:
        lines.append(new_line((ROD_AT_JAMBS, 1, jambs_in, jambs_in, opening, detail)))
    if head_rod_in is not None:
        lines.append(new_line((ROD_AT_HEAD_AND_SILL, 1, head_and_sill_in, head_and_sill_in, opening, detail)))
    return lines
