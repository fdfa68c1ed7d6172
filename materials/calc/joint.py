"""The joint between frame and framing: how deep it is filled, over which rod, and what it has to take up."""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache, partial
from typing import NamedTuple

from jobs.calc.say import field_name
from jobs.errors import Fault
from materials.errors import GapTooWide
from openings.calc.advice import Advice, Answer
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import half_up, plain
from openings.calc.geometry import head_gap_in, jamb_gap_in
from openings.calc.terms import FrameMaterial
from openings.calc.units import CONVERSIONS, US, Units

LEAST_DEPTH_IN, MOST_DEPTH_IN = Decimal("0.25"), Decimal("0.5")
LEAST_WIDTH_IN = Decimal("0.25")

ROD_SIZES_IN = tuple(map(Decimal, ("0.25", "0.375", "0.5", "0.625", "0.75", "0.875", "1", "1.25", "1.5", "2")))
"""Diameters of closed-cell backer rod in stock, from memory."""

ROD_PAST_GAP_IN = Decimal("0.125")
WIDE_GAP_IN = Decimal("0.75")
WIDE_GAP_FACTOR = Decimal("1.25")
WIDEST_GAP_IN = ROD_SIZES_IN[-1] / WIDE_GAP_FACTOR
"""A wider gap takes a rod that is not in stock."""

EXPANSION_PER_F = {
    FrameMaterial.ALUMINUM: Decimal("0.0000132"),
    FrameMaterial.VINYL: Decimal("0.000035"),
    FrameMaterial.WOOD: Decimal("0.000003"),
    FrameMaterial.FIBERGLASS: Decimal("0.000005"),
}
"""Growth of each inch by a degree Fahrenheit, all from memory, that of fiberglass the least certain. Vinyl is 30 to 45
millionths; wood along the grain 2 to 3, of which the upper."""

LEAST_MOVEMENT_CLASS_PCT = Decimal("12.5")
"""ASTM C1472 calculates with sealants of this movement class (ASTM C920) and above."""

JAMBS, HEAD_AND_SILL = "jambs", "head and sill"

_NO_AIR_SEAL = "not asked here: no joint is sealed between frame and framing"


class Joint(NamedTuple):
    """The joints along two opposite sides of the unit; growth across opens and closes them."""

    at: str
    gap_in: Decimal
    along_in: Decimal
    across_in: Decimal

    def named(self, units: Units) -> str:
        """Return gap and place in words."""
        return f"gap of {units.say(self.gap_in)} at {self.at}"


def sealed_joints(opening: OpeningFacts, detail: DetailFacts) -> tuple[Joint, ...]:
    """Return the joints of the air seal that have a gap: jambs, then head and sill."""
    if not detail.has_air_seal:
        return ()
    width_in, height_in = opening.unit_width_in, opening.unit_height_in
    joints = (
        Joint(JAMBS, jamb_gap_in(opening), height_in, width_in),
        Joint(HEAD_AND_SILL, head_gap_in(opening), width_in, height_in),
    )
    return tuple(joint for joint in joints if joint.gap_in)


def joint_depth_in(width_in: Decimal) -> Decimal:
    """Return how deep a joint of that width is filled: half the width, at least 1/4 and at most 1/2 in.

    Source:
        northernarchitecture.us, architectural detailing; its examples are 1/4, 3/4 and 1-1/4 in wide.
    """
    return max(LEAST_DEPTH_IN, min(width_in / 2, MOST_DEPTH_IN))


@lru_cache(maxsize=1024)
def rod_diameter_in(gap_in: Decimal) -> Decimal:
    """Return the backer rod for a gap (> 0): the next stock size that is thick enough to hold.

    Raises:
        GapTooWide: no rod in stock is that thick.

    Source:
        Closed cell, 1/8 in thicker than the gap, from 3/4 in up a quarter thicker: Alcot. Stock sizes from memory.
    """
    if gap_in > WIDEST_GAP_IN:
        sentence = (
            f"the gap is {US.say(gap_in)}; the largest backer rod, {US.say(ROD_SIZES_IN[-1])}, takes gaps up to "
            f"{US.say(WIDEST_GAP_IN)}"
        )
        raise GapTooWide(sentence, faults=[Fault(field="gap_in", value=str(gap_in), detail=sentence)])
    least_in = gap_in + ROD_PAST_GAP_IN if gap_in < WIDE_GAP_IN else gap_in * WIDE_GAP_FACTOR
    return next(size_in for size_in in ROD_SIZES_IN if size_in >= least_in)


def movement_in(length_in: Decimal, *, expansion_per_f: Decimal, range_f: Decimal) -> Decimal:
    """Return by how much a length grows from the coldest to the hottest of its material.

    Source:
        Expansion × length × range: ASTM C1472, its form from memory.
    """
    return expansion_per_f * length_in * range_f


def width_for_movement_in(movement_in: Decimal, *, class_pct: Decimal, tolerance_in: Decimal = Decimal(0)) -> Decimal:
    """Return how wide a joint must be for its sealant to follow the movement.

    Args:
        class_pct: movement class of the sealant, ± per cent of the joint width (ASTM C920), > 0.
        tolerance_in: what the joint may come out narrower than planned.

    Source:
        Movement ÷ class + tolerance: ASTM C1472, its form from memory.
    """
    return movement_in * 100 / class_pct + tolerance_in


