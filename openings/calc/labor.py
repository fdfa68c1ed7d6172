"""Person-hours for an opening, by task, each with its reason."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from math import prod
from typing import NamedTuple

from jobs.calc.experience import Experience
from jobs.calc.say import plural
from openings.calc.bad_rate import fault, refuse
from openings.calc.facts import DetailFacts, OpeningFacts, require_fit
from openings.calc.figures import TWO_PLACES, brief, half_up, plain
from openings.calc.geometry import (
    CASING,
    FLANGE,
    IN_PER_FT,
    air_seal_in,
    anchor_points,
    drip_cap_in,
    flange_points,
    flashed_in,
    has_head_membrane,
    is_bedded_drip_cap,
    is_flashed_here,
    setting_edge_in,
    shimmed_points,
    three_sides_in,
)
from openings.calc.labor_rates import ONE, STARTING_RATES, Access, Factor, LaborRates, Rate, Task
from openings.calc.labor_reasons import BECAUSE
from openings.calc.learning import SOURCE as LEARNING_SOURCE
from openings.calc.learning import Repetition
from openings.calc.operation import factor_of_operation
from openings.calc.terms import HeadFlashing
from openings.calc.unit_lift import team_to_set
from openings.calc.units import CONVERSIONS, US, Units

HEIGHT_CAUTION = (
    "Hours to plan by, not leave to climb: for ladders, scaffolds, lifts and open edges follow OSHA and local rules, "
    "the manufacturer's instructions, and the site's competent person."
)
"""For whoever shows the hours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """Under what conditions an opening is worked on.

    Args:
        storeys_up: storeys above the floor where the truck unloads, >= 0.
        repetition: which of several units alike this is; None where nobody counts on learning.

    Raises:
        BadRate: storeys_up is negative.
    """

    storeys_up: int = 0
    access: Access = Access.CLEAR
    experience: Experience = Experience.PROFESSIONAL
    repetition: Repetition | None = None

    def __post_init__(self) -> None:
        if self.storeys_up < 0:
            sentence = f"stories up is {self.storeys_up}; it must not be negative"
            refuse([fault("storeys_up", self.storeys_up, sentence)])


ORDINARY = Conditions()

_Count = tuple[Rate, Decimal | int]


class LaborLine(NamedTuple):
    """Person-hours of one task at one opening, unrounded: quantity × rate × every factor.

    A tuple, since whole jobs make tens of thousands of them; the sentence is formed only when it is asked for.
    """

    rate: Rate
    quantity: Decimal | int
    person_h: Decimal
    opening: OpeningFacts
    detail: DetailFacts
    factors: tuple[Factor, ...]

    @property
    def task(self) -> Task:
        """Return the task that the hours are spent on."""
        return self.rate.task

    @property
    def unit(self) -> str:
        """Return the unit of `quantity`."""
        return self.rate.unit

    @property
    def rate_person_h(self) -> Decimal:
        """Return the person-hours for one unit."""
        return self.rate.person_h

    @property
    def factor(self) -> Decimal:
        """Return the product of all factors; 1 where there are none."""
        return _product(self.factors)

    @property
    def reason(self) -> str:
        """Return the reason in the trade's own measures."""
        return self.reason_in(US)

    def reason_in(self, units: Units) -> str:
        """Return the quantity, the rate and the factors in words and numbers."""
        stretched = "".join(f" × {plain(factor.times)} ({factor.where})" for factor in self.factors)
        said = BECAUSE[self.task](self.opening, self.detail, units)
        return (
            f"{self.task}, {brief(self.person_h)} {plural('labor hour', self.person_h)}: "
            f"{self._counted(units)}{stretched}; {said}"
        )

    @property
    def source(self) -> str:
        """Return the sources of the rate and the factors."""
        return "; ".join(dict.fromkeys((self.rate.source, *(factor.source for factor in self.factors))))

    def _counted(self, units: Units) -> str:
        quantity, rate_person_h = Decimal(self.quantity), self.rate.person_h
        if self.unit == "ft" and units.is_metric:
            per_m = rate_person_h / CONVERSIONS["ft"].factor
            return f"{units.say(quantity, 'ft')} × {plain(per_m)} per {units.per('ft')}"
        return f"{brief(quantity)} × {plain(rate_person_h)} per {self.unit}"


