"""Settling: what trucks brought back of the rolls of their sheets."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from decimal import Decimal
from typing import NamedTuple

from django.db.models import Q

from jobs import transaction
from jobs.about import about
from jobs.calc.say import day
from jobs.errors import Conflict, Fault, NotFound
from jobs.models import Person
from jobs.queries import today_on_sites
from jobs.services import add
from materials.errors import CameBackWhole, MoreThanWent, NotLoaded
from materials.models import Lot, Place, PlannedRoll, PullSheet, Remnant, Settlement
from materials.queries import is_cut_up_by, loaded_of, went_out_after
from materials.services.opened import close_package, lot_opened, open_package
from materials.services.remnants import end_remnant, enter_remnant, lock_day, lock_remnants, put_remnant
from materials.services.stock import first_warehouse
from materials.services.tell import tell_openings
from openings.calc.figures import plain
from openings.calc.tape import format_length


class Settled(NamedTuple):
    """A roll with what came back of it, the remnant that now lies there if any does, and what follows, in words."""

    roll: PlannedRoll
    remnant: Remnant | None
    follows: tuple[str, ...]


def settle_roll(*, roll_id: int, came_back_in: Decimal, by: Person | None, place: Place | None = None) -> Settled:
    """Enter what a truck brought back of one roll; as `settle_rolls`.

    Raises:
        NotFound: there is no such roll.
        MoreThanWent, CameBackWhole, NotLoaded, Conflict, ValidationError: as `settle_rolls`.
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

    What came back is a remnant at the place; the old one that it was cut from is cut up. An old one that came back
    whole was not cut: it lies at the place and nobody counts on it. A new roll leaves the packages of the truck.
    Entered again, the same changes nothing. Entered again, another length corrects the first: the remnant keeps its
    code, or it never was; a new roll that was not opened after all is a package of the truck again.

    Args:
        came_back_in: by id of the roll; 0 where nothing worth keeping came back.
        place: where it lies now; the first warehouse where none is given, where it lay where it is corrected.

    Raises:
        NotFound: the sheet has no such roll.
        MoreThanWent: more came back than went, or less than nothing.
        CameBackWhole: a new roll came back whole, so that it is a package still.
        NotLoaded: a new roll is not among those that were entered as loaded.
        Conflict: a newer revision stands, the day is ahead, the old remnant is gone or not reserved for this day, the
            truck does not hold the package, there is no warehouse, or what came of the entry that is corrected has
            been used since.
        ValidationError: no stock is kept at the place.
    """
    rolls = _lock_rolls(sheet_id, came_back_in)
    on_hand = lock_remnants(Q(pk__in=[roll.remnant_id for roll in rolls]) | Q(left_of__in=rolls))
    ends = {roll.pk: _Ends(roll, on_hand, by=by, place=place) for roll in rolls}
    changed = [roll for roll in rolls if not _stands(roll, came_back_in[roll.pk])]
    if changed:
        _require_newest(changed[0].sheet)
    for roll in changed:
        _settle(roll, ends[roll.pk], came_back_in[roll.pk], by=by)
    if changed:
        tell_openings(changed[0].sheet.crew_day_id)
    return [Settled(roll, ends[roll.pk].lies_there, tuple(ends[roll.pk].follows())) for roll in rolls]


class _Ends:
    """The remnants of one roll: the old one that it was cut from, and the one that is left of it."""

    def __init__(self, roll: PlannedRoll, on_hand: Collection[Remnant], *, by: Person | None, place: Place | None):
        self.roll = roll
        self.old = next((one for one in on_hand if one.pk == roll.remnant_id), None)
        self.left = next((one for one in on_hand if one.left_of_id == roll.pk), None)
        self._by, self._place = by, place

    @property
    def lies_there(self) -> Remnant | None:
        """The remnant that came back: what is left, or the old one that was not cut."""
        if self.old and self.roll.came_back_in == self.roll.length_in:
            return self.old
        return self.left if self.roll.came_back_in else None

    def bring_back_whole(self) -> None:
        """The old remnant was not cut: it lies there, free of the crew day."""
        if self.old:
            is_ours = self.old.reserved_for_id == self.roll.sheet.crew_day_id
            reserved_for = None if is_ours else self.old.reserved_for
            put_remnant(self.old, place=self._place or _warehouse(), reserved_for=reserved_for)

    def cut_up_old(self) -> None:
        if self.old:
            end_remnant(self.old, Remnant.Fate.CUT_UP, self._by)

    def leave(self, length_in: Decimal, lot: Lot | None) -> None:
        """Let so much of the roll lie there, under the code that it has if it has one."""
        if self.left is None:
            place, product = self._place or _warehouse(), self.roll.product
            self.left = enter_remnant(
                product=product, length_in=length_in, place=place, by=self._by, lot=lot, left_of=self.roll
            )
        else:
            put_remnant(self.left, place=self._place or self.left.place, length_in=length_in)

    def leave_nothing(self) -> None:
        if self.left:
            end_remnant(self.left, Remnant.Fate.MISTAKEN, self._by)

    def follows(self) -> Iterator[str]:
        """Yield what follows from what is entered now."""
        roll, old, left = self.roll, self.old, self.left
        if roll.came_back_in is None:
            yield (
                f"{roll} was not opened: it is still a full {roll.product.package} on the truck; enter one fewer "
                "as loaded once it is back"
            )
        elif old and roll.came_back_in == roll.length_in:
            yield f"{old.code} was not cut and is at {old.place}, free for any crew"
        elif old:
            yield f"{old.code} is {old.fate}"
        if left and left.fate == Remnant.Fate.MISTAKEN:
            yield f"{left.code} was entered by mistake and is out of stock"
        elif left and roll.came_back_in:
            yield f"{left.code}, {format_length(left.length_in)} of {left.product}, is at {left.place}"


def _settle(roll: PlannedRoll, ends: _Ends, came_back_in: Decimal, *, by: Person | None) -> None:
    is_correction, is_whole = roll.came_back_in is not None, came_back_in == roll.length_in
    _require_possible(roll, ends, came_back_in, is_correction=is_correction)
    if is_correction:
        _require_unused(roll, ends, came_back_in)
    elif roll.remnant_id is None:
        _require_loaded(roll)
        open_package(roll, by=by)
    if is_whole and roll.remnant_id is None:
        close_package(roll, by=by)
    roll.came_back_in = None if is_whole and roll.remnant_id is None else came_back_in
    roll.save(update_fields=["came_back_in"])
    add(Settlement(roll=roll, came_back_in=came_back_in, entered_by=by))
    if is_whole:
        ends.bring_back_whole()
    else:
        ends.cut_up_old()
    if came_back_in and not is_whole:
        ends.leave(came_back_in, ends.old.lot if ends.old else lot_opened(roll))
    else:
        ends.leave_nothing()


def _stands(roll: PlannedRoll, came_back_in: Decimal) -> bool:
    """Return whether just this was entered last."""
    if roll.came_back_in is not None:
        return bool(roll.came_back_in == came_back_in)
    last = roll.settlements.first()
    return last is not None and last.came_back_in == came_back_in


def _require_newest(sheet: PullSheet) -> None:
    newest = PullSheet.objects.newest_written().defer("workbook").filter(crew_day=sheet.crew_day_id).first()
    if newest is None or newest.pk != sheet.pk:
        about_it = [about(sheet), *([about(newest)] if newest else [])]
        raise Conflict(f"{sheet} is superseded; enter the returns of {newest}", about=about_it)
    if sheet.crew_day.on > today_on_sites():
        sentence = f"{sheet} is for {day(sheet.crew_day.on)}; enter its returns once the truck is back"
        raise Conflict(sentence, about=[about(sheet)])


def _require_possible(roll: PlannedRoll, ends: _Ends, came_back_in: Decimal, *, is_correction: bool) -> None:
    def fault(detail: str) -> list[Fault]:
        return [Fault(field="came_back_in", value=plain(came_back_in), detail=detail)]

    if not 0 <= came_back_in <= roll.length_in:
        detail = f"give 0 to {format_length(roll.length_in)}, what went out"
        raise MoreThanWent((
            f"{roll} had {format_length(roll.length_in)}; {format_length(came_back_in)} cannot come back of "
            "it"
        ),
                           faults=fault(detail))  # fmt: skip
    if roll.remnant_id is None and came_back_in == roll.length_in and not is_correction:
        package = roll.product.package
        sentence = (
            f"{roll} came back whole: it is still a full {package}, not a remnant; enter one {package} fewer as loaded"
        )
        raise CameBackWhole(sentence, faults=fault(sentence))
    old = ends.old
    if old is None or is_correction:
        return
    if old.fate and came_back_in:
        sentence = f"{old} is {old.fate} already; enter what is there as a remnant that was found"
        raise Conflict(sentence, about=[about(roll), about(old)])
    if not old.fate and old.reserved_for_id != roll.sheet.crew_day_id:
        held = f"it is reserved for {old.reserved_for}" if old.reserved_for else "it is reserved for no crew"
        raise Conflict(f"{old} did not go with {roll.sheet.crew_day}: {held}", about=[about(roll), about(old)])


def _require_loaded(roll: PlannedRoll) -> None:
    loaded = loaded_of(roll)
    if loaded.holds(roll.number):
        return
    sentence = f"{roll} was not loaded: {loaded.in_words(roll.product)}. Enter first what was loaded"
    raise NotLoaded(sentence, faults=[Fault(field="came_back_in", detail=sentence)], about=[about(roll)])


def _require_unused(roll: PlannedRoll, ends: _Ends, came_back_in: Decimal) -> None:
    """Raise Conflict if what came of the entry before has been used since, so that it stays as it was entered."""
    was_whole = roll.came_back_in == roll.length_in
    lay_there = ends.old if was_whole else ends.left
    if lay_there and lay_there.fate != Remnant.Fate.MISTAKEN and (why := _why_used(lay_there, roll)):
        entered = f"{format_length(roll.came_back_in or Decimal(0))} came back of {roll}"
        sentence = f"{entered}, and {lay_there} {why}; enter what is there now as a remnant that was found"
        raise Conflict(sentence, about=[about(roll), about(lay_there)])
    if ends.old and not was_whole and came_back_in and not is_cut_up_by(ends.old, roll):
        sentence = f"{ends.old} is {ends.old.fate} already; enter what is there as a remnant that was found"
        raise Conflict(sentence, about=[about(roll), about(ends.old)])


def _why_used(remnant: Remnant, roll: PlannedRoll) -> str:
    """Return what was done since with a remnant that lay there once a roll was settled, in words."""
    if remnant.fate:
        return f"has since been {remnant.fate}"
    if remnant.reserved_for:
        return f"has since been reserved for {remnant.reserved_for}"
    return "has since gone out again" if went_out_after(remnant, roll) else ""


def _warehouse() -> Place:
    return first_warehouse(
        else_say="there is no warehouse to bring it back to; add one under places, or say where it is"
    )


def _lock_rolls(sheet_id: int, roll_ids: Collection[int]) -> list[PlannedRoll]:
    """Return rolls of a sheet in order of id, their crew day locked until the transaction ends."""
    crew_day_id = PullSheet.objects.filter(pk=sheet_id).values_list("crew_day", flat=True).first()
    if crew_day_id is None:
        raise NotFound(f"there is no pull sheet {sheet_id}")
    lock_day(crew_day_id)
    joined = PlannedRoll.objects.select_related("product", "remnant", "sheet__crew_day__crew").defer("sheet__workbook")
    rolls = list(joined.filter(sheet=sheet_id, pk__in=roll_ids).order_by("pk"))
    if missing := sorted(set(roll_ids) - {roll.pk for roll in rolls}):
        raise NotFound(f"this pull sheet has no roll {', '.join(map(str, missing))}")
    return rolls
