"""A draw with the products chosen for it, and what these change in it: laps of long runs, and primer."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from jobs.errors import Fault
from materials.calc.lines import DrawLine, Rule, new_line
from materials.calc.packs import CUIN_PER_GAL, cuin_to_cover, share_of_package
from materials.calc.parts import MEASURES, Part
from materials.calc.product import Measure, ProductFacts, between
from materials.calc.sealant import ROD_AT_HEAD_AND_SILL, ROD_AT_JAMBS
from materials.errors import (
    LapTooLong,
    MeasureMismatch,
    MissingCoverage,
    MissingProduct,
    NotFurnished,
    OutOfRange,
    StripWiderThanRoll,
)
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import ceil_ratio
from openings.calc.geometry import area_sqft, head_gap_in, jamb_gap_in
from openings.calc.units import US, Units

_FIELD_OF_PART = "products."

Find = Callable[[Part], ProductFacts | None]
"""Gives the product that serves a part, None where nobody chose one."""

STRIPS = frozenset({Part.SILL_STRIP, Part.JAMB_STRIP, Part.HEAD_STRIP, Part.COUNTER_FLASHING_STRIP})
"""Cut as wide as the detail says; everything else is as wide as its product."""

_PRIMED = STRIPS | {Part.PAN_MEMBRANE, Part.HEAD_MEMBRANE}
_IN_GAPS = frozenset({Part.AIR_SEAL_BEAD, Part.BACKER_ROD})
_BEADS = {
    Part.CASING_JOINT_BEAD: "joint_bead_in",
    Part.SETTING_BEAD: "setting_bead_in",
    Part.FLANGE_BEAD: "flange_bead_in",
}
_BACKER_ROD, _DRIP_CAP, _PRIMER = Part.BACKER_ROD, Part.DRIP_CAP, Part.PRIMER
_LENGTH = Measure.LENGTH

_NO_LAP = _NO_GAP = Decimal(0)


class FurnishedLine(NamedTuple):
    """A line of a draw as it is bought: run pieced where it is longer than a roll."""

    line: DrawLine
    product: ProductFacts | None

    @property
    def packages(self) -> Decimal | None:
        """The part of a package, or the packages, that one opening takes; None without a product."""
        return share_of_package(self.line.quantity, self.product) if self.product else None


class Shortfall(NamedTuple):
    """One thing for which the products do not do: the error that says so where it counts, and the fault."""

    error: type[NotFurnished]
    fault: Fault

    @property
    def part(self) -> str:
        """The part that goes without."""
        return self.fault.field.removeprefix(_FIELD_OF_PART)


class Furnished(NamedTuple):
    """A draw with its products, primer last, and for what they do not do."""

    lines: tuple[FurnishedLine, ...]
    faults: tuple[Shortfall, ...]


def furnished(lines: Sequence[DrawLine], find: Find, *, units: Units = US) -> Furnished:
    """Return the draw with its products, what they change in it, and each shortfall once.

    A line with a shortfall stands all the same: with its product where one is chosen that measures as the line does,
    in one piece where it cannot be lapped. Where primer is needed and cannot be told, there is no line for it.

    Args:
        lines: the draw of one opening.
    """
    found = [(line, find(line.rule.part)) for line in lines]
    made = [_furnish(line, product) for line, product in found]
    shortfalls = [fall for line, product in found for fall in _shortfalls(line, product, units)]
    primed = [(line, product) for line, product in made if product and product.needs_primer and line.part in _PRIMED]
    if primed:
        primer, falls = _primer(primed, find(_PRIMER))
        made += primer
        shortfalls += falls
    return Furnished(tuple(made), tuple(dict.fromkeys(shortfalls)))


def require_furnished(lines: Sequence[DrawLine], find: Find, *, units: Units = US) -> tuple[FurnishedLine, ...]:
    """Return the draw with its products, which do for all of it.

    Raises:
        NotFurnished: they do not; of the kind of the first shortfall, with the faults of all.
    """
    made, shortfalls = furnished(lines, find, units=units)
    if shortfalls:
        faults = [fall.fault for fall in shortfalls]
        raise shortfalls[0].error("; ".join(fault.detail for fault in faults), faults=faults)
    return made


def served_in(line: DrawLine) -> tuple[Decimal, ...]:
    """Return the sizes that the product of a line must serve, inches, all of them; none for primer.

    Air seal: each gap that there is, at jambs and at head and sill. Backer rod: those in which this line of it lies.
    Other beads: their size. All else: the width of the rough opening.

    Args:
        line: as `draw_of` gives it, not pieced.
    """
    part = line.rule.part
    if part in _IN_GAPS:
        gaps_in = (
            _NO_GAP if line.rule is ROD_AT_HEAD_AND_SILL else jamb_gap_in(line.opening),
            _NO_GAP if line.rule is ROD_AT_JAMBS else head_gap_in(line.opening),
        )
        return tuple(gap_in for gap_in in gaps_in if gap_in)
    if part in _BEADS:
        return (getattr(line.detail, _BEADS[part]),)
    return () if part is _PRIMER else (line.opening.ro_width_in,)


def pieces_of(run_in: Decimal, *, roll_in: Decimal, lap_in: Decimal) -> int:
    """Return into how few equal pieces a run goes, each lapped over the one before and none longer than a roll.

    Args:
        run_in: what the pieces cover, > 0.
        roll_in: > lap_in >= 0.

    Source:
        n pieces with n - 1 laps between them: arithmetic.
    """
    return max(ceil_ratio(run_in - lap_in, roll_in - lap_in), 1)


def _furnish(line: DrawLine, product: ProductFacts | None) -> FurnishedLine:
    if product is None or product.measure is not MEASURES[line.rule.part]:
        return FurnishedLine(line, None)
    if product.measure is _LENGTH and line.each > product.package_quantity and not _is_lap_too_long(line, product):
        return FurnishedLine(_pieced(line, product), product)
    return FurnishedLine(line, product)


def _lap_in(line: DrawLine) -> Decimal:
    """Return how far the pieces of a long run lap; rod is butted."""
    return _NO_LAP if line.rule.part is _BACKER_ROD else line.detail.end_lap_in


def _is_lap_too_long(line: DrawLine, product: ProductFacts) -> bool:
    """Return whether laps would take more than half of each piece, so that all of the run lies double (our choice)."""
    return 2 * _lap_in(line) > product.package_quantity


def _pieced(line: DrawLine, product: ProductFacts) -> DrawLine:
    lap_in, roll_in = _lap_in(line), product.package_quantity
    pieces = pieces_of(line.each, roll_in=roll_in, lap_in=lap_in)
    run_in = line.each + (pieces - 1) * lap_in
    rule = _pieced_rule(line.rule, pieces, lap_in, product.package, roll_in, line.count > 1)
    return new_line((rule, pieces * line.count, run_in / pieces, run_in * line.count, line.opening, line.detail))


@lru_cache(maxsize=256)
def _pieced_rule(rule: Rule, pieces: int, lap_in: Decimal, package: str, roll_in: Decimal, is_several: bool) -> Rule:
    """Return the rule of a pieced run; remembered, as jobs have few of them."""

    def because(opening: OpeningFacts, detail: DetailFacts, units: Units) -> str:
        joint = f"lapped {units.say(lap_in)}" if lap_in else "butted"
        return (
            f"{rule.because(opening, detail, units)}; {'each ' * is_several}in {pieces} pieces {joint}, as a {package} "
            f"holds {units.say(roll_in)}"
        )

    source = f"{rule.source}; laps of 2 to 4 in, from memory" if lap_in else rule.source
    if rule.part is _DRIP_CAP:
        source += "; AWDI manual p. 23 wants it continuous, so seal the joint"
    return Rule(rule.part, because, source)


def _unusable(part: Part, product: ProductFacts | None) -> Shortfall | None:
    """Return why there is nothing to reckon with for a part: no product, or one that measures otherwise."""
    if product is None:
        return _shortfall(MissingProduct, part, "", f"no product is chosen for {part}")
    if product.measure is not MEASURES[part]:
        sentence = f'{part} is drawn as "{MEASURES[part]}", but {product.name} is packed as "{product.measure}"'
        return _shortfall(MeasureMismatch, part, product.measure, sentence)
    return None


def _shortfalls(line: DrawLine, product: ProductFacts | None, units: Units) -> Iterator[Shortfall]:
    """Yield for what the product of one line does not do."""
    part = line.rule.part
    if product is None or product.measure is not MEASURES[part]:
        if unusable := _unusable(part, product):
            yield unusable
        return
    if part in STRIPS and product.width_in is not None and line.detail.strip_width_in > product.width_in:
        sentence = (
            f"{part} is to be {units.say(line.detail.strip_width_in)} wide, but {product.name} is only "
            f"{units.say(product.width_in)} wide"
        )
        yield _shortfall(StripWiderThanRoll, part, str(product.width_in), sentence)
    if product.serves_from_in is not None or product.serves_up_to_in is not None:
        yield from _out_of_range(line, product, units)
    if product.measure is _LENGTH and line.each > product.package_quantity and _is_lap_too_long(line, product):
        sentence = (
            f"{part} runs {units.say(line.each)}, but a {product.package} of {product.name} holds "
            f"{units.say(product.package_quantity)}; the lap of {units.say(_lap_in(line))} is more than half of it"
        )
        yield _shortfall(LapTooLong, part, str(product.package_quantity), sentence)


def _out_of_range(line: DrawLine, product: ProductFacts, units: Units) -> Iterator[Shortfall]:
    part, least_in, most_in = line.rule.part, product.serves_from_in, product.serves_up_to_in
    what = "a gap" if part in _IN_GAPS else "a bead" if part in _BEADS else "a rough opening"
    for size_in in served_in(line):
        if (least_in is not None and size_in < least_in) or (most_in is not None and size_in > most_in):
            limits = between(least_in, most_in, units=units)
            sentence = f"{product.name} serves {limits}, but {part} is for {what} of {units.say(size_in)}"
            yield _shortfall(OutOfRange, part, str(size_in), sentence)


def _primer(
    primed: Sequence[tuple[DrawLine, ProductFacts]], primer: ProductFacts | None
) -> tuple[list[FurnishedLine], list[Shortfall]]:
    """Return the primer of one opening, for the area of all that needs it, or why it cannot be told."""
    shortfalls, areas = [], []
    for line, product in primed:
        if product.width_in is None:
            sentence = f"the width of {product.name} is not known, so neither is the area that is primed for it"
            shortfalls.append(_shortfall(MissingCoverage, line.part, product.code, sentence))
        else:
            areas.append((line.part, area_sqft(line.quantity, product.width_in)))
    coverage_sqft = primer.primer_sqft_per_gal if primer else None
    if unusable := _unusable(_PRIMER, primer):
        shortfalls.append(unusable)
    elif primer and coverage_sqft is None:
        sentence = f"nobody says how far a gallon of {primer.name} goes, so no primer can be counted"
        shortfalls.append(_shortfall(MissingCoverage, _PRIMER, primer.code, sentence))
    if shortfalls or coverage_sqft is None:
        return [], shortfalls
    rule = _primer_rule(areas, coverage_sqft)
    volume_cuin = cuin_to_cover(sum((area for _, area in areas), Decimal(0)), sqft_per_gal=coverage_sqft)
    opening, detail = primed[0][0].opening, primed[0][0].detail
    return [FurnishedLine(new_line((rule, 1, volume_cuin, volume_cuin, opening, detail)), primer)], []


def _primer_rule(areas: Sequence[tuple[Part, Decimal]], coverage_sqft: Decimal) -> Rule:
    def because(_opening: OpeningFacts, _detail: DetailFacts, units: Units) -> str:
        terms = " + ".join(f"{part} {units.say(area, 'sqft')}" for part, area in areas)
        total_sqft = sum((area for _, area in areas), Decimal(0))
        return (
            f"{terms}, together {units.say(total_sqft, 'sqft')}; a gallon of {units.say(CUIN_PER_GAL, 'cuin')} covers "
            f"{units.say(coverage_sqft, 'sqft')}"
        )

    return Rule(_PRIMER, because, "JLC, choosing flexible flashings 3; coverage from the product")


def _shortfall(error: type[NotFurnished], part: Part, value: str, sentence: str) -> Shortfall:
    return Shortfall(error, Fault(field=f"{_FIELD_OF_PART}{part}", value=value, detail=sentence))
