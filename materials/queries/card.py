"""The field card of an opening, and of a detail with an example opening."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import NamedTuple

from jobs.calc.sentence import Sentence
from jobs.errors import NotFound
from materials.calc.attachment import how_held
from materials.calc.card_takes import Take, seals_of, takes_of
from materials.calc.draw import draw_of
from materials.calc.load_list import LoadItem, load_list
from materials.calc.supply import supplied
from materials.queries.draw import Choices
from materials.queries.opening import opening_of
from openings.calc.card import CardStep, Example, card_of
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.next_trade import left_for_next_trade
from openings.calc.sides import sides_of
from openings.calc.unit_lift import UnitLift, lift_of_unit
from openings.calc.units import US, Units
from openings.calc.ways import Way, ways_of
from openings.models import InstallationDetail, Opening


class StepOnCard(NamedTuple):
    """A step with its drawings, what is taken in hand at it, and how its strips are held by the products chosen."""

    drawn: CardStep
    takes: tuple[Take, ...]
    held: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldCard:
    """What a card shows: the steps with their drawings, what is taken in hand at each, and who lifts.

    Args:
        opening: None where the detail is shown with an example.
    """

    opening: Opening | None
    detail: InstallationDetail
    facts: OpeningFacts
    detail_facts: DetailFacts
    units: Units
    steps: tuple[StepOnCard, ...]
    under_all: tuple[Take, ...]
    lift: UnitLift
    load_list: tuple[LoadItem, ...]
    next_trade: tuple[Sentence, ...]
    ways: tuple[Way, ...]

    @property
    def products(self) -> tuple[Take, ...]:
        """Return all that is taken, in lay order."""
        return (*(take for step in self.steps for take in step.takes), *self.under_all)


def opening_card(opening_id: int, *, units: Units = US) -> FieldCard:
    """Return the card of an opening. Three queries.

    Raises:
        NotFound: there is no such opening.
        BadDetail: the opening cannot take its detail.
    """
    opening = opening_of(opening_id)
    return _card(opening.detail, opening.as_facts(), opening, units)


def detail_card(detail_id: int, *, example: Example, units: Units = US) -> FieldCard:
    """Return the card of a detail, drawn for a rough opening of that size. Two queries.

    Raises:
        NotFound: there is no such detail.
        BadLength: no unit has room in that rough opening.
        BadDetail: no such opening can take the detail.
    """
    detail = InstallationDetail.objects.select_related("job").filter(pk=detail_id).first()
    if detail is None:
        raise NotFound(f"there is no installation detail {detail_id}")
    sides = sides_of(
        ro_width_in=example.width_in,
        ro_height_in=example.height_in,
        unit_width_in=None,
        unit_height_in=None,
        detail=detail.as_facts(),
    )
    return _card(detail, OpeningFacts(**sides), None, units)


def _card(row: InstallationDetail, facts: OpeningFacts, opening: Opening | None, units: Units) -> FieldCard:
    detail = row.as_facts()
    lines = draw_of(facts, detail)
    find = partial(Choices([row.pk]).find, detail_id=row.pk, detail=detail)
    drawn = supplied(lines, find, units=units).lines
    takes = takes_of(lines, drawn, units=units)
    held = how_held(drawn, detail, units=units)
    steps = card_of(facts, detail, seals=seals_of(facts, detail), units=units)
    return FieldCard(
        opening=opening,
        detail=row,
        facts=facts,
        detail_facts=detail,
        units=units,
        steps=tuple(
            StepOnCard(
                step,
                takes.by_step.get(step.step.code, ()),
                tuple(one.said for one in held if one.step == step.step.code),
            )
            for step in steps
        ),
        under_all=takes.under_all,
        lift=lift_of_unit(facts, mounting=detail.mounting, units=units),
        load_list=load_list(drawn, detail, units=units),
        next_trade=left_for_next_trade(detail, units=units),
        ways=ways_of(facts, detail, units=units),
    )
