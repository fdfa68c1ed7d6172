"""When an opening can be planned, and why not today.

Rules find what an opening waits for, and each finding becomes a hold that the same rule releases. What moves from day
to day, the weather and the order of the floors, is asked when somebody plans and holds nothing.

>>> ordered = UnitFacts(expected_on=date(2026, 12, 4))
>>> (found,) = found_by_rules(RuleFacts(unit=ordered))
>>> found.reason, found.expected_on
('the unit is ordered and has not come', datetime.date(2026, 12, 4))
>>> obstacle = hold_obstacle("unit not on site", found.reason, found.expected_on, today=date(2026, 11, 28))
>>> readiness_of([obstacle], today=date(2026, 11, 28)).plannable_from
datetime.date(2026, 12, 5)
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from enum import StrEnum

from jobs.calc.say import counted, day, plural
from jobs.calc.weather import WeatherLimits
from openings.calc.code_advice import LEAD_PAINT_BEFORE
from openings.calc.figures import brief


class Condition(StrEnum):
    """How a unit is, as it was received or found since."""

    WHOLE = "whole"
    DAMAGED = "damaged"
    WRONG = "wrong"


@dataclass(frozen=True, slots=True, kw_only=True)
class Flaw:
    """What is wrong with one unit of those that are received."""

    condition: Condition
    note: str


class BeforeKind(StrEnum):
    """What must be done before a window is set."""

    TRADE = "trade"
    PERMIT = "permit"
    LEAD_PAINT = "lead paint"


class Rule(StrEnum):
    """What finds by itself that an opening is not ready, and releases its hold by itself."""

    MEASURED = "measured"
    UNIT = "unit"
    TRADE = "trade"
    PERMIT = "permit"
    LEAD_PAINT = "lead paint"


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitFacts:
    """The current unit of an opening.

    Args:
        expected_on: when it is to come; None where nobody has said.
        condition: None until it is received.
        is_left_behind: its delivery came without it.
    """

    expected_on: date | None = None
    condition: Condition | None = None
    note: str = ""
    is_left_behind: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """What must be done before; `floor` is empty where it concerns the whole job."""

    kind: BeforeKind
    name: str
    floor: str = ""
    expected_on: date | None = None
    is_done: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Follows:
    """The rules by which what nobody entered counts as missing. What is entered counts always."""

    units: bool = False
    measured: bool = False
    lead_paint: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleFacts:
    """What the rules ask about one opening.

    Args:
        before: of its job; those of another floor are passed over.
        is_begun: its install was started, so its unit and what comes before were there.
    """

    follows: Follows = field(default_factory=Follows)
    unit: UnitFacts | None = None
    before: Sequence[Before] = ()
    floor: str = ""
    built_year: int | None = None
    is_measured: bool = False
    is_begun: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a rule found; `expected_on` is the day on which it is expected to be gone, None where nobody knows."""

    rule: Rule
    reason: str
    expected_on: date | None = None


def found_by_rules(facts: RuleFacts) -> tuple[Found, ...]:
    """Return what an opening waits for, at most one finding a rule.

    Of an opening that is begun only a damaged or wrong unit counts.
    """
    unit = _of_unit(facts)
    if facts.is_begun:
        return (unit,) if unit and facts.unit and facts.unit.condition else ()
    found = [_of_measuring(facts), unit, *(_of_before(facts, kind) for kind in BeforeKind)]
    return tuple(one for one in found if one)


def _of_measuring(facts: RuleFacts) -> Found | None:
    if facts.is_measured or not facts.follows.measured:
        return None
    return Found(rule=Rule.MEASURED, reason="the rough opening is not measured")


def _of_unit(facts: RuleFacts) -> Found | None:
    unit = facts.unit
    if unit is None:
        return Found(rule=Rule.UNIT, reason="no unit is ordered") if facts.follows.units else None
    if unit.condition is Condition.WHOLE:
        return None
    if unit.condition:
        return Found(rule=Rule.UNIT, reason=f"the unit is {unit.condition}: {unit.note}; order it again")
    if unit.is_left_behind:
        return Found(rule=Rule.UNIT, reason="the delivery came without the unit")
    return Found(rule=Rule.UNIT, reason="the unit is ordered and has not come", expected_on=unit.expected_on)


