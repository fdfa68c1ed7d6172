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
from materials.calc.sealant import without_waste
from materials.calc.served import BEADS, IN_GAPS, STRIPS, served_in, why_not_sealed, width_to_be_in
from materials.calc.spare import spare_share
from materials.errors import (
    LapTooLong,
    MeasureMismatch,
    MissingCoverage,
    MissingProduct,
    NotFurnished,
    NotSealed,
    OutOfRange,
    StripWiderThanRoll,
)
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import ceil_ratio
from openings.calc.geometry import area_sqft
from openings.calc.units import US, Units

Find = Callable[[Part], ProductFacts | None]
"""Gives the product that serves a part, None where nobody chose one."""

_PRIMED = STRIPS | {Part.PAN_MEMBRANE, Part.HEAD_MEMBRANE}
_BACKER_ROD, _DRIP_CAP, _PRIMER = Part.BACKER_ROD, Part.DRIP_CAP, Part.PRIMER
_LENGTH = Measure.LENGTH

_NO_LAP = Decimal(0)


class SuppliedLine(NamedTuple):
    """A line of a draw as it is bought: run pieced where it is longer than a roll."""

    line: DrawLine
    product: ProductFacts | None

    @property
    def packages(self) -> Decimal | None:
        """The part of a package, or the packages, that one opening takes; None without a product."""
        return share_of_package(self.line.quantity, self.product) if self.product else None

    @property
    def spare(self) -> Decimal | None:
        """The spare in percent that goes with it, in the same measure and unrounded; None without a product."""
        return spare_share(self.product, without_waste(self.line)) if self.product else None


class Shortfall(NamedTuple):
    """One thing for which the products do not do: the error that says so where it counts, the fault, and the part."""

    error: type[NotFurnished]
    fault: Fault
    part: Part


class Supplied(NamedTuple):
    """A draw with its products, primer last, and for what they do not do."""

    lines: tuple[SuppliedLine, ...]
    faults: tuple[Shortfall, ...]

    def unknown(self) -> dict[Part, str]:
        """Return why there is no line for a part that is needed, by part."""
        drawn = {line.part for line, _ in self.lines}
        return {part: why for part, why in self.lacks().items() if part not in drawn}

    def lacks(self) -> dict[Part, str]:
        """Return why there is no product on a line, or no line for a part that is needed, by part."""
        parts = {line.part for line, product in self.lines if product is None}
        found: dict[Part, list[str]] = {}
        for fall in self.faults:
            if fall.part in parts or fall.part is _PRIMER:
                found.setdefault(fall.part, []).append(fall.fault.detail)
        return {part: "; ".join(sentences) for part, sentences in found.items()}


def supplied(
    lines: Sequence[DrawLine], find: Find, *, units: Units = US, why_none: Callable[[Part], str] | None = None
) -> Supplied:
    """Return the draw with its products, what they change in it, and each shortfall once.

    A line with a shortfall stands all the same: with its product where one is chosen that measures as the line does
    and is wide enough, in one piece where it cannot be lapped. Primer that is needed in a quantity that is not known
    has no line; `Supplied.lacks` says why.

    Args:
        lines: the draw of one opening.
        why_none: says why `find` gives none for a part, where more can be said than that none is chosen.
    """
    found = [(line, find(line.rule.part)) for line in lines]
    made = [_supply(line, product) for line, product in found]
    shortfalls = [fall for line, product in found for fall in shortfalls_of(line, product, units=units)]
    primed = [(line, product) for line, product in made if product and product.needs_primer and line.part in _PRIMED]
    if primed:
        primer, falls = _primer(primed, find(_PRIMER))
        made += primer
        shortfalls += falls
    if why_none:
        shortfalls = [_said(fall, why_none) for fall in shortfalls]
    return Supplied(tuple(made), tuple(dict.fromkeys(shortfalls)))


def require_supplied(lines: Sequence[DrawLine], find: Find, *, units: Units = US) -> tuple[SuppliedLine, ...]:
    """Return the draw with its products, which do for all of it.

    Raises:
        NotFurnished: they do not; of the kind of the first shortfall, with the faults of all.
    """
    made, shortfalls = supplied(lines, find, units=units)
    if shortfalls:
        faults = [fall.fault for fall in shortfalls]
        raise shortfalls[0].error("; ".join(fault.detail for fault in faults), faults=faults)
    return made


def pieces_of(run_in: Decimal, *, roll_in: Decimal, lap_in: Decimal) -> int:
    """Return into how few equal pieces a run goes, each lapped over the one before and none longer than a roll.

    Args:
        run_in: what the pieces cover, > 0.
        roll_in: > lap_in >= 0.

    Source:
        n pieces with n - 1 laps between them: arithmetic.
    """
    return max(ceil_ratio(run_in - lap_in, roll_in - lap_in), 1)


def _supply(line: DrawLine, product: ProductFacts | None) -> SuppliedLine:
    if product is None or product.measure is not MEASURES[line.rule.part] or _is_too_narrow(line, product):
        return SuppliedLine(line, None)
    if product.measure is _LENGTH and line.each > product.package_quantity and not _is_lap_too_long(line, product):
        return SuppliedLine(_pieced(line, product), product)
    return SuppliedLine(line, product)


