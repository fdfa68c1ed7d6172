"""Whether a product can serve a part of a detail, before there is any opening."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from materials.calc.draw import draw_of
from materials.calc.lines import DrawLine
from materials.calc.parts import Part
from materials.calc.product import ProductFacts, between
from materials.calc.served import BEADS, STRIPS
from materials.calc.supply import shortfalls_of, unknown_coverage
from materials.errors import MeasureMismatch, NotFurnished, OutOfRange, StripWiderThanRoll
from openings.calc.facts import LEAST_STRIP_WIDTH_IN, DetailFacts, OpeningFacts
from openings.calc.units import US

OF_THE_DETAIL: dict[Part, str] = {
    **dict.fromkeys(sorted(STRIPS), "strip_width_in"),
    Part.PAN_MEMBRANE: "sill_depth_in",
    Part.HEAD_MEMBRANE: "head_membrane_width_in",
    **BEADS,
}
"""The parts whose size the detail says, and where; that of all others depends on the opening."""

SPECIMEN = OpeningFacts(
    ro_width_in=Decimal(36), ro_height_in=Decimal(60), unit_width_in=Decimal("35.5"), unit_height_in=Decimal("59.5")
)
"""An opening for what a detail asks of any opening: its size does not matter (our choice)."""


@lru_cache(maxsize=1024)
def drawn_by(detail: DetailFacts) -> tuple[DrawLine, ...]:
    """Return the draw of an opening that the detail fits."""
    turned_up_in = max(detail.pan_turn_up_in, detail.back_dam_in)
    if turned_up_in < SPECIMEN.ro_height_in:
        return draw_of(SPECIMEN, detail)
    higher = replace(SPECIMEN, ro_height_in=turned_up_in + 1, unit_height_in=turned_up_in + Decimal("0.5"))
    return draw_of(higher, detail)


def why_unfit(
    part: Part,
    product: ProductFacts,
    lines: Sequence[DrawLine],
    *,
    by: Collection[type[NotFurnished]] = (NotFurnished,),
) -> str:
    """Return why a product serves none of the lines of a part, or nothing where it serves one or there is none.

    Args:
        lines: of draws, of any parts, not pieced.
        by: the kinds of shortfall that are looked for.
    """
    if part is Part.PRIMER:
        return unknown_coverage(product) if product.primer_sqft_per_gal is None else ""
    why = ""
    for line in lines:
        if line.rule.part is part:
            falls = [fall for fall in shortfalls_of(line, product) if issubclass(fall.error, tuple(by))]
            if not falls:
                return ""
            why = why or falls[0].fault.detail
    return why


def why_unfit_for(detail: DetailFacts, part: Part, product: ProductFacts) -> str:
    """Return why a product serves no opening with this detail, or nothing where it can serve one.

    >>> from materials.calc.product import Measure
    >>> from openings.calc.starting_details import STARTING_DETAILS
    >>> tape = ProductFacts(code="tape-9", name="9 in tape", measure=Measure.LENGTH, package="roll",
    ...                     package_quantity=Decimal(900), width_in=Decimal(9))
    >>> why_unfit_for(STARTING_DETAILS["flange over, wrap after"], Part.SILL_STRIP, tape)
    'sill strip is to be 1\\' 0" wide, but 9 in tape is only 9" wide'
    """
    of_the_detail = (MeasureMismatch, OutOfRange if part in BEADS else StripWiderThanRoll)
    return why_unfit(part, product, drawn_by(detail), by=of_the_detail)


def why_unfit_as_standard(part: Part, product: ProductFacts, details: Iterable[DetailFacts]) -> str:
    """Return why a product serves no detail of the shop as its standard, or nothing where it serves one.

    A standard strip has the very width that a detail asks for: nobody cuts every strip of a roll lengthwise. Where
    there is no detail yet, it is held against what any detail may ask for.
    """
    if part in STRIPS:
        return _why_no_standard_strip(part, product, sorted({detail.strip_width_in for detail in details}))
    if part in BEADS:
        return _why_no_standard_bead(part, product, sorted({getattr(detail, BEADS[part]) for detail in details}))
    if part in (Part.PAN_MEMBRANE, Part.HEAD_MEMBRANE):
        lines = [line for detail in details for line in drawn_by(detail)]
        return why_unfit(part, product, lines, by=(StripWiderThanRoll,))
    return why_unfit(part, product, ()) if part is Part.PRIMER else ""


def _why_no_standard_bead(part: Part, product: ProductFacts, sizes_in: list[Decimal]) -> str:
    least_in, most_in = product.serves_from_in, product.serves_up_to_in
    if not sizes_in or any(
        (least_in is None or least_in <= size_in) and (most_in is None or size_in <= most_in) for size_in in sizes_in
    ):
        return ""
    serves = f"{product.name} serves {between(least_in, most_in)}"
    return f"{serves}, but the details ask for {part} of {_listed(sizes_in)}"


def _why_no_standard_strip(part: Part, product: ProductFacts, widths_in: list[Decimal]) -> str:
    if product.width_in is None:
        return f"need info: the width of {product.name}; a standard {part} has the width that the detail asks for"
    wide = f"{product.name} is {_listed([product.width_in])} wide"
    if widths_in and product.width_in not in widths_in:
        return (
            f"{wide}, but the details ask for {part} of {_listed(widths_in)}; a detail of its own may take a wider roll"
        )
    if product.width_in < LEAST_STRIP_WIDTH_IN:
        return f'{wide}, but no detail asks for {part} of less than {LEAST_STRIP_WIDTH_IN}"'
    return ""


def _listed(sizes_in: Iterable[Decimal]) -> str:
    return " and ".join(US.say(size_in) for size_in in sizes_in)
