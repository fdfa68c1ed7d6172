"""Crew days that cut strips of given lengths, and what their sheets cut from."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal

from jobs.models import Crew, CrewDay
from materials.models import Place, PullSheet, Remnant
from tests.factories import CrewFactory, tomorrow
from tests.materials.crew_days import make_crew_day

ROLL_IN = 120
WIDTH_IN = 9


def day_of(*strips_in: int, crew: Crew | None = None, days: int = 1) -> CrewDay:
    """Return a crew's day with openings that take sill strips of these lengths."""
    crew, on = crew or CrewFactory(), tomorrow(days)
    for length_in in strips_in:
        ro_width_in = Decimal(length_in - 2 * WIDTH_IN)
        make_crew_day(crew=crew, on=on, ro_width_in=ro_width_in, unit_width_in=ro_width_in - Decimal("0.5"))
    return CrewDay.objects.get(crew=crew, on=on)


def truck_of(crew: Crew) -> Place:
    return Place.objects.create(kind=Place.Kind.TRUCK, name=f"Truck of {crew}", crew=crew)


def cut_from(sheet: PullSheet) -> set[Remnant]:
    return {roll.remnant for roll in sheet.rolls.all() if roll.remnant}


def packages(sheet: PullSheet) -> int:
    """Return how many new rolls of sill strip a sheet takes; its rolls say the same."""
    line = sheet.lines.get(product__code="sill-strip")
    assert line.packages == sheet.rolls.filter(remnant=None).count()
    return line.packages


def waits_for(crew_day: CrewDay) -> set[Remnant]:
    return set(Remnant.objects.filter(reserved_for=crew_day))


def require_sound(sheets: list[PullSheet]) -> None:
    """Check that each opening has its strips once, no roll holds more than it has, and no remnant is cut twice."""
    rolls = [roll for sheet in sheets for roll in sheet.rolls.prefetch_related("cuts")]
    assert all(sum(cut.length_in for cut in roll.cuts.all()) == roll.length_in - roll.left_in for roll in rolls)
    cut = Counter((one.opening_id, one.part) for roll in rolls for one in roll.cuts.all())
    assert cut == Counter((opening.pk, "sill strip") for sheet in sheets for opening in sheet.openings.all())
    remnants = [roll.remnant for roll in rolls if roll.remnant]
    assert len(remnants) == len(set(remnants))
    for sheet in sheets:
        assert cut_from(sheet) == waits_for(sheet.crew_day)