def _of_before(facts: RuleFacts, kind: BeforeKind) -> Found | None:
    """Return what is not done of one kind. Several go once the last is done.

    Source:
        Lead paint: 40 CFR 745.80 to 745.92, buildings from before 1978.
    """
    concerned = [one for one in facts.before if one.kind is kind and one.floor in ("", facts.floor)]
    awaited = [one for one in concerned if not one.is_done]
    if awaited:
        days = [one.expected_on for one in awaited]
        expected_on = max(on for on in days if on) if all(days) else None
        names = ", ".join(one.name for one in awaited)
        verb = plural("is", len(awaited))
        return Found(rule=Rule(kind.value), reason=f"{names} {verb} not done", expected_on=expected_on)
    is_old = facts.built_year is not None and facts.built_year < LEAD_PAINT_BEFORE
    if kind is BeforeKind.LEAD_PAINT and facts.follows.lead_paint and is_old and not concerned:
        return Found(rule=Rule.LEAD_PAINT, reason=f"built {facts.built_year}: lead-safe work is not prepared")
    return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """One thing an opening waits for.

    Args:
        kind: what it is, in the words of a hold, or `floor order`.
        said: what it is and when it is expected to be gone, as a clause.
        clear_from: the first day on which it is in nobody's way; None where nobody knows.
        expected_on: the day on which it is expected to be gone.
    """

    kind: str
    said: str
    clear_from: date | None = None
    expected_on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Readiness:
    """When an opening can be planned.

    Args:
        plannable_from: the first day on which nothing is expected to be in the way; None where nobody knows.
        obstacles: what it waits for, today or later.
        bad_days: days of weather in which nothing is set, with what is wrong with each.
    """

    today: date
    plannable_from: date | None
    obstacles: tuple[Obstacle, ...] = ()
    bad_days: Mapping[date, str] = field(default_factory=dict)

    @property
    def why_not_today(self) -> tuple[str, ...]:
        """Why it cannot be set today; nothing if it can."""
        return self.why_not_on(self.today)

    def why_not_on(self, on: date) -> tuple[str, ...]:
        """Return why it cannot be set on a day, as clauses; nothing if it can."""
        said = [one.said for one in self._in_the_way(on)]
        return (*said, self.bad_days[on]) if on in self.bad_days else tuple(said)

    def refusal_on(self, on: date) -> str:
        """Return why it is not planned for a day, as what is said of the opening; nothing if it can be."""
        why = self.why_not_on(on)
        if not why:
            return ""
        is_held = any(one.kind != FLOOR_ORDER for one in self._in_the_way(on))
        first = f"; plannable from {day(self.plannable_from)}" if self.plannable_from else ""
        return f"is {'on hold' if is_held else 'not ready'}: {'; '.join(why)}{first}"

    def _in_the_way(self, on: date) -> list[Obstacle]:
        return [one for one in self.obstacles if one.clear_from is None or one.clear_from > on]


FLOOR_ORDER = "floor order"

LOOKS_AHEAD = 60
"""So many days of bad weather in a row are passed over; no forecast reaches further."""


def readiness_of(
    obstacles: Iterable[Obstacle], *, today: date, bad_days: Mapping[date, str] | None = None
) -> Readiness:
    """Return when an opening can be planned, and what it waits for."""
    waits, bad = tuple(obstacles), bad_days or {}
    days = [one.clear_from for one in waits]
    plannable_from = None if None in days else max([today, *(on for on in days if on)])
    if plannable_from:
        fair = (plannable_from + timedelta(days=ahead) for ahead in range(LOOKS_AHEAD))
        plannable_from = next((on for on in fair if on not in bad), None)
    return Readiness(today=today, plannable_from=plannable_from, obstacles=waits, bad_days=bad)


def hold_obstacle(kind: str, reason: str, expected_on: date | None, *, today: date) -> Obstacle:
    """Return what a hold means for planning.

    What is expected on a day is there the morning after, when crews leave; what was expected before today has not
    come, and nobody knows when it will.

    Source:
        Common practice, no source.
    """
    if expected_on is None:
        return Obstacle(kind=kind, said=f"{kind} ({reason})")
    if expected_on < today:
        said = f"{kind} ({reason}), which was expected {day(expected_on, today)}"
        return Obstacle(kind=kind, said=said, expected_on=expected_on)
    return Obstacle(
        kind=kind,
        said=f"{kind} ({reason}), expected {day(expected_on, today)}",
        clear_from=expected_on + timedelta(days=1),
        expected_on=expected_on,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorLeft:
    """What is left on a floor: openings that are not finished, those of them not assigned, and the last day."""

    left: int
    unassigned: int
    last_on: date | None


def floor_obstacle(floor: str, order: Sequence[str], left: Mapping[str, FloorLeft]) -> Obstacle | None:
    """Return what a floor waits for: those before it are finished, or assigned to days not later than its own.

    A floor that the order does not name waits for none.
    """
    if floor not in order:
        return None
    earlier = [name for name in order[: order.index(floor)] if name in left and left[name].left]
    for name in earlier:
        if count := left[name].unassigned:
            return Obstacle(
                kind=FLOOR_ORDER,
                said=f"{FLOOR_ORDER}: {name} comes first, and {counted(count, 'opening')} there "
                f"{plural('is', count)} not assigned",
            )
    days = [left[name].last_on for name in earlier]
    last_on = max((on for on in days if on), default=None)
    if last_on is None:
        return None
    return Obstacle(
        kind=FLOOR_ORDER, said=f"{FLOOR_ORDER}: the floors before are set by {day(last_on)}", clear_from=last_on
    )


def bad_weather(*, wind_mph: Decimal, rain_in: Decimal, limits: WeatherLimits) -> str:
    """Return what is wrong with the weather of a day, as a clause; nothing where it is within the shop's limits."""
    wrong = []
    if limits.is_too_windy(wind_mph):
        wrong.append(f"wind of {brief(wind_mph)} mph, at most {brief(limits.most_wind_mph)}")
    if limits.is_too_wet(rain_in):
        wrong.append(f"{brief(rain_in)} in. of rain, at most {brief(limits.most_rain_in)}")
    return f"weather: {', '.join(wrong)}" if wrong else ""
