"""What the equation says at one end of a lift: each multiplier with its reason, and what ends the equation."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from openings.calc.figures import half_up, plain
from openings.calc.lifting_equation import multipliers
from openings.calc.lifting_equation.duration import INFREQUENT_PER_MIN, LIMITS_H, column_for
from openings.calc.lifting_equation.multipliers import ASYMMETRY_MOST_DEG, ASYMMETRY_SLOPE, IN_LB, TRAVEL_BASE
from openings.calc.lifting_equation.task import Condition, Coupling, Hands, LiftTask, Mode
from openings.calc.units import Units

ORIGIN, DESTINATION = "origin", "destination"

ONE_PLACE = Decimal("0.1")
FOUR_PLACES = Decimal("0.0001")

FASTEST_IN = Decimal(30)
"""In a second."""

COLDEST_F, WARMEST_F = Decimal(66), Decimal(79)

LONGEST_H = LIMITS_H[-1][1]


class Multiplier(NamedTuple):
    """One factor of the equation. `limit` says why it is 0, and so where the equation ends."""

    symbol: str
    value: Decimal
    reason: str
    limit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """One end of a lift: LC, HM, VM, DM, AM, FM and CM in this order, and what they come to.

    `rwl_lb` is what one person should lift here, `li` the load over it; both are None where the equation ends,
    and `limits` says where.
    """

    place: str
    multipliers: tuple[Multiplier, ...]
    rwl_lb: Decimal | None
    li: Decimal | None
    limits: tuple[str, ...]


def ends_of(task: LiftTask, *, units: Units) -> tuple[End, ...]:
    """Return the origin and, where it counts, the destination."""
    ends = [_end(ORIGIN, task.origin, task, units)]
    if task.destination is not None:
        ends.append(_end(DESTINATION, task.destination, task, units))
    return tuple(ends)


def lifting_index(load_lb: Decimal, rwl_lb: Decimal, mode: Mode) -> Decimal:
    """Return LI: the load over what should be lifted."""
    index = load_lb / rwl_lb
    return half_up(index, to=ONE_PLACE) if mode is Mode.PRINTED else index


def product_lb(factors: Iterable[Multiplier], mode: Mode) -> Decimal:
    """Return the product of the factors."""
    product = Decimal(1)
    for factor in factors:
        product *= factor.value
    return half_up(product, to=ONE_PLACE) if mode is Mode.PRINTED else product


def shown(multiplier: Decimal) -> str:
    """Return a multiplier for a sum, at most four places."""
    return plain(half_up(multiplier, to=FOUR_PLACES))


def _end(place: str, hands: Hands, task: LiftTask, units: Units) -> End:
    factors = (
        Multiplier("LC", IN_LB.load, f"what one person lifts at best, {units.say(IN_LB.load, 'lb')}"),
        _horizontal(place, hands, task.mode, units),
        _vertical(place, hands, task.mode, units),
        _distance(task, units),
        _asymmetry(place, hands, task.mode),
        _frequency(task, units),
        _coupling(hands, units),
    )
    limits = (*(factor.limit for factor in factors if factor.limit), *_stated(task.conditions, units))
    rwl_lb = None if limits else product_lb(factors, task.mode)
    return End(
        place=place,
        multipliers=factors,
        rwl_lb=rwl_lb,
        li=None if rwl_lb is None else lifting_index(task.load_lb, rwl_lb, task.mode),
        limits=limits,
    )


def _horizontal(place: str, hands: Hands, mode: Mode, units: Units) -> Multiplier:
    reach_in = hands.horizontal_in
    said = f"hands {units.say(reach_in)} from the ankles"
    if reach_in > IN_LB.reach_most:
        limit = f"{said} at the {place}: the equation ends at {units.say(IN_LB.reach_most)}"
        return Multiplier("HM", multipliers.NONE, said, limit)
    if reach_in < IN_LB.reach_least:
        said += f", counted as {units.say(IN_LB.reach_least)}"
    value = (multipliers.printed_horizontal if mode is Mode.PRINTED else multipliers.horizontal)(reach_in)
    counted_in = max(reach_in, IN_LB.reach_least)
    sum_ = f"{units.number(IN_LB.reach_least)} / {units.number(counted_in)} = {shown(value)}"
    return Multiplier("HM", value, f"{said}: {sum_}")


def _vertical(place: str, hands: Hands, mode: Mode, units: Units) -> Multiplier:
    height_in = hands.vertical_in
    said = f"hands {units.say(height_in)} above the floor"
    value = multipliers.vertical(height_in)
    if not value:
        limit = f"{said} at the {place}: the equation holds from the floor up to {units.say(IN_LB.height_most)}"
        return Multiplier("VM", value, said, limit)
    value = _rounded(value, mode)
    off = units.say(abs(height_in - IN_LB.height_best))
    return Multiplier(
        "VM",
        value,
        f"{said}, {off} off the best height of {units.say(IN_LB.height_best)}, "
        f"{plain(100 * IN_LB.height_slope)}% less for each {units.say(multipliers.ONE)}: {shown(value)}",
    )


def _distance(task: LiftTask, units: Units) -> Multiplier:
    travel_in = task.distance_in
    said = f"hands travel {units.say(travel_in)} up or down"
    if travel_in > IN_LB.travel_most:
        limit = f"{said}: the equation ends at {units.say(IN_LB.travel_most)}"
        return Multiplier("DM", multipliers.NONE, said, limit)
    if travel_in < IN_LB.travel_least:
        said += f", counted as {units.say(IN_LB.travel_least)}"
    value = (multipliers.printed_distance if task.mode is Mode.PRINTED else multipliers.distance)(travel_in)
    counted_in = max(travel_in, IN_LB.travel_least)
    sum_ = f"{TRAVEL_BASE} + {units.number(IN_LB.travel_slope)} / {units.number(counted_in)} = {shown(value)}"
    return Multiplier("DM", value, f"{said}: {sum_}")


def _asymmetry(place: str, hands: Hands, mode: Mode) -> Multiplier:
    angle_deg = hands.asymmetry_deg
    said = f"load {plain(angle_deg)}° off straight ahead"
    value = multipliers.asymmetry(angle_deg)
    if not value:
        return Multiplier("AM", value, said, f"{said} at the {place}: the equation ends at {ASYMMETRY_MOST_DEG}°")
    value = _rounded(value, mode)
    return Multiplier("AM", value, f"{said}: 1 − {ASYMMETRY_SLOPE} × {plain(angle_deg)} = {shown(value)}")


def _frequency(task: LiftTask, units: Units) -> Multiplier:
    pace, height_in = task.lifts_per_min, task.origin.vertical_in
    column = column_for(lifts_per_min=pace, duration_h=task.duration_h)
    hours = f"{plain(task.duration_h)} h"
    if column is None:
        said = f"lifted for {hours}"
        return Multiplier("FM", multipliers.NONE, said, f"{said}: the equation ends at {LONGEST_H} h")
    said = f"{plain(pace)} lifts a minute for {hours}, hands {units.say(height_in)} above the floor at the origin"
    value = multipliers.frequency(pace, column, height_in)
    if not value:
        return Multiplier("FM", value, said, f"{said}: more than table 5 of the manual allows")
    if pace < INFREQUENT_PER_MIN:
        said += ", so seldom that the 1-hour column counts"
    elif pace < multipliers.FREQUENCY_LEAST:
        said += f", counted as {multipliers.FREQUENCY_LEAST} a minute"
    value = _rounded(value, task.mode)
    return Multiplier("FM", value, f"{said}: {shown(value)} by table 5, {column}")


def _coupling(hands: Hands, units: Units) -> Multiplier:
    value = multipliers.coupling(hands.coupling, hands.vertical_in)
    side = "below" if hands.vertical_in < IN_LB.height_best else "not below"
    at = f", hands {side} {units.say(IN_LB.height_best)}" if hands.coupling is Coupling.FAIR else ""
    return Multiplier("CM", value, f"{hands.coupling} grip{at}: {value}")


def _rounded(value: Decimal, mode: Mode) -> Decimal:
    return multipliers.as_printed(value) if mode is Mode.PRINTED else value


def _stated(conditions: frozenset[Condition], units: Units) -> Iterator[str]:
    """Yield the meaning of each stated condition, in the order of the manual."""
    sentences = {
        Condition.ONE_HANDED: "one hand lifts: the equation is for two",
        Condition.SEATED_OR_KNEELING: "lifted seated or kneeling: the equation is for people who stand",
        Condition.RESTRICTED_SPACE: "lifted in a restricted space: the equation is for people who stand freely",
        Condition.UNSTABLE_LOAD: "the load is unstable: the equation is for one that keeps its shape and balance",
        Condition.WHILE_CARRYING: "lifted while carrying, pushing or pulling: the equation allows a step or two",
        Condition.FAST: f"lifted faster than {units.say(FASTEST_IN)} a second: the equation is for a smooth lift",
        Condition.SLIPPERY_FLOOR: "shoe on floor has a friction below 0.4: the equation asks for a firm stand",
        Condition.OUT_OF_CLIMATE: (
            f"air outside {units.say(COLDEST_F, 'f')} to {units.say(WARMEST_F, 'f')} or 35 to 50% relative "
            "humidity: the equation holds within"
        ),
        Condition.TEAM_LIFT: "a team lifts: the equation is for one person",
    }
    return (sentence for condition, sentence in sentences.items() if condition in conditions)
