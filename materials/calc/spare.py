"""What is taken beyond the exact need, as the company sets it by product: in percent, or in pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from jobs.calc.say import counted
from materials.calc.packs import packages_for
from materials.calc.product import Measure, ProductFacts
from openings.calc.figures import ceil_ratio, half_up, plain
from openings.calc.units import US, Units

NOTHING = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spare:
    """What is taken beyond the exact need: how much, the packages that it takes more, and why, in words."""

    quantity: Decimal = NOTHING
    packages: int = 0
    reason: str = ""


NO_SPARE = Spare()


def has_spare(product: ProductFacts) -> bool:
    """Return whether the company takes more of a product than is needed."""
    return bool(product.spare_pct or product.spare_pieces)


def spare_share(product: ProductFacts, need: Decimal) -> Decimal:
    """Return the spare in percent of a need, unrounded: what one opening adds to it.

    Spare in pieces is taken once a load and not by opening, so it adds nothing here.
    """
    return need * product.spare_pct / 100


def spare_rule(product: ProductFacts) -> str:
    """Return what the company takes more of a product, as half a sentence; nothing where it takes none."""
    if product.spare_pieces:
        what = "more cut" if product.measure is Measure.LENGTH else "more piece"
        return f"{counted(product.spare_pieces, what)} a truck"
    return f"{plain(product.spare_pct)}%" if product.spare_pct else ""


def spare_of(product: ProductFacts, need: Decimal, *, net: Decimal | None = None, units: Units = US) -> Spare:
    """Return the spare of what is counted or comes in volumes, packed together with the need.

    >>> nails = ProductFacts(code="n", name="Nails", measure=Measure.COUNT, package="box",
    ...                      package_quantity=Decimal(100), spare_pct=Decimal(5))
    >>> spare = spare_of(nails, Decimal(190))
    >>> spare.quantity, spare.packages, spare.reason
    (Decimal('10'), 0, '5% of 190 is 10 more')

    Percent of pieces are rounded up to whole pieces once.

    Args:
        need: exact, in the measure of the product.
        net: the need without what is in it for waste, of which percent are taken, so that waste counts once.

    Source:
        Our choice; how much is company data.
    """
    if not has_spare(product):
        return NO_SPARE
    quantity, reason = _spare(
        product, need if net is None else net, is_net=net is not None and net != need, units=units
    )
    packages = packages_for(need + quantity, product) - packages_for(need, product)
    return Spare(quantity=quantity, packages=packages, reason=reason)


def _spare(product: ProductFacts, base: Decimal, *, is_net: bool, units: Units) -> tuple[Decimal, str]:
    if product.spare_pieces:
        return Decimal(product.spare_pieces), f"{product.spare_pieces} more than needed"
    pct, share = plain(product.spare_pct), spare_share(product, base)
    if product.measure is Measure.COUNT:
        pieces = share.to_integral_value(ROUND_CEILING)
        return pieces, f"{pct}% of {plain(base)} is {plain(pieces)} more"
    waste = ", the waste that the detail adds left out" if is_net else ""
    return half_up(share), f"{pct}% of {units.say(base, 'cuin')}{waste}"


def spare_of_rolls(
    product: ProductFacts, need_in: Decimal, *, longest_in: Decimal, ends_in: Sequence[Decimal], units: Units = US
) -> Spare:
    """Return the spare of what is cut from rolls or lengths, beside a plan that cuts the need.

    Percent are taken of the length needed; pieces are that many more cuts of the longest piece of the product. What
    the plan leaves on its rolls goes along and counts: for percent the ends that are worth keeping, for pieces those
    on which one fits. The rest is taken in whole packages, which stay closed until they are wanted.

    Args:
        longest_in: the longest piece that is cut.
        ends_in: what the plan leaves of each roll and remnant.

    Source:
        Our choice; how much is company data.
    """
    if not has_spare(product):
        return NO_SPARE
    if product.spare_pieces:
        quantity = product.spare_pieces * longest_in
        fitting = sum(_fitting(end_in, longest_in, product.trim_in) for end_in in ends_in)
        a_package = max(_fitting(product.package_quantity, longest_in, product.trim_in), 1)
        packages = ceil_ratio(Decimal(max(product.spare_pieces - fitting, 0)), Decimal(a_package))
        said = f"{counted(product.spare_pieces, 'more cut')} of the longest piece, {units.say(longest_in)}"
    else:
        quantity = half_up(spare_share(product, need_in))
        held_in = sum((end_in for end_in in ends_in if end_in >= product.shortest_remnant_in), NOTHING)
        packages = ceil_ratio(max(quantity - held_in, NOTHING), product.package_quantity)
        said = f"{plain(product.spare_pct)}% of {units.say(need_in)} is {units.say(quantity)}"
    more = f"{counted(packages, product.package)} more" if packages else "what the cuts leave over holds it"
    return Spare(quantity=quantity, packages=packages, reason=f"{said}; {more}")


def _fitting(length_in: Decimal, piece_in: Decimal, trim_in: Decimal) -> int:
    """Return how many pieces are cut from a length: the last cut may end it, so it has room for one trim more."""
    return int((length_in + trim_in) // (piece_in + trim_in))
