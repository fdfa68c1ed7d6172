"""What size to order a unit in that goes into an existing frame."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.errors import Fault
from openings.calc.limits import SMALL_DIAGONAL_LIMIT_IN
from openings.calc.readings import READING_NAMES, Readings
from openings.calc.units import US, Units
from openings.errors import BadLength

INSERT_SHORT_IN = Decimal("0.25")
EXPANDER_SHORT_IN = Decimal("0.75")

SOURCE = "Polaris installation page"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderSize:
    """The size to order, and how it came about. The maker's own order sheet goes before it."""

    width_in: Decimal
    height_in: Decimal
    reason: str
    source: str


def insert_order_size(readings: Readings, *, has_head_expander: bool, units: Units = US) -> OrderSize:
    """Return the size of a replacement unit that goes into the frame that was measured.

    Raises:
        BadLength: a side is so small that nothing is left to order.

    Source:
        Smallest of three widths and heights less 1/4 in; of the heights less 3/4 in under a head expander; narrower
        where the diagonals differ by more than 1/8 in: Polaris installation page.
    """
    height_short_in = EXPANDER_SHORT_IN if has_head_expander else INSERT_SHORT_IN
    width_in = _ordered_in(readings, READING_NAMES[:3], INSERT_SHORT_IN)
    height_in = _ordered_in(readings, READING_NAMES[3:6], height_short_in)
    sums = (
        f"smallest of three widths {units.bare(min(readings.widths_in))} − {units.say(INSERT_SHORT_IN)} = "
        f"{units.say(width_in)}",
        f"smallest of three heights {units.bare(min(readings.heights_in))} − {units.say(height_short_in)} = "
        f"{units.say(height_in)}{', with head expander' if has_head_expander else ''}",
        *_out_of_square(readings, units),
    )
    return OrderSize(width_in=width_in, height_in=height_in, reason="; ".join(sums), source=SOURCE)


def _ordered_in(readings: Readings, names: Sequence[str], short_in: Decimal) -> Decimal:
    smallest = min(names, key=lambda name: Decimal(getattr(readings, name)))
    smallest_in = Decimal(getattr(readings, smallest))
    if smallest_in > short_in:
        return smallest_in - short_in
    sentence = f"{smallest} is {smallest_in} in; {short_in} in off it leaves nothing to order"
    raise BadLength(sentence, faults=[Fault(field=smallest, value=str(smallest_in), detail=sentence)])


def _out_of_square(readings: Readings, units: Units) -> tuple[str, ...]:
    """Return the warning where the diagonals differ too much; the source leaves open how much narrower."""
    difference_in = abs(readings.diagonal_rising_in - readings.diagonal_falling_in)
    if difference_in <= SMALL_DIAGONAL_LIMIT_IN:
        return ()
    limit = units.say(SMALL_DIAGONAL_LIMIT_IN)
    return (
        f"the diagonals differ by {units.say(difference_in)}, over {limit}: order narrower, ask the maker by how much",
    )
