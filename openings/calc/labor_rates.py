"""What labor is calculated with: the hours of each task, and what stretches or shortens them. All of it data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from decimal import Decimal
from enum import StrEnum
from typing import Any, NamedTuple

from jobs.calc.experience import Experience
from jobs.errors import Fault
from openings.calc.bad_rate import fault, refuse
from openings.calc.figures import plain
from openings.errors import BadRate

MOST_PERSON_H = 100
"""More person-hours for one piece of a task are a slip of the pen (our choice)."""

COMPANY_DEFAULT = "company default, editable (source not checked)"
"""Where a rate comes from that is from memory, until the shop corrects it by its own records."""


class Task(StrEnum):
    """Return the task that the hours are spent on."""

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


class Access(StrEnum):
    """How the crew gets at the opening from outside."""

    CLEAR = "clear"
    LADDER = "ladder"
    SCAFFOLD = "scaffold"
    LIFT = "lift"
    TIGHT = "tight"


@dataclass(frozen=True, slots=True)
class Rate:
    """Person-hours for one `unit` of a task, and where they come from.

    Raises:
        BadRate: the hours are not above 0 and at most 100.
    """

    task: Task
    person_h: Decimal
    unit: str
    source: str = COMPANY_DEFAULT

    def __post_init__(self) -> None:
        if not 0 < self.person_h <= MOST_PERSON_H:
            sentence = (
                f"{self.task} takes {plain(self.person_h)} labor hours per {self.unit}; a rate is above 0 and at most "
                f"{MOST_PERSON_H}"
            )
            refuse([fault("person_h", self.person_h, sentence)])


class Factor(NamedTuple):
    """How many times as long work takes, where something is so: an operation, an access, a crew's practice."""

    where: str
    times: Decimal
    source: str = COMPANY_DEFAULT


GUILD = "Guild of Project Controls compendium, window installation"
PER_WOOD_UNIT = f"{GUILD}: labor hours of a wood unit, against 4 for double-hung or casement"
JII032 = "JELD-WEN JII032: 2, 1.5 or 1 h for the same install"

ONE = Decimal(1)

MEASURED_BY = (Access.CLEAR, Experience.PROFESSIONAL)
"""Conditions under which the rates hold as they are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LaborRates:
    """The rates of a shop; a starting point until its own records correct them.

    Published rates speak of whole units only: 4 person-hours for a wood double-hung or casement (Guild of
    Project Controls, window installation), 16 person-hours for 8 to 12 replacements (trade press). The tasks
    here are from memory and add up to that size.

    Args:
        operation_factors: times the setting of a double-hung or casement unit, by operation.
        access_factors: times the work where access is clear, which has none itself.
        experience_factors: times the work of a professional crew, which has none itself.
        storey_pct: what each storey up adds.

    Raises:
        BadRate: a factor is not above 0, one is given for clear access or a professional crew, or a storey would
            take work away.
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
    operation_factors: tuple[Factor, ...] = (
        Factor("double-hung", ONE, PER_WOOD_UNIT),
        Factor("casement", ONE, PER_WOOD_UNIT),
        Factor("fixed", Decimal("0.75"), PER_WOOD_UNIT),
        Factor("jalousie", Decimal("0.5"), PER_WOOD_UNIT),
    )
    access_factors: tuple[Factor, ...] = (
        Factor(Access.LADDER, Decimal("1.15")),
        Factor(Access.SCAFFOLD, Decimal("1.1")),
        Factor(Access.LIFT, Decimal("1.1")),
        Factor(Access.TIGHT, Decimal("1.2")),
    )
    experience_factors: tuple[Factor, ...] = (
        Factor(Experience.EXPERIENCED, Decimal("1.5"), JII032),
        Factor(Experience.FIRST_TIME, Decimal(2), JII032),
    )
    storey_pct: Decimal = Decimal(5)
    storey_source: str = COMPANY_DEFAULT

    def __post_init__(self) -> None:
        factors = (*self.operation_factors, *self.access_factors, *self.experience_factors)
        faults = [
            fault(factor.where, factor.times, f"{factor.where} × {plain(factor.times)}; a factor is above 0")
            for factor in factors
            if factor.times <= 0
        ]
        faults += [
            fault(factor.where, factor.times, f"leave out {factor.where}: the rates hold for it as they are")
            for factor in factors
            if factor.where in MEASURED_BY
        ]
        if self.storey_pct < 0:
            sentence = f"each story up adds {plain(self.storey_pct)}%; that must not be negative"
            faults.append(fault("storey_pct", self.storey_pct, sentence))
        refuse(faults)


STARTING_RATES = LaborRates()

RATE_NAMES = tuple(field.name for field in fields(LaborRates) if isinstance(field.default, Rate))
"""The rates that records correct, by name, in the order of `LaborRates`."""


def rates_from(rows: Mapping[str, tuple[Decimal, str]]) -> LaborRates:
    """Return the starting rates, corrected by person-hours and source under the names of `RATE_NAMES`.

    Raises:
        BadRate: a name is unknown, or hours are not above 0 and at most 100; `faults` name each.
    """
    corrected: dict[str, Any] = {}
    faults: list[Fault] = []
    for name, (person_h, source) in rows.items():
        if name not in RATE_NAMES:
            faults.append(fault(name, name, f"there is no rate {name}; there are {', '.join(RATE_NAMES)}"))
            continue
        try:
            corrected[name] = replace(getattr(STARTING_RATES, name), person_h=person_h, source=source)
        except BadRate as error:
            faults.append(fault(name, person_h, error.detail))
    refuse(faults)
    return replace(STARTING_RATES, **corrected)
