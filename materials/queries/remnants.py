"""Remnants that lie there, those a crew day may count on, and rolls of which a truck brings something back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby

from django.db.models import Case, Count, F, OuterRef, Q, QuerySet, Subquery, Value, When
from django.db.models.functions import Coalesce

from jobs.queries import today_on_sites
from materials.models import Place, PlannedRoll, PullSheet, PullSheetLine, Remnant
from materials.queries.pull_sheet import latest_written

LYING = Q(fate="")
IN_A_WAREHOUSE = Q(place__kind=Place.Kind.WAREHOUSE)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetToSettle:
    """A sheet whose truck is out or back, and its rolls of which something is still to be entered."""

    sheet: PullSheet
    rolls: tuple[PlannedRoll, ...]


def remnant_list() -> QuerySet[Remnant]:
    """Return remnants, gone ones too, with product, place and the crew that counts on each joined. One query."""
    return Remnant.objects.select_related("product", "place", "reserved_for__crew")


def remnants_lying() -> QuerySet[Remnant]:
    """Return the remnants that lie somewhere by product, the longest first, joined as by `remnant_list`. One query."""
    return remnant_list().filter(LYING).order_by("product__code", "-length_in", "pk")


def free_remnants_on(on: date) -> QuerySet[Remnant]:
    """Return the remnants that some crew may count on that day, places with their crews joined. One query.

    One on a truck is for the crew of `place.crew` alone, one that is reserved for the crew day `reserved_for_id`
    unless the day is planned anew; every other lies in a warehouse, for whoever takes it first.
    """
    within_reach = IN_A_WAREHOUSE | Q(place__kind=Place.Kind.TRUCK)
    unreserved = Q(reserved_for__isnull=True)
    of_the_day = Q(reserved_for__on=on) & (IN_A_WAREHOUSE | Q(reserved_for__crew=F("place__crew")))
    found = Remnant.objects.filter(LYING, within_reach, unreserved | of_the_day)
    return found.select_related("place__crew")


def is_settled(sheet: PullSheet) -> bool:
    """Return whether its truck is back: what came back of some roll has been entered. One query."""
    return sheet.rolls.filter(came_back_in__isnull=False).exists()


def lacks_a_remnant(sheet: PullSheet) -> bool:
    """Return whether a remnant that it is to be cut from is not reserved for its crew day any more. One query."""
    return sheet.rolls.filter(remnant__isnull=False).exclude(remnant__reserved_for=sheet.crew_day_id).exists()


def rolls_to_settle() -> QuerySet[PlannedRoll]:
    """Return the rolls of trucks that are back or out, of which something is still to be entered. Two queries.

    That is what is planned to be worth keeping, an old remnant that was cut from, or a package that is counted on
    the truck. Where packages were loaded, a new roll beyond their number stayed behind or came back whole, and is
    left out. Each roll has `offered_in`: what is planned to come back of it, 0 where that is not worth keeping.
    The oldest day comes first; products, remnants and crews are joined, workbooks left out.
    """
    sheets = latest_written().filter(crew_day__on__lte=today_on_sites())
    of_product = {"sheet": OuterRef("sheet"), "product": OuterRef("product")}
    loaded = PullSheetLine.objects.filter(**of_product).values("loaded_packages")
    remnants = (
        PlannedRoll.objects.filter(**of_product, remnant__isnull=False)
        .order_by()
        .values("product")
        .annotate(n=Count("pk"))
        .values("n")
    )
    is_kept = Q(left_in__gte=F("product__shortest_remnant_in"))
    return (
        PlannedRoll.objects.filter(sheet__in=sheets.values("pk"), came_back_in__isnull=True)
        .annotate(
            last_loaded=Subquery(loaded) + Coalesce(Subquery(remnants), 0),
            offered_in=Case(When(is_kept, then=F("left_in")), default=Value(Decimal(0))),
        )
        .filter(Q(remnant__isnull=False) | Q(is_kept, last_loaded__isnull=True) | Q(number__lte=F("last_loaded")))
        .select_related("product", "remnant", "sheet__crew_day__crew")
        .defer("sheet__workbook")
        .order_by("sheet__crew_day__on", "sheet__crew_day__crew__name", "product__code", "number")
    )


def sheets_to_settle() -> list[SheetToSettle]:
    """Return the rolls to settle by sheet, the oldest day first. Two queries."""
    return [
        SheetToSettle(sheet=sheet, rolls=tuple(rolls))
        for sheet, rolls in groupby(rolls_to_settle(), key=lambda roll: roll.sheet)
    ]
