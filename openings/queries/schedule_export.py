"""The openings of a job as their schedule is written out again, with where each stands."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from jobs.models import Job
from jobs.queries import job_of
from openings.models import Hold, Opening
from openings.queries.existing import COMPARED
from openings.schedules import WrittenOpening


@dataclass(frozen=True, slots=True, kw_only=True)
class ScheduleExport:
    """The schedule of a job as it stands."""

    job: Job
    openings: tuple[WrittenOpening, ...]


def schedule_export(job_id: int) -> ScheduleExport:
    """Return a job with its openings in order, void ones left out. Three queries, however many openings.

    Raises:
        NotFound: there is no such job.
    """
    job = job_of(job_id)
    openings = Opening.objects.not_void().filter(job=job).with_state().with_live()
    rows = openings.order_by("position", "pk").values(*_READ, *COMPARED)
    holds = _open_holds(job_id)
    return ScheduleExport(job=job, openings=tuple(_written(row, holds[row["pk"]]) for row in rows))


_CREW, _DAY, _PERSON_H = "live__crew_day__crew__name", "live__crew_day__on", "live__person_h"
_READ = ("pk", "mark", "detail__name", "state", _CREW, _DAY, _PERSON_H)


def _open_holds(job_id: int) -> dict[int, list[str]]:
    holds: dict[int, list[str]] = defaultdict(list)
    placed = Hold.objects.open().filter(opening__job=job_id).order_by("placed_at", "pk")
    for opening_id, kind in placed.values_list("opening", "kind"):
        holds[opening_id].append(kind)
    return holds


def _written(row: Mapping[str, Any], holds: Sequence[str]) -> WrittenOpening:
    said = {name: row[name] for name in COMPARED} | {"lites_in": tuple(row["lites_in"])}
    return WrittenOpening(
        mark=row["mark"],
        detail=row["detail__name"],
        status=row["state"],
        crew=row[_CREW] or "",
        crew_day=row[_DAY],
        person_h=row[_PERSON_H],
        holds=tuple(holds),
        **said,
    )
