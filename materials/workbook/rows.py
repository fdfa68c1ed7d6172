"""What a pull sheet's workbook is written from: plain values, nothing looked up."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal

from materials.calc.product import Measure
from materials.calc.roll_picture import RollRow
from openings.calc.card import CardStep
from openings.calc.facts import DetailFacts, OpeningFacts


@dataclass(frozen=True, slots=True, kw_only=True)
class JobStop:
    """One job of the crew's day."""

    code: str
    name: str
    address: str
    openings_count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StagingRow:
    """One product to load: `packages` of the shelf's unit, which hold exactly `quantity` of `measure` and the spare.

    `product` and `product_code` are empty where no product is chosen for the parts yet.
    """

    product_code: str
    product: str
    parts: str
    packages: int
    package: str
    quantity: Decimal
    measure: Measure
    note: str = ""
    spare: Decimal = Decimal(0)
    spare_reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRow:
    """`count` equal pieces of one opening, and the roll or remnant they come from."""

    mark: str
    part: str
    count: int
    length_in: Decimal
    width_in: Decimal | None
    roll: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RollGroup:
    """The rolls of one product, and in words whether fewer would do. `trim_in` is lost after each piece."""

    product: str
    verdict: str
    rolls: tuple[RollRow, ...]
    trim_in: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolRow:
    """A tool, or a small supply with how much of it; without an amount one is enough, or it is taken as needed."""

    name: str
    amount: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldRow:
    """How a strip or membrane is held to the wall, by its product."""

    part: str
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningRow:
    """One opening, in the day's order. With `needs_aid`, an aid carries the unit and `people` guide it.

    Args:
        built_ro_width_in, built_ro_height_in: as built, by which its pieces are cut; None where the drawn size counts.
        needs_decision: `people` is the least, and somebody named decides before it is lifted. Not in the `repr` by
            which sheets are compared: a caution says the same in words.
    """

    sequence: int
    job: str
    mark: str
    floor: str
    ro_width_in: Decimal
    ro_height_in: Decimal
    built_ro_width_in: Decimal | None = None
    built_ro_height_in: Decimal | None = None
    unit_width_in: Decimal
    unit_height_in: Decimal
    detail: str
    method: str
    weight_lb: Decimal
    weight_is_estimate: bool
    people: int
    needs_aid: bool
    person_h: Decimal
    remarks: str = ""
    needs_decision: bool = field(default=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeOnCard:
    """The openings of one size, and their steps with the measures of that size."""

    marks: tuple[str, ...]
    opening: OpeningFacts
    detail: DetailFacts
    steps: tuple[CardStep, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DetailCard:
    """The field card of one detail, for the sizes of the day.

    Args:
        tools: what the openings of this detail take this day beside their draw; none where nothing is left to lay.
        next_trade: what the crew leaves for the next trade, a sentence each.
    """

    job: str
    detail: str
    sizes: tuple[SizeOnCard, ...]
    tools: tuple[ToolRow, ...] = ()
    next_trade: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PullSheetBook:
    """One revision of the pull sheet of one crew day.

    Args:
        number: the same for every revision.
        written_at: local time of the crew, without a zone.
        changes: what differs from the revision before, in words.
        cautions: those of this day; the standing ones are always printed.
        nothing_to_set: why no opening stands on it; empty where some do.
        bring_back: what lies on the truck and is needed no more, a sentence each.
        cards: how each detail of the day is laid.
    """

    number: str
    revision: int
    crew: str
    truck: str
    on: date
    people_count: int
    capacity_person_h: Decimal
    assigned_person_h: Decimal
    written_at: datetime
    jobs: tuple[JobStop, ...]
    staging: tuple[StagingRow, ...]
    cuts: tuple[CutRow, ...]
    openings: tuple[OpeningRow, ...]
    changes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    rolls: tuple[RollGroup, ...] = ()
    nothing_to_set: str = field(default="", repr=False)
    bring_back: tuple[str, ...] = field(default=(), repr=False)
    cards: tuple[DetailCard, ...] = field(default=(), repr=False)
    tools: tuple[ToolRow, ...] = ()
    held: tuple[HeldRow, ...] = ()

    @property
    def missing(self) -> tuple[StagingRow, ...]:
        """The rows whose parts no product serves: the sheet is not complete while there is one."""
        return tuple(row for row in self.staging if not row.product_code)

    @property
    def name(self) -> str:
        return f"{self.number} revision {self.revision}"
