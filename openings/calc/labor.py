"""Person-hours for an opening, by task, each with its reason."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import partial
from typing import NamedTuple

from openings.calc.facts import DetailFacts, HeadFlashing, OpeningFacts
from openings.calc.figures import TWO_PLACES, brief, half_up, plain
from openings.calc.geometry import (
    CASING,
    FLANGE,
    IN_PER_FT,
    Points,
    air_seal_in,
    anchor_points,
    drip_cap_in,
    flange_points,
    is_bedded_drip_cap,
    is_flashed_here,
    setting_edge_in,
    shim_points,
    strip_runs,
    three_sides_in,
)
from openings.calc.lift import lift_of, setting_team
from openings.calc.weight import weight_lb, weight_of


class Task(StrEnum):
    """What the hours are spent on."""

    PREPARE = "prepare and measure"
    FLASH = "flash"
    PAN = "pan"
    SEAL = "seal"
    SET = "set"
    RIG_AID = "rig lifting aid"
    SHIM = "shim"
    STRAP = "strap"
    FASTEN_FLANGE = "fasten flange"
    SCREW = "screw off"
    HEAD_MEMBRANE = "head membrane"
    HEAD_FLASHING = "head flashing"
    AIR_SEAL = "air seal"
    CLEAN_UP = "clean up"


@dataclass(frozen=True, slots=True)
class Rate:
    """Person-hours for one `unit` of a task, and where they come from."""

    task: Task
    person_h: Decimal
    unit: str
    source: str = "from memory"


@dataclass(frozen=True, slots=True, kw_only=True)
class LaborRates:
    """The rates of a shop; a starting point until its own records correct them.

    Published rates speak of whole units only: 4 person-hours for a wood double-hung or casement (Guild of
    Project Controls, window installation), 16 person-hours for 8 to 12 replacements (trade press). The tasks
    here are from memory and add up to that size.
    """

    prepare: Rate = Rate(Task.PREPARE, Decimal("0.2"), "opening")
    flash: Rate = Rate(Task.FLASH, Decimal("0.02"), "ft")
    pan: Rate = Rate(Task.PAN, Decimal("0.25"), "pan")
    seal: Rate = Rate(Task.SEAL, Decimal("0.012"), "ft")
    rig_aid: Rate = Rate(Task.RIG_AID, Decimal("0.5"), "aid")
    set_unit: Rate = Rate(Task.SET, Decimal("0.25"), "person")
    shim: Rate = Rate(Task.SHIM, Decimal("0.02"), "point")
    flange: Rate = Rate(Task.FASTEN_FLANGE, Decimal("0.01"), "fastener")
    strap: Rate = Rate(Task.STRAP, Decimal("0.06"), "strap")
    screw: Rate = Rate(Task.SCREW, Decimal("0.03"), "screw")
    head_membrane: Rate = Rate(Task.HEAD_MEMBRANE, Decimal("0.15"), "membrane")
    head_flashing: Rate = Rate(Task.HEAD_FLASHING, Decimal("0.25"), "drip cap")
    air_seal: Rate = Rate(Task.AIR_SEAL, Decimal("0.012"), "ft")
    clean_up: Rate = Rate(Task.CLEAN_UP, Decimal("0.2"), "opening")


STARTING_RATES = LaborRates()

_Count = tuple[Rate, Decimal | int]


class LaborLine(NamedTuple):
    """Person-hours of one task at one opening, unrounded.

    A tuple, since whole jobs make tens of thousands of them; the sentence is formed only when `reason` is
    read.
    """

    rate: Rate
    quantity: Decimal | int
    person_h: Decimal
    opening: OpeningFacts
    detail: DetailFacts

    @property
    def task(self) -> Task:
        """What the hours are spent on."""
        return self.rate.task

    @property
    def unit(self) -> str:
        """What `quantity` counts."""
        return self.rate.unit

    @property
    def rate_person_h(self) -> Decimal:
        """Person-hours for one unit."""
        return self.rate.person_h

    @property
    def reason(self) -> str:
        """What was counted and at what rate, in words and numbers."""
        counted = f"{brief(Decimal(self.quantity))} × {plain(self.rate.person_h)} per {self.unit}"
        said = _BECAUSE[self.task](self.opening, self.detail)
        return f"{self.task}, {brief(self.person_h)} person-hours: {counted}; {said}"

    @property
    def source(self) -> str:
        """Where the rate comes from."""
        return self.rate.source


def labor_of(opening: OpeningFacts, detail: DetailFacts, rates: LaborRates = STARTING_RATES) -> tuple[LaborLine, ...]:
    """Return the person-hours of one opening by task, in the order of the work."""
    counts = [
        *_before_setting(opening, detail, rates),
        *_setting(opening, detail, rates),
        *_after_setting(opening, detail, rates),
    ]
    return tuple([_new_line((rate, count, rate.person_h * count, opening, detail)) for rate, count in counts])


_new_line: Callable[[tuple[Rate, Decimal | int, Decimal, OpeningFacts, DetailFacts]], LaborLine]
_new_line = partial(tuple.__new__, LaborLine)
"""Makes a line from its fields in one tuple: half the time of `LaborLine(…)`, which counts for whole jobs."""


def total_person_h(lines: Iterable[LaborLine]) -> Decimal:
    """Return the person-hours of the lines together, rounded half-up to a hundredth, once."""
    return half_up(sum((line.person_h for line in lines), Decimal(0)), to=TWO_PLACES)


def _before_setting(opening: OpeningFacts, detail: DetailFacts, rates: LaborRates) -> list[_Count]:
    counts: list[_Count] = [(rates.prepare, 1)]
    if is_flashed_here(detail):
        counts.append((rates.flash, strip_runs(opening, detail).total_in / IN_PER_FT))
    if detail.has_pan:
        counts.append((rates.pan, 1))
    counts.append((rates.seal, _sealed_in(opening, detail) / IN_PER_FT))
    return counts


def _setting(opening: OpeningFacts, detail: DetailFacts, rates: LaborRates) -> list[_Count]:
    people, needs_aid = setting_team(weight_lb(opening, mounting=detail.mounting))
    counts: list[_Count] = [(rates.rig_aid, 1)] if needs_aid else []
    counts.append((rates.set_unit, people))
    counts.append((rates.shim, shim_points(opening, detail).total))
    if detail.mounting is FLANGE:
        counts.append((rates.flange, flange_points(opening, detail).total))
    if detail.has_straps:
        counts.append((rates.strap, anchor_points(opening, detail).total))
    elif detail.mounting is not FLANGE:
        counts.append((rates.screw, anchor_points(opening, detail).total))
    return counts


def _after_setting(opening: OpeningFacts, detail: DetailFacts, rates: LaborRates) -> list[_Count]:
    counts: list[_Count] = []
    if detail.has_head_membrane and is_flashed_here(detail):
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


def _lifted(opening: OpeningFacts, detail: DetailFacts) -> str:
    weight = weight_of(opening, mounting=detail.mounting)
    return f"{lift_of(weight.lb).reason}; {weight.reason}"


def _at(points: Points) -> str:
    places = ((points.jamb, "on each jamb"), (points.head, "on the head"), (points.sill, "on the sill"))
    return ", ".join(f"{count} {where}" for count, where in places if count)


_BECAUSE: dict[Task, Callable[[OpeningFacts, DetailFacts], str]] = {
    Task.PREPARE: lambda _opening, _detail: "measured, cleaned, cautions read",
    Task.FLASH: lambda _opening, _detail: "sill strip, two jamb strips, head strip",
    Task.PAN: lambda _opening, _detail: "pan membrane and corners",
    Task.SEAL: lambda _opening, _detail: "beads run and tooled",
    Task.RIG_AID: _lifted,
    Task.SET: _lifted,
    Task.SHIM: lambda opening, detail: f"{_at(shim_points(opening, detail))}; level, plumb and square",
    Task.FASTEN_FLANGE: lambda opening, detail: _at(flange_points(opening, detail)),
    Task.STRAP: lambda opening, detail: _at(anchor_points(opening, detail)),
    Task.SCREW: lambda opening, detail: _at(anchor_points(opening, detail)),
    Task.HEAD_MEMBRANE: lambda _opening, _detail: "lapped onto the top of the unit",
    Task.HEAD_FLASHING: lambda _opening, _detail: "cut, set, and lapped or bedded",
    Task.AIR_SEAL: lambda _opening, _detail: "backer rod and bead inside",
    Task.CLEAN_UP: lambda _opening, _detail: "checked, cleaned, labels off",
}
"""By task: what its quantity counts at one opening."""
