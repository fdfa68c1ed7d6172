"""Loading a truck from its pull sheet."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from jobs import transaction
from jobs.about import about
from jobs.calc.say import plural
from jobs.errors import Conflict, NotFound
from jobs.models import CrewDay, Person
from jobs.services import change
from materials.models import Place, PullSheet, PullSheetLine
from materials.queries import opened_of
from materials.services.stock import first_warehouse, move_oldest
from materials.services.tell import lock_listed, tell_openings


@transaction.atomic
def load_line(*, sheet_id: int, line_id: int, packages: int, by: Person | None) -> PullSheetLine:
    """Enter how many packages of a line lie on the truck; only what differs from before is moved.

    Raises:
        NotFound: the sheet has no such line.
        Conflict: no product is chosen for it, a newer revision stands, a place is missing, the warehouse
            does not hold that many, or more were opened since than are left.
    """
    line = _load(sheet_id, line_id, packages, by)
    tell_openings(line.sheet.crew_day_id)
    return line


@transaction.atomic
def load_lines(*, sheet_id: int, packages: Mapping[int, int], by: Person | None) -> list[PullSheetLine]:
    """Enter what lies on the truck for several lines of a sheet, by line id: all of them or none.

    Raises:
        NotFound, Conflict: as `load_line`.
    """
    lines = [_load(sheet_id, line_id, packages[line_id], by) for line_id in sorted(packages)]
    if lines:
        tell_openings(lines[0].sheet.crew_day_id)
    return lines


def _load(sheet_id: int, line_id: int, packages: int, by: Person | None) -> PullSheetLine:
    line = _lock_line(sheet_id, line_id)
    if line.product is None:
        sentence = f"no product is chosen for {line.parts}; choose one for the detail first"
        raise Conflict(sentence, about=[about(line.sheet), about(line)])
    if not PullSheet.objects.newest_written().filter(crew_day=line.sheet.crew_day_id, pk=line.sheet_id).exists():
        sentence = f"{line.sheet} is superseded; load from the current revision"
        raise Conflict(sentence, about=[about(line.sheet), about(line)])
    if (opened := opened_of(line)) > packages:
        entered = f"{opened} × {line.product} {plural('was', opened)} opened on this truck and settled"
        sentence = f"{entered}; {packages} cannot be all that was loaded"
        raise Conflict(sentence, about=[about(line.sheet), about(line)])
    more = packages - (line.loaded_packages or 0)
    if more:
        warehouse, truck = _ends(line)
        source, destination = (warehouse, truck) if more > 0 else (truck, warehouse)
        move_oldest(
            product=line.product,
            source=source,
            destination=destination,
            packages=Decimal(abs(more)),
            by=by,
            reason=str(line.sheet),
        )
    return change(line, loaded_packages=packages)


def _lock_line(sheet_id: int, line_id: int) -> PullSheetLine:
    """Return a line of a sheet whose openings and then crew day are locked until the transaction ends.

    Nobody changes an opening while its material is loaded, and nobody else loads or revises the sheet.
    """
    lock_listed(sheet_id)
    crew_day = PullSheet.objects.filter(pk=sheet_id).values("crew_day")
    CrewDay.objects.select_for_update(no_key=True).filter(pk__in=crew_day).first()
    lines = PullSheetLine.objects.select_related("sheet__crew_day__crew", "product")
    line = lines.filter(pk=line_id, sheet=sheet_id).first()
    if line is None:
        raise NotFound(f"this pull sheet has no line {line_id}")
    return line


def _ends(line: PullSheetLine) -> tuple[Place, Place]:
    crew = line.sheet.crew_day.crew
    warehouse = first_warehouse(else_say="there is no warehouse to load from; add one under places")
    truck, _ = Place.objects.get_or_create(kind=Place.Kind.TRUCK, crew=crew, defaults={"name": f"Truck of {crew.name}"})
    return warehouse, truck
