"""Openings as a new revision of their schedule meets them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

from jobs.calc import say
from jobs.models import Person
from openings.calc.as_built import Size
from openings.calc.binding import Bound, Decision, Verb, decide
from openings.models import Opening
from openings.models.opening import SITE_COLUMNS
from openings.queries.binding import bounds_of
from openings.schedules import Existing

COMPARED = (
    "operation", "floor", "remarks", "ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in", "weight_lb",
    "frame_material", "lites_in", "design_pressure_psf", "access", "storeys_up", *SITE_COLUMNS,
)  # fmt: skip
"""The columns of an opening that a schedule can say, but for its detail."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExistingOpening:
    """One opening with its values and with what binds it.

    Args:
        values: by column; the detail by its name.
        position: its place in the order of the job.
        built_in: width and height of its rough opening as built, where a measurement is accepted; no schedule changes
            that.
        weight_confirmed_by: id of the person who confirmed its weight, if somebody did.
        changed_by_hand: columns that somebody changed since a schedule gave them.
        voided_by_hand: who made it void, when and why, as a clause; empty where a schedule did, or where it counts.
        bounds: what binds it, the looser first.
    """

    existing: Existing
    values: Mapping[str, Any]
    position: int
    built_in: Size | None = None
    weight_confirmed_by: int | None = None
    changed_by_hand: tuple[str, ...] = ()
    voided_by_hand: str = ""
    bounds: tuple[Bound, ...] = ()

    def decide(self, verb: Verb) -> Decision:
        """Return what becomes of a verb by what binds the opening."""
        return decide(verb, self.bounds)


def existing_of(job_id: int) -> dict[int, ExistingOpening]:
    """Return the openings of a job by id, in its order, void ones included. Five queries, or six."""
    openings = Opening.objects.filter(job=job_id).order_by("position", "pk")
    if not openings.exists():
        return {}
    bounds = bounds_of(openings)
    columns = (
        "pk",
        "mark",
        "schedule_mark",
        "is_void",
        "schedule",
        "position",
        "detail__name",
        "weight_confirmed_by",
        "changed_by_hand",
        "voided_by",
        "voided_at",
        "void_why",
        "job__time_zone",
        "built_ro_width_in",
        "built_ro_height_in",
        *COMPARED,
    )
    found = {}
    rows = list(openings.values(*columns))
    voided = _voided_by_hand(rows)
    for row in rows:
        opening_id = row["pk"]
        binds = bounds.get(opening_id, ())
        found[opening_id] = ExistingOpening(
            existing=Existing(
                opening_id=opening_id,
                mark=row["mark"],
                schedule_mark=row["schedule_mark"],
                floor=row["floor"],
                is_void=row["is_void"],
                is_by_hand=row["schedule"] is None,
                bound=binds[-1].bond.strength if binds else 0,
            ),
            values={name: row[name] for name in COMPARED}
            | {"detail": row["detail__name"], "lites_in": tuple(row["lites_in"])},
            position=row["position"],
            built_in=(row["built_ro_width_in"], row["built_ro_height_in"]) if row["built_ro_width_in"] else None,
            weight_confirmed_by=row["weight_confirmed_by"],
            changed_by_hand=tuple(row["changed_by_hand"]),
            voided_by_hand=voided.get(opening_id, ""),
            bounds=binds,
        )
    return found


def _voided_by_hand(rows: Iterable[Mapping[str, Any]]) -> dict[int, str]:
    """Return by opening who made it void, when and why, as a clause."""
    voided = [row for row in rows if row["voided_by"] is not None]
    people = Person.objects.in_bulk({row["voided_by"] for row in voided}) if voided else {}
    found = {}
    for row in voided:
        on = say.day(row["voided_at"].astimezone(ZoneInfo(row["job__time_zone"])).date())
        why = f": {row['void_why']}" if row["void_why"] else ""
        found[row["pk"]] = f"{people[row['voided_by']]} made it void on {on}{why}"
    return found
