"""Openings as a new revision of their schedule meets them."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from typing import Any

from django.db.models import QuerySet

from jobs.calc.say import day
from openings.models import Assignment, InstallRecord, Opening
from openings.models.opening import SITE_COLUMNS
from openings.schedules.difference import Existing

COMPARED = (
    "operation", "floor", "remarks", "ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in", "weight_lb",
    "frame_material", "lites_in", "design_pressure_psf", "access", "storeys_up", *SITE_COLUMNS,
)  # fmt: skip
"""The columns of an opening that a schedule can say, but for its detail."""


NOT_OF_THE_BUILD = frozenset({"floor", "remarks"})
"""Columns that draw nothing, and whose change needs nobody to look again before a crew goes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExistingOpening:
    """One opening with its values and with what binds it.

    Args:
        values: by column; the detail by its name.
        position: its place in the order of the job.
        weight_confirmed_by: id of the person who confirmed its weight, if somebody did.
        started, drawn, assigned_to: what was done with it so far, as half a sentence; empty if nothing.
    """

    existing: Existing
    values: Mapping[str, Any]
    position: int
    weight_confirmed_by: int | None = None
    started: str = ""
    drawn: str = ""
    assigned_to: str = ""

    def keeps_it(self) -> str:
        """Return why it cannot be taken out of the job; nothing if it can."""
        if self.started or self.drawn:
            return self.started or self.drawn
        return f"{self.assigned_to}; withdraw it from its crew day first" if self.assigned_to else ""

    def stays_as_it_is(self, columns: Collection[str], recorded: Collection[str]) -> str:
        """Return why these columns cannot change; nothing if they can.

        Args:
            recorded: columns that an install record speaks of.
        """
        if self.started and not set(recorded).isdisjoint(columns):
            return self.started
        return self.drawn if self.drawn and not NOT_OF_THE_BUILD.issuperset(columns) else ""


def existing_of(job_id: int, *, drawn: Callable[[int], Mapping[int, str]]) -> dict[int, ExistingOpening]:
    """Return the openings of a job by id, in its order, void ones included. Three queries and those of `drawn`."""
    openings = Opening.objects.filter(job=job_id).order_by("position", "pk")
    if not openings.exists():
        return {}
    started = {
        record["opening"]: f"its install {'is done' if record['done_at'] else 'was started'}"
        for record in InstallRecord.objects.filter(opening__job=job_id).values("opening", "done_at")
    }
    assigned = {
        one["opening"]: f"it is assigned to {one['crew_day__crew__name']} on {day(one['crew_day__on'])}"
        for one in _live(job_id).values("opening", "crew_day__crew__name", "crew_day__on")
    }
    loaded = drawn(job_id)
    columns = (
        "pk",
        "mark",
        "schedule_mark",
        "is_void",
        "schedule",
        "position",
        "detail__name",
        "weight_confirmed_by",
        *COMPARED,
    )
    found = {}
    for row in openings.values(*columns):
        opening_id = row["pk"]
        bound = 3 * (opening_id in started) or 2 * (opening_id in loaded) or int(opening_id in assigned)
        found[opening_id] = ExistingOpening(
            existing=Existing(
                opening_id=opening_id,
                mark=row["mark"],
                schedule_mark=row["schedule_mark"],
                floor=row["floor"],
                is_void=row["is_void"],
                is_by_hand=row["schedule"] is None,
                bound=bound,
            ),
            values={name: row[name] for name in COMPARED}
            | {"detail": row["detail__name"], "lites_in": tuple(row["lites_in"])},
            position=row["position"],
            weight_confirmed_by=row["weight_confirmed_by"],
            started=started.get(opening_id, ""),
            drawn=loaded.get(opening_id, ""),
            assigned_to=assigned.get(opening_id, ""),
        )
    return found


def _live(job_id: int) -> QuerySet[Assignment]:
    return Assignment.objects.filter(opening__job=job_id, withdrawn_at__isnull=True)
