"""Remnants that lie there, those a crew day may count on, and rolls of which a truck brings something back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from itertools import groupby
from typing import TYPE_CHECKING, TypedDict

from django.db.models import Case, Count, Exists, F, OuterRef, Prefetch, Q, QuerySet, Subquery, Value, When

from jobs.calc.say import counted, plural
from jobs.queries import today_on_sites
from materials.models import Place, PlannedRoll, Product, PullSheet, PullSheetLine, Remnant, Settlement

if TYPE_CHECKING:
    from django_stubs_ext import WithAnnotations

    class _Out(TypedDict):
        loaded: int | None
        remnants: int | None
        opened: int | None
        offered_in: Decimal

    RollOut = WithAnnotations[PlannedRoll, _Out]

OPENED = Q(remnant__isnull=True, came_back_in__isnull=False)
"""New rolls of which it is entered what came back, so that their packages were opened."""

LYING = Q(fate="")
IN_A_WAREHOUSE = Q(place__kind=Place.Kind.WAREHOUSE)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetToSettle:
    """A sheet whose truck is out or back, with some of its rolls."""

    sheet: PullSheet
    rolls: tuple[PlannedRoll, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """How many packages of a product are entered as loaded on a sheet: None where nobody entered any.

    Of the rolls of the sheet, `remnants` are numbered before the new ones, of which `settled` are settled.
    """

    packages: int | None
    remnants: int
    settled: int

    def holds(self, number: int) -> bool:
        """Return whether the new roll of that number is among those loaded, and not all of these are settled."""
        packages = self.packages or 0
        return number - self.remnants <= packages and self.settled < packages

    def in_words(self, product: Product) -> str:
        """Return what is loaded of the product as half a sentence."""
        if not self.packages:
            return f"no {product.package} of {product} is entered as loaded, and only what was loaded can come back"
        said = f"{counted(self.packages, product.package)} {plural('is', self.packages)} entered as loaded"
        return f"of {product}, {said}" + (f", and {self.settled} settled" if self.settled else "")


def remnant_list() -> QuerySet[Remnant]:
    """Return remnants, gone ones too, with product, place and the crew that counts on each joined. One query."""
    return Remnant.objects.select_related("product", "place", "reserved_for__crew")


def remnants_on_hand() -> QuerySet[Remnant]:
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


def lost_remnants(sheet: PullSheet) -> QuerySet[Remnant]:
    """Return the remnants that a sheet is to be cut from and that are not reserved for its crew day any more.

    Products joined. One query.
    """
    cut_from = sheet.rolls.filter(remnant__isnull=False).order_by().values("remnant")
    kept = Q(reserved_for=sheet.crew_day_id)
    return Remnant.objects.filter(~kept | Q(reserved_for__isnull=True), pk__in=cut_from).select_related("product")


def loaded_of(roll: PlannedRoll) -> Loaded:
    """Return what of the product of a roll is entered as loaded on its sheet. Two queries."""
    line = PullSheetLine.objects.filter(sheet=roll.sheet_id, product=roll.product_id).first()
    counts = PlannedRoll.objects.filter(sheet=roll.sheet_id, product=roll.product_id).aggregate(
        remnants=Count("pk", filter=Q(remnant__isnull=False)), settled=Count("pk", filter=OPENED)
    )
    return Loaded(packages=line.loaded_packages if line else None, **counts)


def opened_of(line: PullSheetLine) -> int:
    """Return how many packages of a line were opened: of so many new rolls it is entered what came back. One query."""
    return PlannedRoll.objects.filter(OPENED, sheet=line.sheet_id, product=line.product_id).count()


def went_out_after(remnant: Remnant, roll: PlannedRoll) -> bool:
    """Return whether a remnant came back of another truck than that of `roll`, planned later. One query."""
    return PlannedRoll.objects.filter(remnant=remnant, came_back_in__isnull=False, pk__gt=roll.pk).exists()


def is_cut_up_by(remnant: Remnant, roll: PlannedRoll) -> bool:
    """Return whether it is this roll of a sheet, and no other, that a remnant was cut up for. One query."""
    cut = PlannedRoll.objects.filter(remnant=remnant, came_back_in__lt=F("length_in")).values_list("pk", flat=True)
    return remnant.fate == Remnant.Fate.CUT_UP and set(cut) == {roll.pk}


def rolls_to_settle() -> QuerySet[RollOut]:
    """Return the rolls of trucks that are back or out, of which it is still to be entered what came back. Two queries.

    Those are the remnants that went, and of new rolls as many as are entered as loaded: one beyond their number
    stayed behind or came back whole. Each roll has `offered_in`: what is planned to come back of it, 0 where that is
    not worth keeping. The oldest day comes first; products, remnants and crews are joined, workbooks left out.
    """
    is_loaded = Q(number__lte=F("loaded") + F("remnants"), opened__lt=F("loaded"))
    return _rolls_out().filter(Q(remnant__isnull=False) | is_loaded, came_back_in__isnull=True)


def rolls_never_loaded() -> QuerySet[RollOut]:
    """Return the new rolls of trucks that are back or out, of whose product nobody entered what is loaded.

    Two queries; as `rolls_to_settle`. Only those of which something is planned to be worth keeping.
    """
    return _rolls_out().filter(remnant__isnull=True, loaded__isnull=True, offered_in__gt=Decimal(0))


def rolls_settled_since(instant: datetime) -> QuerySet[RollOut]:
    """Return the rolls of which it was entered since then what came back, with all their entries. Three queries.

    Joined and ordered as `rolls_to_settle`.
    """
    entered = Settlement.objects.filter(roll=OuterRef("pk"), entered_at__gte=instant)
    entries = Prefetch("settlements", Settlement.objects.select_related("entered_by"))
    return _rolls_out().filter(Exists(entered)).select_related("left__place").prefetch_related(entries)


def _rolls_out() -> QuerySet[RollOut]:
    sheets = PullSheet.objects.newest_written().filter(crew_day__on__lte=today_on_sites())
    of_product = {"sheet": OuterRef("sheet"), "product": OuterRef("product")}
    loaded = PullSheetLine.objects.filter(**of_product).values("loaded_packages")
    alike = PlannedRoll.objects.filter(**of_product).order_by().values("product")
    remnants = alike.annotate(n=Count("pk", filter=Q(remnant__isnull=False))).values("n")
    opened = alike.annotate(n=Count("pk", filter=OPENED)).values("n")
    is_kept = Q(left_in__gte=F("product__shortest_remnant_in"))
    return (
        PlannedRoll.objects.filter(sheet__in=sheets.values("pk"))
        .annotate(
            loaded=Subquery(loaded),
            remnants=Subquery(remnants),
            opened=Subquery(opened),
            offered_in=Case(When(is_kept, then=F("left_in")), default=Value(Decimal(0))),
        )
        .select_related("product", "remnant", "sheet__crew_day__crew")
        .defer("sheet__workbook")
        .order_by("sheet__crew_day__on", "sheet__crew_day__crew__name", "product__code", "number")
    )


def by_sheet(rolls: Iterable[PlannedRoll]) -> list[SheetToSettle]:
    """Return rolls by sheet, in their order. No query of its own."""
    return [
        SheetToSettle(sheet=sheet, rolls=tuple(of_sheet))
        for sheet, of_sheet in groupby(rolls, key=lambda roll: roll.sheet)
    ]