def _is_too_narrow(line: DrawLine, product: ProductFacts) -> bool:
    """Return whether strips or pan of a line are wider than the roll that they are cut from."""
    width_in = product.width_in
    return width_in is not None and width_to_be_in(line.rule.part, line.detail) > width_in


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

    source = f'{rule.source}; laps: company default, editable (2" to 4", source not checked)' if lap_in else rule.source
    if rule.part is _DRIP_CAP:
        source += "; AWDI manual p. 23 wants it continuous, so seal the joint"
    return Rule(rule.part, because, source)


def unknown_coverage(primer: ProductFacts) -> str:
    """Return why there is no telling how much of a primer is needed."""
    return f"need info: how far a gallon of {primer.name} goes, so no primer can be counted"


def _unusable(part: Part, product: ProductFacts | None) -> Shortfall | None:
    """Return why there is nothing to calculate with for a part: no product, or one that measures otherwise."""
    if product is None:
        return _shortfall(MissingProduct, part, "", f"no product is chosen for {part}")
    if product.measure is not MEASURES[part]:
        sentence = (
            f"{part} is counted in {MEASURES[part].plainly}, but {product.name} is packed in {product.measure.plainly}"
        )
        return _shortfall(MeasureMismatch, part, product.measure, sentence)
    return None


def shortfalls_of(line: DrawLine, product: ProductFacts | None, *, units: Units = US) -> Iterator[Shortfall]:
    """Yield for what the product of one line does not do."""
    part = line.rule.part
    if product is None or product.measure is not MEASURES[part]:
        if unusable := _unusable(part, product):
            yield unusable
        return
    if product.width_in is not None and _is_too_narrow(line, product):
        wide_in = width_to_be_in(part, line.detail)
        sentence = (
            f"{part} is to be {units.say(wide_in)} wide{_pan_width(line, units)}, but {product.name} is only "
            f"{units.say(product.width_in)} wide"
        )
        yield _shortfall(StripWiderThanRoll, part, str(product.width_in), sentence)
    if why := why_not_sealed(part, product.name, product.attachment):
        yield _shortfall(NotSealed, part, product.attachment or "", why)
    if product.serves_from_in is not None or product.serves_up_to_in is not None:
        yield from _out_of_range(line, product, units)
    if product.measure is _LENGTH and line.each > product.package_quantity and _is_lap_too_long(line, product):
        sentence = (
            f"{part} runs {units.say(line.each)}, but a {product.package} of {product.name} holds "
            f"{units.say(product.package_quantity)}; the lap of {units.say(_lap_in(line))} is more than half of it"
        )
        yield _shortfall(LapTooLong, part, str(product.package_quantity), sentence)


def _pan_width(line: DrawLine, units: Units) -> str:
    if line.rule.part is not Part.PAN_MEMBRANE:
        return ""
    detail = line.detail
    return (
        f" (sill depth {units.say(detail.sill_depth_in)} + back dam {units.say(detail.back_dam_in)} + "
        f"{units.say(detail.pan_front_lap_in)} down the face)"
    )


def _out_of_range(line: DrawLine, product: ProductFacts, units: Units) -> Iterator[Shortfall]:
    part, least_in, most_in = line.rule.part, product.serves_from_in, product.serves_up_to_in
    what = "a gap" if part in IN_GAPS else "a bead" if part in BEADS else "a rough opening"
    for size_in in served_in(line):
        if (least_in is not None and size_in < least_in) or (most_in is not None and size_in > most_in):
            limits = between(least_in, most_in, units=units)
            sentence = f"{product.name} serves {limits}, but {part} is for {what} of {units.say(size_in)}"
            yield _shortfall(OutOfRange, part, str(size_in), sentence)


def _primer(
    primed: Sequence[tuple[DrawLine, ProductFacts]], primer: ProductFacts | None
) -> tuple[list[SuppliedLine], list[Shortfall]]:
    """Return the primer of one opening, for the area of all that needs it, or why its quantity is not known."""
    shortfalls, areas = [], []
    for line, product in primed:
        if product.width_in is None:
            sentence = f"need info: the width of {product.name}, which gives the area to prime"
            shortfalls.append(_shortfall(MissingCoverage, line.part, product.code, sentence)._replace(part=_PRIMER))
        else:
            areas.append((line.part, area_sqft(line.quantity, product.width_in)))
    coverage_sqft = primer.primer_sqft_per_gal if primer else None
    if unusable := _unusable(_PRIMER, primer):
        shortfalls.append(unusable)
    elif primer and coverage_sqft is None:
        shortfalls.append(_shortfall(MissingCoverage, _PRIMER, primer.code, unknown_coverage(primer)))
    if shortfalls or coverage_sqft is None:
        return [], shortfalls
    rule = _primer_rule(areas, coverage_sqft)
    volume_cuin = cuin_to_cover(sum((area for _, area in areas), Decimal(0)), sqft_per_gal=coverage_sqft)
    opening, detail = primed[0][0].opening, primed[0][0].detail
    return [SuppliedLine(new_line((rule, 1, volume_cuin, volume_cuin, opening, detail)), primer)], []


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
    return Shortfall(error, Fault(field=f"products.{part}", value=value, detail=sentence), part)


def _said(fall: Shortfall, why_none: Callable[[Part], str]) -> Shortfall:
    """Return a shortfall with all that can be said about a product that is missing."""
    why = why_none(fall.part) if fall.error is MissingProduct else ""
    return _shortfall(MissingProduct, fall.part, "", f"{fall.fault.detail}: {why}") if why else fall
