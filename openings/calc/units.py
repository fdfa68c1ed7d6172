"""Measures as people ask for them: the trade's own, or metric.

Everything inside is in inches, square feet, cubic inches, pounds, pounds a square foot and degrees Fahrenheit.
Sentences and JSON can be metric instead. A length in inches is said as a tape shows it.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol

from openings.calc.figures import TWO_PLACES, half_up, plain
from openings.calc.tape import format_length

THREE_PLACES = Decimal("0.001")
_MARKS_AN_INCH = 32


@dataclass(frozen=True, slots=True)
class Conversion:
    """How one measure is said in metric: times `factor`, `label` behind it, `suffix` at the end of a name.

    Metric figures are rounded to `places`, coarser than the five places of an inside figure, so that what was
    given in millimeters comes back as it was given.
    """

    suffix: str
    label: str
    factor: Decimal
    places: Decimal = TWO_PLACES
    offset: Decimal = Decimal(0)

    def to_metric(self, figure: Decimal) -> Decimal:
        """Return the figure in metric, rounded half-up to `places`."""
        return half_up((figure - self.offset) * self.factor, to=self.places)

    def from_metric(self, figure: Decimal) -> Decimal:
        """Return the metric figure in the trade's measure, to five places."""
        return half_up(figure / self.factor + self.offset)


_POUND_KG = Decimal("0.45359237")
_FOOT_M = Decimal("0.3048")
_GRAVITY = Decimal("9.80665")

CONVERSIONS: dict[str, Conversion] = {
    "in": Conversion("mm", "mm", Decimal("25.4"), THREE_PLACES),
    "ft": Conversion("m", "m", _FOOT_M, THREE_PLACES),
    "sqin": Conversion("sqmm", "mm²", Decimal("25.4") ** 2),
    "sqft": Conversion("sqm", "m²", _FOOT_M**2, THREE_PLACES),
    "cuin": Conversion("ml", "ml", Decimal("2.54") ** 3),
    "lb": Conversion("kg", "kg", _POUND_KG),
    "psf": Conversion("pa", "Pa", _POUND_KG * _GRAVITY / _FOOT_M**2),
    "lb_per_ft": Conversion("kg_per_m", "kg/m", _POUND_KG / _FOOT_M, THREE_PLACES),
    "lb_per_in": Conversion("n_per_mm", "N/mm", _POUND_KG * _GRAVITY / Decimal("25.4"), THREE_PLACES),
    "f": Conversion("c", "°C", Decimal(5) / 9, Decimal("0.1"), offset=Decimal(32)),
}
"""By the end of a name. Inch of 25.4 mm, pound of 0.45359237 kg: NIST Handbook 44, appendix C; standard gravity
9.80665 m/s2 and degrees: NIST SP 811, appendix B."""

_LABELS = {
    "in": "in", "ft": "ft", "sqin": "sq in", "sqft": "sq ft", "cuin": "cu in", "lb": "lb", "psf": "psf",
    "lb_per_ft": "lb/ft", "lb_per_in": "lb/in", "f": "°F",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Units:
    """In which measures a sentence is said."""

    name: str
    is_metric: bool

    def bare(self, figure: Decimal, measure: str = "in") -> str:
        """Return the figure without its unit, for the middle of a sum; a tape writes each length whole.

        >>> US.bare(Decimal("36.5")), METRIC.bare(Decimal(36))
        ('3\\' 0 1/2"', '914.4')
        """
        return _on_tape(figure) if measure == "in" and not self.is_metric else self.number(figure, measure)

    def number(self, figure: Decimal, measure: str = "in") -> str:
        """Return the figure as a decimal number, for a formula that has its own.

        >>> US.number(Decimal("12.5")), METRIC.number(Decimal(10))
        ('12.5', '254')
        """
        return plain(CONVERSIONS[measure].to_metric(figure) if self.is_metric else figure)

    def say(self, figure: Decimal, measure: str = "in") -> str:
        """Return the figure with its unit: inches as a tape shows them, all else to two places.

        Args:
            measure: the end of the figure's name: in, ft, sqin, sqft, cuin, lb, psf, lb_per_ft, lb_per_in, f.

        >>> US.say(Decimal("36.5")), METRIC.say(Decimal("36.5"))
        ('3\\' 0 1/2"', '927.1 mm')
        >>> US.say(Decimal("43.918"), "lb"), METRIC.say(Decimal("43.918"), "lb")
        ('43.92 lb', '19.92 kg')
        """
        if self.is_metric:
            conversion = CONVERSIONS[measure]
            return f"{plain(conversion.to_metric(figure))} {conversion.label}"
        if measure == "in":
            return _on_tape(figure)
        return f"{plain(half_up(figure, to=TWO_PLACES))} {_LABELS[measure]}"

    def per(self, measure: str) -> str:
        """Return the unit alone, as it stands behind a figure."""
        return CONVERSIONS[measure].label if self.is_metric else _LABELS[measure]


def _on_tape(inches: Decimal) -> str:
    """Return inches as a tape shows them, and say where it shows no such mark.

    >>> _on_tape(Decimal("54.02362")), _on_tape(Decimal("0.2362"))
    ('about 4\\' 6 1/32"', '0.236 in')
    """
    marks = inches * _MARKS_AN_INCH
    if marks == marks.to_integral_value():
        return format_length(inches)
    return f"about {format_length(inches)}" if abs(inches) >= 1 else f"{plain(half_up(inches, to=THREE_PLACES))} in"


class Reasoned(Protocol):
    """A line that says why in the units asked for."""

    def reason_in(self, units: Units) -> str: ...


US = Units("us", is_metric=False)
METRIC = Units("metric", is_metric=True)

BY_NAME = {units.name: units for units in (US, METRIC)}
