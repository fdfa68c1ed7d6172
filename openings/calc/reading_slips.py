"""Readings that no opening can have: a slip of the tape or of the pen, caught where it is entered."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal

from jobs.errors import Fault
from openings.calc.figures import plain
from openings.calc.limits import OPENING_AGREES_WITHIN_IN, true_diagonal_in
from openings.calc.readings import DEVIATION_NAMES, TITLES, Readings
from openings.calc.tape import format_length
from openings.calc.units import US, Units
from openings.errors import BadLength

READING_OFF_BY_IN = OPENING_AGREES_WITHIN_IN
"""An honest reading may be off by as much as three readings of one side may differ: read to 1/16 in, with a tape that
is bent into a corner and sags (our choice)."""

MAX_DEVIATION_IN = Decimal(12)
"""A rough opening that is further out of true is none; the reading belongs in another field (our choice)."""

_SIXTEENTH = Decimal(16)
_WHOLE_MM = Decimal(1)


def require_no_slips(readings: Readings, *, units: Units = US) -> None:
    """Refuse readings that no opening can have. What is only out of tolerance passes.

    Args:
        units: in which measures the refusal is said.

    Raises:
        BadLength: a diagonal cannot be one of these widths and heights, or a deviation is too large to be one.
    """
    if faults := (*_deviations(readings, units), *_diagonals(readings, units)):
        raise BadLength("; ".join(fault.detail for fault in faults), faults=faults)


def diagonal_bounds_in(readings: Readings) -> tuple[Decimal, Decimal]:
    """Return the least and the most that the root mean square of the two diagonals can be.

    The squares of the diagonals of a parallelogram are together those of its four sides: racking makes one diagonal
    longer and the other shorter and leaves that sum. Of sides that taper, the smallest and the largest of the three
    readings bound it. Each reading may be off by `READING_OFF_BY_IN`.

    Source:
        Parallelogram law, d1² + d2² = 2 (w² + h²): from Euclid, Elements II.12 and II.13.
    """
    off_in = READING_OFF_BY_IN
    shortest = [max(Decimal(0), min(sides_in) - off_in) for sides_in in (readings.widths_in, readings.heights_in)]
    longest = [max(sides_in) + off_in for sides_in in (readings.widths_in, readings.heights_in)]
    return true_diagonal_in(*shortest) - off_in, true_diagonal_in(*longest) + off_in


def _deviations(readings: Readings, units: Units) -> Iterator[Fault]:
    for name in DEVIATION_NAMES:
        reading_in = getattr(readings, name)
        if reading_in is not None and reading_in > MAX_DEVIATION_IN:
            sentence = (
                f"{TITLES[name]}: {_said(reading_in, units)} is too much; at most {_said(MAX_DEVIATION_IN, units)} can "
                "be entered. Leave empty what was not measured"
            )
            yield Fault(field=name, value=plain(reading_in), detail=sentence)


def _diagonals(readings: Readings, units: Units) -> Iterator[Fault]:
    """Yield a fault for each diagonal that the measured sides do not allow, with what they do.

    Source:
        A side of a triangle is shorter than the other two together: Euclid, Elements I.20.
    """
    rising_in, falling_in = readings.diagonal_rising_in, readings.diagonal_falling_in
    least_in, most_in = diagonal_bounds_in(readings)
    is_far = not least_in <= _root_mean_square_in(rising_in, falling_in) <= most_in
    for name, reading_in, other_in in (
        ("diagonal_rising_in", rising_in, falling_in),
        ("diagonal_falling_in", falling_in, rising_in),
    ):
        shortest_in, longest_in = _triangle_in(readings)
        if not shortest_in < reading_in < longest_in:
            why = f"no diagonal of these sides is {'as long' if reading_in >= longest_in else 'as short'} as that"
        elif is_far and not least_in <= reading_in <= most_in:
            why = "with the other diagonal it does not close on these sides"
        else:
            continue
        yield Fault(
            field=name,
            value=plain(reading_in),
            detail=(
                f"{TITLES[name]}: {_said(reading_in, units)}, but {why} ({_sides_said(readings, units)}); about "
                f"{_said(_right_in(readings, other_in), units)} would be right. Measure again, from corner to corner"
            ),
        )


def _triangle_in(readings: Readings) -> tuple[Decimal, Decimal]:
    """Return between which lengths the third side of a triangle of width and height lies."""
    widths_in, heights_in, off_in = readings.widths_in, readings.heights_in, 2 * READING_OFF_BY_IN
    apart_in = max(min(widths_in) - max(heights_in), min(heights_in) - max(widths_in), Decimal(0))
    return max(Decimal(0), apart_in - off_in), max(widths_in) + max(heights_in) + off_in


def _right_in(readings: Readings, other_in: Decimal) -> Decimal:
    """Return the right length of a diagonal by the other one, or of a true rectangle if the other is wrong too."""
    true_in = true_diagonal_in(_middle(readings.widths_in), _middle(readings.heights_in))
    least_in, most_in = diagonal_bounds_in(readings)
    if not least_in <= other_in <= most_in:
        return true_in
    return (2 * true_in**2 - other_in**2).sqrt()


def _root_mean_square_in(first_in: Decimal, second_in: Decimal) -> Decimal:
    return ((first_in**2 + second_in**2) / 2).sqrt()


def _middle(sides_in: tuple[Decimal, ...]) -> Decimal:
    return (min(sides_in) + max(sides_in)) / 2


def _sides_said(readings: Readings, units: Units) -> str:
    widths, heights = (
        " to ".join(dict.fromkeys(_said(side_in, units) for side_in in (min(sides_in), max(sides_in))))
        for sides_in in (readings.widths_in, readings.heights_in)
    )
    return f"width {widths}, height {heights}"


def _said(length_in: Decimal, units: Units) -> str:
    """Return a length as a tape shows it: to the sixteenth of an inch, or to the millimeter."""
    if units.is_metric:
        return f"{(length_in * Decimal('25.4')).quantize(_WHOLE_MM, ROUND_HALF_UP)} mm"
    sixteenths = (length_in * _SIXTEENTH).to_integral_value(ROUND_HALF_UP)
    return format_length(sixteenths / _SIXTEENTH)
