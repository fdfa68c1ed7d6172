"""Saying how the whole company works on a day, and what that does to the days of its crews."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs import transaction
from jobs.about import about
from jobs.calc.say import counted
from jobs.calc.say import day as say_day
from jobs.errors import NotFound
from jobs.models import CompanyDay, Crew, CrewDay, Person
from jobs.services import add, change
from openings.errors import WouldStrand
from openings.models.values import CrewDayValues
from openings.queries import Stranded
from openings.services.crew_day import change_crew_day


@transaction.atomic
def set_company_day(
    *, on: date, name: str, shift_h: Decimal | None, by: Person, is_sure: bool = True
) -> tuple[CompanyDay, list[Stranded]]:
    """Confirm how the company works on a date; return the day and the openings that are stranded by it.

    Crews that have that day already follow: off for the name of the day, or so many hours a person. A day off that a
    crew has for a reason of its own stays.

    Args:
        shift_h: hours one person works at most; 0 is a day off, None a day worked as usual.
        is_sure: openings may be stranded; they stay in sight until somebody moves or unassigns them.

    Raises:
        ValidationError: a value or a constraint is not kept.
        WouldStrand: openings would be stranded, and `is_sure` is False.
    """
    row = CompanyDay.objects.select_for_update().filter(on=on).first()
    before = _As(name=row.name, shift_h=row.shift_h) if row else AS_USUAL
    if row:
        row = change(row, name=name, shift_h=shift_h, confirmed_by=by)
    else:
        row = add(CompanyDay(on=on, name=name, shift_h=shift_h, confirmed_by=by))
    found = _follow(on, before, _As(name=name, shift_h=shift_h))
    if found and not is_sure:
        raise _would_strand(row, found)
    return row, found


@transaction.atomic
def company_day_would_strand(*, on: date, name: str, shift_h: Decimal | None, by: Person) -> str:
    """Return in words which openings `set_company_day` would strand, an empty text if none. Nothing is changed.

    Raises:
        ValidationError: as `set_company_day`.
    """
    try:
        set_company_day(on=on, name=name, shift_h=shift_h, by=by, is_sure=False)
    except WouldStrand as error:
        return error.detail
    finally:
        transaction.take_back()
    return ""


@transaction.atomic
def unset_company_day(*, company_day_id: int) -> date:
    """Let a date be as usual again, those crews too that were off for it; return the date.

    Raises:
        NotFound: there is no such day.
    """
    row = CompanyDay.objects.select_for_update().filter(pk=company_day_id).first()
    if row is None:
        raise NotFound(f"there is no company day {company_day_id}")
    _follow(row.on, _As(name=row.name, shift_h=row.shift_h), AS_USUAL)
    row.delete()
    return row.on


@dataclass(frozen=True, slots=True, kw_only=True)
class _As:
    """How the company works on a date."""

    name: str
    shift_h: Decimal | None

    def day_of(self, crew: Crew) -> CrewDayValues:
        """Return the day of a crew that works as the company does."""
        return {
            "off_reason": self.name if self.shift_h == 0 else "",
            "capacity_person_h": crew.capacity_in(self.shift_h),
        }


AS_USUAL = _As(name="", shift_h=None)


def _follow(on: date, before: _As, now: _As) -> list[Stranded]:
    """Let the days of crews follow the company; one off for a reason of its own stays, none gets more hours."""
    found: list[Stranded] = []
    for day in CrewDay.objects.filter(on=on).select_related("crew").order_by("pk"):
        was, values = before.day_of(day.crew), now.day_of(day.crew)
        is_own = (day.off_reason, day.capacity_person_h) != (was["off_reason"], was["capacity_person_h"])
        if is_own and day.is_off:
            continue
        if is_own:
            values["capacity_person_h"] = min(day.capacity_person_h, values["capacity_person_h"])
        found += change_crew_day(crew_day_id=day.pk, **values)
    return found


def _would_strand(row: CompanyDay, found: list[Stranded]) -> WouldStrand:
    assigned = [one.assignment for one in found]
    marks = ", ".join(f"{one.opening.mark} of {one.opening.job.code} ({one.crew_day.crew})" for one in assigned)
    return WouldStrand(
        f"{counted(len(found), 'opening')} would be without a crew on {say_day(row.on)}, {row.name}: {marks}",
        about=[about(one.opening) for one in assigned],
    )
