"""Roll cuts by themselves: planned from what was asked, for no opening of ours."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_UP, Decimal
from functools import partial
from itertools import zip_longest

from jobs.errors import BadInput, Fault
from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import KEEP_IN, NO_TRIM, Cut, CutPlan, Remnant, plan_cuts
from materials.calc.supply import pieces_of
from materials.errors import LapTooLong, NothingToCutFrom, PieceTooLong
from openings.calc.figures import FIVE_PLACES, plain
from openings.calc.units import CONVERSIONS, THREE_PLACES, US, Units

MOST_PIECES = 5000
"""So many pieces are planned at once (our choice): more than a day of the largest site takes."""

FAULTS_TOLD = 5
_MM = CONVERSIONS["in"]


@dataclass(frozen=True, slots=True)
class AlikePieces:
    """Pieces of one length and for one purpose, as one row asks for them."""

    length_in: Decimal
    count: int
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedCuts:
    """A plan, whether its rolls have prices, and how long it took."""

    plan: CutPlan
    has_prices: bool
    seconds: float

    @property
    def gap(self) -> int:
        """How many new rolls the plan opens beyond the bound."""
        return self.plan.rolls_new - self.plan.rolls_lower_bound

    @property
    def cost(self) -> Decimal | None:
        """What the new rolls cost, None without prices."""
        return self.plan.cost if self.has_prices else None

    @property
    def cost_lower_bound(self) -> Decimal | None:
        """What they cost at least, None without prices."""
        return self.plan.cost_lower_bound if self.has_prices else None


def time_limit(seconds: Decimal | float) -> Callable[[], bool]:
    """Return what says whether so many seconds have passed since now."""
    end = time.perf_counter() + float(seconds)
    return lambda: time.perf_counter() >= end


def cuts_asked(
    *,
    pieces: Sequence[AlikePieces],
    time_limit_s: Decimal | float,
    roll_lengths_in: Sequence[Decimal] = (),
    roll_prices: Sequence[Decimal] = (),
    remnants_in: Sequence[Decimal] = (),
    trim_in: Decimal = NO_TRIM,
    shortest_remnant_in: Decimal = KEEP_IN,
    lap_in: Decimal | None = None,
    units: Units = US,
) -> PlannedCuts:
    """Return the roll cuts of the pieces. No query.

    Args:
        roll_prices: one for each roll length, or none.
        lap_in: how far the parts of a piece longer than the longest new roll lap; None refuses such a piece.
        units: in which the lengths were given; in them they add up exactly.

    Raises:
        PieceTooLong: a piece is longer than every roll and remnant, and there is no lap.
        LapTooLong: laps would take more than half of each part.
        BadInput: spliced, there are more pieces than are planned at once.
        NothingToCutFrom: there are no new rolls, and the remnants do not hold everything.
    """
    started = time.perf_counter()
    rolls = [_measured(length_in, units) for length_in in roll_lengths_in]
    remnants = [_measured(length_in, units) for length_in in remnants_in]
    lap = None if lap_in is None else _measured(lap_in, units)
    try:
        plan = plan_cuts(
            _cuts_of(pieces, rolls=rolls, remnants=remnants, lap=lap, units=units),
            roll_lengths=[RollLength(*roll) for roll in zip_longest(rolls, roll_prices)],
            remnants=[Remnant(length, str(number)) for number, length in enumerate(remnants, 1)],
            trim_in=_measured(trim_in, units),
            keep_in=_measured(shortest_remnant_in, units),
            is_over=time_limit(time_limit_s),
            say=partial(_say, units=units),
        )
    except NothingToCutFrom as error:
        faults = [Fault(field="roll_lengths_in", detail=error.detail)]
        raise NothingToCutFrom(error.detail, faults=faults) from None
    seconds = round(time.perf_counter() - started, 6)
    return PlannedCuts(plan=_in_inches(plan, units), has_prices=bool(roll_prices), seconds=seconds)


def _measured(length_in: Decimal, units: Units) -> Decimal:
    """Return a length as it was given: four pieces of 1000 mm fill 4000 mm, but not so in inches of five places."""
    return _MM.to_metric(length_in) if units.is_metric else length_in


def _inches(length: Decimal, units: Units) -> Decimal:
    return _MM.from_metric(length) if units.is_metric else length


def _in_inches(plan: CutPlan, units: Units) -> CutPlan:
    """Return a plan in inches that was made in `units`."""
    rolls = (
        replace(
            roll,
            length_in=_inches(roll.length_in, units),
            cuts=tuple(Cut(_inches(cut.length_in, units), cut.label) for cut in roll.cuts),
            left_in=_inches(roll.left_in, units),
        )
        for roll in plan.rolls
    )
    return replace(plan, rolls=tuple(rolls))


def _cuts_of(
    pieces: Sequence[AlikePieces],
    *,
    rolls: Sequence[Decimal],
    remnants: Sequence[Decimal],
    lap: Decimal | None,
    units: Units,
) -> list[Cut]:
    """Return the cuts, spliced where a piece is longer than the longest new roll."""
    lengths = [_measured(piece.length_in, units) for piece in pieces]
    roll = max(rolls, default=None)
    if roll is None:
        parts = [1] * len(pieces)
    elif lap is None:
        _require_room(pieces, lengths, longest=max(*rolls, *remnants, roll), units=units)
        parts = [1] * len(pieces)
    else:
        _require_short_lap(lengths, roll=roll, lap=lap, units=units)
        parts = [pieces_of(one, roll_in=roll, lap_in=lap) if one > roll else 1 for one in lengths]
        _require_few(pieces, parts)
    rows = zip(range(1, len(pieces) + 1), pieces, lengths, parts, strict=True)
    return [
        cut for row, piece, length, n in rows for cut in _parts(_place(piece, row), length, n, lap, units) * piece.count
    ]


def _parts(label: str, length: Decimal, parts: int, lap: Decimal | None, units: Units) -> list[Cut]:
    """Return one piece as the equal parts into which it goes, rounded up so that no lap is short."""
    if parts == 1 or lap is None:
        return [Cut(length, label)]
    part = (length + (parts - 1) * lap) / parts
    part = part.quantize(THREE_PLACES if units.is_metric else FIVE_PLACES, rounding=ROUND_UP)
    return [Cut(part, f"{label}, part {number} of {parts}") for number in range(1, parts + 1)]


def _place(piece: AlikePieces, row: int) -> str:
    return piece.label or f"piece {row}"


def _require_room(pieces: Sequence[AlikePieces], lengths: Sequence[Decimal], *, longest: Decimal, units: Units) -> None:
    faults = [
        Fault(
            field=f"pieces.{row - 1}.length_in",
            value=plain(piece.length_in),
            detail=(
                f"{_place(piece, row)} is {_say(length, units)} long, and the longest roll {_say(longest, units)}; "
                "give a roll that is long enough, or a lap to cut it in parts"
            ),
        )
        for row, piece, length in zip(range(1, len(pieces) + 1), pieces, lengths, strict=True)
        if length > longest
    ]
    if faults:
        raise PieceTooLong("; ".join(fault.detail for fault in faults[:FAULTS_TOLD]), faults=faults)


def _require_short_lap(lengths: Sequence[Decimal], *, roll: Decimal, lap: Decimal, units: Units) -> None:
    if max(lengths) > roll and 2 * lap > roll:
        sentence = (
            f"{_say(max(lengths), units)} are to be cut in parts from rolls of {_say(roll, units)}; a lap of "
            f"{_say(lap, units)} is more than half of a roll; give at most {_say(roll / 2, units)}"
        )
        raise LapTooLong(sentence, faults=[Fault(field="lap_in", value=plain(_inches(lap, units)), detail=sentence)])


def _require_few(pieces: Sequence[AlikePieces], parts: Sequence[int]) -> None:
    total = sum(piece.count * n for piece, n in zip(pieces, parts, strict=True))
    if total > MOST_PIECES:
        sentence = f"{total:,} pieces with the parts of long ones; at most {MOST_PIECES:,} are planned at once"
        raise BadInput.of("pieces", str(total), sentence)


def _say(length: Decimal, units: Units) -> str:
    return f"{plain(length)} {units.per('in')}" if units.is_metric else units.say(length)