def joint_advice(
    opening: OpeningFacts, detail: DetailFacts, *, movement_class_pct: Decimal | None, units: Units = US
) -> tuple[Advice, ...]:
    """Return what the rules of a joint say of the air seal, always in the same order: width, rod, movement."""
    return (
        joint_width_advice(opening, detail, units=units),
        rod_advice(opening, detail, units=units),
        movement_advice(opening, detail, movement_class_pct=movement_class_pct, units=units),
    )


def joint_width_advice(opening: OpeningFacts, detail: DetailFacts, *, units: Units = US) -> Advice:
    """Return whether the joints of the air seal are wide enough to be filled; a side without gap has none."""
    joints = sealed_joints(opening, detail)
    is_met = all(joint.gap_in >= LEAST_WIDTH_IN for joint in joints)
    gaps = ", ".join(joint.named(units) for joint in joints)
    return Advice(
        rule="joint width",
        answer=Answer.MET if is_met else Answer.NOT_MET,
        reason=f"{gaps}; a joint is at least {units.say(LEAST_WIDTH_IN)} wide" if joints else _NO_AIR_SEAL,
        source="Pecora, joint location and condition",
    )


def rod_advice(opening: OpeningFacts, detail: DetailFacts, *, units: Units = US) -> Advice:
    """Return whether there is a backer rod for every joint of the air seal.

    Where there is none the draw has no rod either and calculates the joint as a rectangle, so that openings with wide
    gaps can still be drawn; this advice is what says that the gap is to be closed first.
    """
    joints = sealed_joints(opening, detail)
    too_wide = [joint for joint in joints if joint.gap_in > WIDEST_GAP_IN]
    if too_wide:
        gaps = ", ".join(joint.named(units) for joint in too_wide)
        reason = (
            f"{gaps}: the largest backer rod, {units.say(ROD_SIZES_IN[-1])}, takes gaps up to "
            f"{units.say(WIDEST_GAP_IN)}; close the gap with framing first"
        )
    else:
        reason = ", ".join(
            f"{units.say(rod_diameter_in(joint.gap_in))} rod for the {joint.named(units)}" for joint in joints
        )
    return Advice(
        rule="backer rod",
        answer=Answer.NOT_MET if too_wide else Answer.MET,
        reason=reason or _NO_AIR_SEAL,
        source="Alcot (closed cell); stock sizes: company default (source not checked)",
    )


def movement_advice(
    opening: OpeningFacts, detail: DetailFacts, *, movement_class_pct: Decimal | None, units: Units = US
) -> Advice:
    """Return whether the sealant can follow the frame's growth in heat at every joint of the air seal.

    Width pushes at the jambs, height at head and sill. All the growth is put on one of the two joints, as if the unit
    were held at the other (our choice, on the safe side).
    """
    answer, reason = _movement(opening, detail, movement_class_pct, units)
    return Advice(
        rule="joint movement",
        answer=answer,
        reason=reason,
        source="ASTM C1472 (scope: its summary); form and coefficients: company default (text not checked)",
    )


def _movement(
    opening: OpeningFacts, detail: DetailFacts, class_pct: Decimal | None, units: Units
) -> tuple[Answer, str]:
    joints = sealed_joints(opening, detail)
    material = opening.frame_material
    if not joints:
        return Answer.MET, _NO_AIR_SEAL
    if class_pct is not None and class_pct < LEAST_MOVEMENT_CLASS_PCT:
        return Answer.TAKE_CARE, (
            f"the sealant follows ±{plain(class_pct)}%; joints that move are calculated for sealants of "
            f"±{LEAST_MOVEMENT_CLASS_PCT}% and above"
        )
    if material is None or class_pct is None:
        facts = {"frame_material": material, "movement_class_pct": class_pct}
        return (
            Answer.CANNOT_TELL,
            f"need info: {', '.join(field_name(name) for name, fact in facts.items() if fact is None)}",
        )
    growth = partial(movement_in, expansion_per_f=EXPANSION_PER_F[material], range_f=detail.joint_temp_range_f)
    needed_in = [width_for_movement_in(growth(joint.across_in), class_pct=class_pct) for joint in joints]
    is_met = all(joint.gap_in >= least_in for joint, least_in in zip(joints, needed_in, strict=True))
    compared = "; ".join(
        f"{joint.at}: {units.bare(joint.across_in)} grows by {units.say(growth(joint.across_in))}, so at least "
        f"{units.say(least_in)} wide; the gap is {units.say(joint.gap_in)}"
        for joint, least_in in zip(joints, needed_in, strict=True)
    )
    return Answer.MET if is_met else Answer.NOT_MET, (
        f"{material} over a range of {_degrees(detail.joint_temp_range_f, units)}, sealant ±{plain(class_pct)}%; "
        f"{compared}"
    )


def _degrees(range_f: Decimal, units: Units) -> str:
    """Return a difference of temperatures, which unlike a temperature is turned into metric without an offset."""
    conversion = CONVERSIONS["f"]
    shown = half_up(range_f * conversion.factor, to=conversion.places) if units.is_metric else range_f
    return f"{plain(shown)} {units.per('f')}"
