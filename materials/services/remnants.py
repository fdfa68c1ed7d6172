"""Remnants: entered, reserved, scrapped, and settled once a truck is back."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from decimal import Decimal
from typing import NamedTuple

from django.db.models import Q
from django.utils import timezone

from jobs import transaction
from jobs.errors import Conflict, Fault, NotFound
from jobs.models import CrewDay, Person
from jobs.queries import today_on_sites
from jobs.services import add, change
from materials.errors import CameBackWhole, MoreThanWent
from materials.models import Lot, Place, PlannedRoll, Product, PullSheet, Remnant
from materials.queries import latest_written
from materials.services.stock import first_warehouse, move_oldest
from openings.calc.figures import plain

OPENED = "Opened packages"
"""The place, of kind scrap, where packages end that were opened: what is left of them is a remnant, not a package."""


class Settled(NamedTuple):
    """A roll with what came back of it, and the remnant that now lies there: None where none was entered."""

    roll: PlannedRoll
    remnant: Remnant | None


def enter_remnant(
    *,
    product: Product,
    length_in: Decimal,
    place: Place,
    by: Person | None,
    lot: Lot | None = None,
    left_of: PlannedRoll | None = None,
) -> Remnant:
    """Enter a remnant that somebody found or brought.

    Raises:
        ValidationError: the product has no lengths, a package of it is shorter, no stock is kept at the place, or
            the lot is one of another product.
    """
    return add(Remnant, product=product, length_in=length_in, place=place, entered_by=by, lot=lot, left_of=left_of)


@transaction.atomic
def reserve_remnants(*, crew_day_id: int, remnant_ids: Collection[int]) -> None:
    """Reserve exactly these remnants for a crew day; others that it had are released.

    Raises:
        NotFound: there is no such crew day or remnant.
        Conflict: one is gone, reserved for another crew day, or neither in a warehouse nor on the crew's truck.
    """
    crew_day = _lock_crew_day(crew_day_id)
    wanted = set(remnant_ids)
    remnants = _lock_remnants(Q(pk__in=wanted) | Q(reserved_for=crew_day))
    _require_all(wanted, remnants)
    for remnant in remnants:
        if remnant.pk in wanted:
            _require_free(remnant, crew_day)
    reserved = Remnant.objects.filter(reserved_for=crew_day)
    reserved.exclude(pk__in=wanted).update(reserved_for=None)
    Remnant.objects.filter(pk__in=wanted, reserved_for=None).update(reserved_for=crew_day)


def remnant_to_scrap(remnant_id: int) -> Remnant:
    """Return a remnant that can be scrapped, with the crew day that counts on it. One query.

    Raises:
        NotFound, Conflict: as `scrap_remnant`.
    """
    remnants = list(_JOINED.filter(pk=remnant_id))
    _require_all({remnant_id}, remnants)
    _require_not_cut_up(remnants[0])
    return remnants[0]


@transaction.atomic
def scrap_remnant(*, remnant_id: int, by: Person | None) -> Remnant:
    """Enter that a remnant is gone; who counted on it counts on it no more.

    Raises:
        NotFound: there is no such remnant.
        Conflict: it is cut up already.
    """
    remnants = _lock_remnants(Q(pk=remnant_id))
    _require_all({remnant_id}, remnants)
    (remnant,) = remnants
    _require_not_cut_up(remnant)
    _end(remnant, Remnant.Fate.SCRAPPED, by)
    return remnant


def settle_roll(*, roll_id: int, came_back_in: Decimal, by: Person | None, place: Place | None = None) -> Settled:
    """Enter what a truck brought back of one roll; as `settle_rolls`.

    Raises:
        NotFound: there is no such roll.
        MoreThanWent, CameBackWhole, Conflict, ValidationError: as `settle_rolls`.
    """
    sheet_id = PlannedRoll.objects.filter(pk=roll_id).values_list("sheet", flat=True).first()
    if sheet_id is None:
        raise NotFound(f"there is no roll {roll_id}")
    return settle_rolls(sheet_id=sheet_id, came_back_in={roll_id: came_back_in}, by=by, place=place)[0]


@transaction.atomic
def settle_rolls(
    *, sheet_id: int, came_back_in: Mapping[int, Decimal], by: Person | None, place: Place | None = None
) -> list[Settled]:
    """Enter what a truck brought back of rolls of a sheet, in one piece each: all of them or none.

    What came back is a new remnant at the place; the old one that it was cut from is cut up. An old one that came
    back whole was not cut: it lies at the place and nobody counts on it. A new roll leaves the packages of the
    truck, as far as they count it. Entered again, the same changes nothing.

    Args:
        came_back_in: by id of the roll; 0 where nothing worth keeping came back.
        place: where it lies now; the first warehouse where none is given.

    Raises:
        NotFound: the sheet has no such roll.
        MoreThanWent: more came back than went, or less than nothing.
        CameBackWhole: a new roll came back whole, so that it is a package still.
        Conflict: another length was entered before, a newer revision stands, the day is ahead, the old remnant is
            gone already, or there is no warehouse.
        ValidationError: no stock is kept at the place.
    """
    rolls = _lock_rolls(sheet_id, came_back_in)
    remnants = {remnant.pk: remnant for remnant in _lock_remnants(Q(pk__in=[roll.remnant_id for roll in rolls]))}
    open_rolls = [roll for roll in rolls if not _is_settled(roll, came_back_in[roll.pk])]
    if open_rolls:
        _require_newest(open_rolls[0].sheet)
    settled = {
        roll.pk: _settle(roll, remnants.get(roll.remnant_id), came_back_in[roll.pk], by=by, place=place)
        for roll in open_rolls
    }
    return [settled.get(roll.pk) or Settled(roll, _left_of(roll)) for roll in rolls]


def _left_of(roll: PlannedRoll) -> Remnant | None:
    """Return the remnant of a roll that was settled before: what is left of it, or the old one that came back whole."""
    return roll.remnant if roll.remnant and roll.came_back_in == roll.length_in else getattr(roll, "left", None)


def _settle(
    roll: PlannedRoll, old: Remnant | None, came_back_in: Decimal, *, by: Person | None, place: Place | None
) -> Settled:
    _require_possible(roll, old, came_back_in)
    change(roll, came_back_in=came_back_in)
    if old and came_back_in == roll.length_in:
        return Settled(roll, _brought_back(old, roll.sheet.crew_day_id, place or _warehouse()))
    if old:
        _end(old, Remnant.Fate.CUT_UP, by)
    lot = old.lot if old else _opened(roll, by)
    if not came_back_in:
        return Settled(roll, None)
    remnant = enter_remnant(
        product=roll.product, length_in=came_back_in, place=place or _warehouse(), by=by, lot=lot, left_of=roll
    )
    return Settled(roll, remnant)


def _brought_back(remnant: Remnant, crew_day_id: int, place: Place) -> Remnant:
    """Return a remnant that was not cut, where it lies now and free of the crew day."""
    is_ours = remnant.reserved_for_id == crew_day_id
    return change(remnant, place=place, reserved_for=None if is_ours else remnant.reserved_for)


def _end(remnant: Remnant, fate: Remnant.Fate, by: Person | None) -> None:
    """Enter how a remnant ended; one that is gone stays as it went.

    It is not validated anew: one that is longer than the packages of today can end too.
    """
    if not remnant.fate:
        remnant.fate, remnant.gone_at, remnant.gone_by, remnant.reserved_for = fate, timezone.now(), by, None
        remnant.save(update_fields=["fate", "gone_at", "gone_by", "reserved_for"])


def _opened(roll: PlannedRoll, by: Person | None) -> Lot | None:
    """Take an opened package out of those of the truck, if it counts one, and return its lot."""
    truck = Place.objects.filter(kind=Place.Kind.TRUCK, crew=roll.sheet.crew_day.crew_id).first()
    if truck is None:
        return None
    end, _ = Place.objects.get_or_create(name=OPENED, defaults={"kind": Place.Kind.SCRAP})
    try:
        moved = move_oldest(
            product=roll.product, source=truck, destination=end, packages=Decimal(1), by=by, reason=str(roll)
        )
    except Conflict:  # it was never entered as loaded
        return None
    return moved[0].lot


def _is_settled(roll: PlannedRoll, came_back_in: Decimal) -> bool:
    if roll.came_back_in is None:
        return False
    if roll.came_back_in != came_back_in:
        entered = f"{plain(roll.came_back_in)} in came back of it, not {plain(came_back_in)} in"
        raise Conflict(f"{roll} is settled already: {entered}")
    return True


def _require_newest(sheet: PullSheet) -> None:
    newest = latest_written().defer("workbook").filter(crew_day=sheet.crew_day_id).first()
    if newest is None or newest.pk != sheet.pk:
        raise Conflict(f"{sheet} is superseded; settle the rolls of {newest}")
    if sheet.crew_day.on > today_on_sites():
        raise Conflict(f"{sheet} is for {sheet.crew_day.on}; its rolls are settled once the truck is back")


def _require_possible(roll: PlannedRoll, old: Remnant | None, came_back_in: Decimal) -> None:
    def fault(detail: str) -> list[Fault]:
        return [Fault(field="came_back_in", value=plain(came_back_in), detail=detail)]

    if not 0 <= came_back_in <= roll.length_in:
        detail = f"between 0 and the {plain(roll.length_in)} in that went"
        raise MoreThanWent(f"{roll} had {plain(roll.length_in)} in; {plain(came_back_in)} in cannot come back of it",
                           faults=fault(detail))  # fmt: skip
    if old is None and came_back_in == roll.length_in:
        package = roll.product.package
        sentence = f"{roll} came back whole: it is a {package} still, no remnant; enter one {package} fewer as loaded"
        raise CameBackWhole(sentence, faults=fault(sentence))
    if old and old.fate and came_back_in:
        raise Conflict(f"{old} is {old.fate} already; enter what lies there as a remnant that was found")


def _require_not_cut_up(remnant: Remnant) -> None:
    if remnant.fate == Remnant.Fate.CUT_UP:
        raise Conflict(f"{remnant} is cut up already; there is nothing left of it to scrap")


def _require_all(wanted: Collection[int], remnants: Collection[Remnant]) -> None:
    if missing := sorted(set(wanted) - {remnant.pk for remnant in remnants}):
        raise NotFound(f"there is no remnant {', '.join(Remnant(pk=pk).code for pk in missing)}")


def _require_free(remnant: Remnant, crew_day: CrewDay) -> None:
    place = remnant.place
    if remnant.fate:
        why = f"is {remnant.fate}"
    elif remnant.reserved_for_id not in (None, crew_day.pk):
        why = f"is reserved for {remnant.reserved_for}"
    elif place.kind != Place.Kind.WAREHOUSE and place.crew_id != crew_day.crew_id:
        why = f"lies at {place}"
    else:
        return
    raise Conflict(f"{remnant} cannot be reserved for {crew_day}: it {why}")


def _warehouse() -> Place:
    return first_warehouse(
        else_say="there is no warehouse to bring it back to; add a place of that kind, or say where it lies"
    )


def _lock_crew_day(crew_day_id: int) -> CrewDay:
    """Return a crew day that nobody plans, loads or settles until the transaction ends."""
    crew_days = CrewDay.objects.select_for_update(of=("self",), no_key=True).select_related("crew")
    found = crew_days.filter(pk=crew_day_id).first()
    if found is None:
        raise NotFound(f"there is no crew day {crew_day_id}")
    return found


_JOINED = Remnant.objects.select_related("product", "place", "lot", "reserved_for__crew")


def _lock_remnants(which: Q) -> list[Remnant]:
    """Return remnants in order of id, locked until the transaction ends.

    What is joined is read once the lock is held: a locked row is current, one joined to it while waiting is not.
    """
    locked = list(Remnant.objects.select_for_update().filter(which).order_by("pk").values_list("pk", flat=True))
    return list(_JOINED.filter(pk__in=locked).order_by("pk"))


def _lock_rolls(sheet_id: int, roll_ids: Collection[int]) -> list[PlannedRoll]:
    """Return rolls of a sheet in order of id, their crew day locked until the transaction ends."""
    crew_day_id = PullSheet.objects.filter(pk=sheet_id).values_list("crew_day", flat=True).first()
    if crew_day_id is None:
        raise NotFound(f"there is no pull sheet {sheet_id}")
    _lock_crew_day(crew_day_id)
    joined = PlannedRoll.objects.select_related("product", "remnant", "left", "sheet__crew_day__crew").defer(
        "sheet__workbook"
    )
    rolls = list(joined.filter(sheet=sheet_id, pk__in=roll_ids).order_by("pk"))
    if missing := sorted(set(roll_ids) - {roll.pk for roll in rolls}):
        raise NotFound(f"this pull sheet has no roll {', '.join(map(str, missing))}")
    return rolls