def labor_of(
    opening: OpeningFacts,
    detail: DetailFacts,
    rates: LaborRates = STARTING_RATES,
    conditions: Conditions = ORDINARY,
) -> tuple[LaborLine, ...]:
    """Return the person-hours of one opening by task, in the order of the work.

    >>> from openings.calc.starting_details import STARTING_DETAILS
    >>> window = OpeningFacts(
    ...     ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal(35), unit_height_in=Decimal(53)
    ... )
    >>> lines = labor_of(window, STARTING_DETAILS["flange over, wrap after"])
    >>> lines[0].reason, total_person_h(lines)
    ('prepare and measure, 0.2 labor hours: 1 × 0.2 per opening; measured, cleaned, cautions read', Decimal('2.45'))

    Raises:
        BadDetail: the opening cannot take the detail.
    """
    require_fit(opening, detail)
    counts = [
        *_before_setting(opening, detail, rates),
        *_setting(opening, detail, rates),
        *_after_setting(opening, detail, rates),
    ]
    everywhere = _condition_factors(rates, conditions)
    at_setting = everywhere
    if opening.operation:
        at_setting = (factor_of_operation(opening.operation, rates.operation_factors), *everywhere)
    if not at_setting:
        return tuple([_new_line((rate, count, rate.person_h * count, opening, detail, ())) for rate, count in counts])
    times, setting_times = _product(everywhere), _product(at_setting)
    return tuple(
        [
            _new_line((rate, count, rate.person_h * count * setting_times, opening, detail, at_setting))
            if rate.task is _SET
            else _new_line((rate, count, rate.person_h * count * times, opening, detail, everywhere))
            for rate, count in counts
        ]
    )


_SET, _CLEAR, _PROFESSIONAL = Task.SET, Access.CLEAR, Experience.PROFESSIONAL

_new_line: Callable[[tuple[Rate, Decimal | int, Decimal, OpeningFacts, DetailFacts, tuple[Factor, ...]]], LaborLine]
_new_line = partial(tuple.__new__, LaborLine)
"""Makes a line from its fields in one tuple: half the time of `LaborLine(…)`, which counts for whole jobs."""


def total_person_h(lines: Iterable[LaborLine]) -> Decimal:
    """Return the person-hours of the lines together, rounded half-up to a hundredth, once."""
    return half_up(sum((line.person_h for line in lines), Decimal(0)), to=TWO_PLACES)


def _product(factors: tuple[Factor, ...]) -> Decimal:
    return prod((factor.times for factor in factors), start=ONE)


def _condition_factors(rates: LaborRates, conditions: Conditions) -> tuple[Factor, ...]:
    """Return the factors that stretch or shorten every task."""
    given: list[Factor] = []
    if conditions.access is not _CLEAR:
        given += [factor for factor in rates.access_factors if factor.where == conditions.access]
    if conditions.experience is not _PROFESSIONAL:
        given += [factor for factor in rates.experience_factors if factor.where == conditions.experience]
    if storeys := conditions.storeys_up:
        times = 1 + storeys * rates.storey_pct / 100
        given.append(Factor(f"{storeys} {'story' if storeys == 1 else 'stories'} up", times, rates.storey_source))
    if alike := conditions.repetition:
        given.append(
            Factor(
                f"unit {alike.number} of its kind, learning {plain(alike.slope_pct)}%", alike.factor, LEARNING_SOURCE
            )
        )
    return tuple(given)


def _before_setting(opening: OpeningFacts, detail: DetailFacts, rates: LaborRates) -> list[_Count]:
    counts: list[_Count] = [(rates.prepare, 1)]
    if is_flashed_here(detail):
        counts.append((rates.flash, flashed_in(opening, detail) / IN_PER_FT))
    if detail.has_pan:
        counts.append((rates.pan, 1))
    counts.append((rates.seal, _sealed_in(opening, detail) / IN_PER_FT))
    return counts


def _setting(opening: OpeningFacts, detail: DetailFacts, rates: LaborRates) -> list[_Count]:
    people, needs_aid = team_to_set(opening, mounting=detail.mounting)
    counts: list[_Count] = [(rates.rig_aid, 1)] if needs_aid else []
    counts.append((rates.set_unit, people))
    counts.append((rates.shim, shimmed_points(opening, detail)))
    if detail.mounting is FLANGE:
        counts.append((rates.flange, flange_points(opening, detail).total))
    if detail.has_straps:
        counts.append((rates.strap, anchor_points(opening, detail).total))
    elif detail.mounting is not FLANGE:
        counts.append((rates.screw, anchor_points(opening, detail).total))
    return counts


def _after_setting(opening: OpeningFacts, detail: DetailFacts, rates: LaborRates) -> list[_Count]:
    counts: list[_Count] = []
    if has_head_membrane(detail):
        counts.append((rates.head_membrane, 1))
    if detail.head_flashing is not HeadFlashing.NONE:
        counts.append((rates.head_flashing, 1))
    if detail.has_air_seal:
        counts.append((rates.air_seal, air_seal_in(opening) / IN_PER_FT))
    counts.append((rates.clean_up, 1))
    return counts


def _sealed_in(opening: OpeningFacts, detail: DetailFacts) -> Decimal:
    run_in = setting_edge_in(opening, detail)
    if detail.mounting is CASING:
        run_in += three_sides_in(opening, detail)
    if is_bedded_drip_cap(detail):
        run_in += drip_cap_in(opening, detail)
    return run_in
