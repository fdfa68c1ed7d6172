"""The field cards of a crew day: one for each detail, with the sizes that the day has of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from materials.calc.card_takes import seals_of
from materials.workbook import DetailCard, SizeOnCard, ToolRow
from openings.calc.card import card_of
from openings.calc.facts import OpeningFacts
from openings.calc.next_trade import left_for_next_trade
from openings.models import Opening
from openings.queries import Computable, computable


def day_cards(openings: Iterable[Opening], *, tools: Mapping[int, tuple[ToolRow, ...]]) -> tuple[DetailCard, ...]:
    """Return the cards of the openings of a day, in its order. No query where jobs and details are joined.

    Args:
        tools: what the openings of a detail take along this day, by the id of the detail.
    """
    by_detail: dict[int, dict[OpeningFacts, list[Computable]]] = {}
    for item in computable(openings):
        by_detail.setdefault(item.opening.detail_id, {}).setdefault(_size_of(item.facts), []).append(item)
    return tuple(_card(list(sizes.values()), tools.get(pk, ())) for pk, sizes in by_detail.items())


def _card(sizes: Sequence[list[Computable]], tools: tuple[ToolRow, ...]) -> DetailCard:
    first = sizes[0][0]
    return DetailCard(
        job=first.opening.job.code,
        detail=first.opening.detail.name,
        sizes=tuple(_sized(items) for items in sizes),
        tools=tools,
        next_trade=left_for_next_trade(first.detail),
    )


def _sized(items: list[Computable]) -> SizeOnCard:
    facts, detail = items[0].facts, items[0].detail
    return SizeOnCard(
        marks=tuple(item.opening.mark for item in items),
        opening=facts,
        detail=detail,
        steps=card_of(facts, detail, seals=seals_of(facts, detail)),
    )


def _size_of(facts: OpeningFacts) -> OpeningFacts:
    """Return what the measures of a card rest on: openings that differ in glass or weight alone share a column."""
    return OpeningFacts(
        ro_width_in=facts.ro_width_in,
        ro_height_in=facts.ro_height_in,
        unit_width_in=facts.unit_width_in,
        unit_height_in=facts.unit_height_in,
        design_pressure_psf=facts.design_pressure_psf,
    )
