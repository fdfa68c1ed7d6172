"""What breaks of the crews' days and what mends it, in the words of the crew board."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from jobs.calc.say import counted, plural
from jobs.calc.say import day as say_day
from jobs.models import Crew
from jobs.queries import today_on_sites
from openings.calc.mending import Offer
from openings.plans.repair import Repair, repairs


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferShown:
    """A way to mend a crew day: what goes where and what stays, as a sentence, and the words of its button."""

    name: str
    way: str
    said: str
    verb: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairShown:
    """A crew day of which something breaks, and what is offered."""

    repair: Repair
    offers: tuple[OfferShown, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mending:
    """Every crew day of which something breaks, the earliest first; how many openings that are."""

    days: tuple[RepairShown, ...]

    @property
    def count(self) -> int:
        return sum(len(day.repair.breaks) for day in self.days)


def shown_repairs() -> Mending:
    """Return what breaks and what mends it. As many queries as `repairs`, and one where something breaks."""
    found = repairs()
    crews = Crew.objects.in_bulk({move.crew_id for one in found for offer in one.offers for move in offer.moves})
    return Mending(days=tuple(RepairShown(repair=one, offers=tuple(_shown(one, crews))) for one in found))


def _shown(repair: Repair, crews: Mapping[int, Crew]) -> Iterator[OfferShown]:
    marks = {one.assignment.pk: one.assignment.opening.mark for one in repair.breaks}
    for offer in repair.offers:
        count = sum(len(move.assignment_ids) for move in offer.moves)
        yield OfferShown(
            name=offer.name,
            way=f"{offer.way[:1].upper()}{offer.way[1:]}",
            said="; ".join(_clauses(offer, marks, crews)),
            verb=f"Move {count}" if count else f"Unassign {len(offer.unassigned)}",
        )


def _clauses(offer: Offer, marks: Mapping[int, str], crews: Mapping[int, Crew]) -> Iterator[str]:
    today = today_on_sites()
    for move in offer.moves:
        yield f"{_listed(move.assignment_ids, marks)} to {crews[move.crew_id]}, {say_day(move.on, today)}"
    if offer.unassigned:
        yield _listed(offer.unassigned, marks)
    if offer.left and offer.moves:
        yield f"no day has room for {_listed(offer.left, marks)}"
    elif offer.left:
        yield f"{_listed(offer.left, marks)} {plural('is', len(offer.left))} begun and not unassigned"


def _listed(assignment_ids: Iterable[int], marks: Mapping[int, str]) -> str:
    named = [marks[pk] for pk in assignment_ids]
    if len(named) <= MARKS_NAMED:
        return ", ".join(named)
    return f"{', '.join(named[:MARKS_NAMED])} and {counted(len(named) - MARKS_NAMED, 'other')}"


MARKS_NAMED = 8
