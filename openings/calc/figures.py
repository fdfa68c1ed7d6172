"""How figures are rounded and written in a reason."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

FIVE_PLACES = Decimal("0.00001")
TWO_PLACES = Decimal("0.01")


def half_up(figure: Decimal, *, to: Decimal = FIVE_PLACES) -> Decimal:
    """Return the figure rounded half-up to the places of `to`: for what is shown or stored, once and last."""
    return figure.quantize(to, rounding=ROUND_HALF_UP)


def ceil_ratio(length: Decimal, step: Decimal) -> int:
    """Return how many steps (> 0) cover the length (>= 0): the quotient, rounded up."""
    whole, rest = divmod(length, step)
    return int(whole) + (rest > 0)


def places_of(figure: Decimal) -> int:
    """Return how many decimal places the figure needs.

    >>> places_of(Decimal("36.50")), places_of(Decimal("1E+1"))
    (1, 0)
    """
    exponent = figure.normalize().as_tuple().exponent
    return max(-exponent, 0) if isinstance(exponent, int) else 0


def plain(figure: Decimal | int | str) -> str:
    """Return the figure without padding or exponent, at most five places; text as it stands.

    >>> plain(Decimal("36.50000"))
    '36.5'
    >>> plain(Decimal("1E+1"))
    '10'
    """
    if isinstance(figure, Decimal):
        text = f"{half_up(figure):f}"
        return text.rstrip("0").rstrip(".")
    return str(figure)


def brief(figure: Decimal) -> str:
    """Return the figure with at most two places, for volumes, feet and hours in a sentence.

    >>> brief(Decimal("43.918"))
    '43.92'
    """
    return plain(half_up(figure, to=TWO_PLACES))
