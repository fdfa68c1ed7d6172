"""Drives between sites, and from the yard."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from jobs.calc.travel import Drive, DriveAssumptions, Spot, drive_between, entered_drive, shortest_order
from jobs.models import Job, SiteDrive
from jobs.models.drive import LONGEST_DRIVE_MIN
from jobs.queries.company import company

YARD = 0
"""Stands for the yard where a site is named by its id."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """A crew's way between the sites of one day, in the order that drives least.

    `drives` are the legs between them; one is None where neither minutes nor both places are known, and counts nothing.
    """

    job_ids: tuple[int, ...]
    drives: tuple[Drive | None, ...]

    @property
    def minutes(self) -> int:
        return sum(drive.minutes for drive in self.drives if drive)

    @property
    def is_known(self) -> bool:
        return all(self.drives)

    def person_h(self, people_count: int) -> Decimal:
        """Return the labor hours on the road of so many people, to the hundredth."""
        return (Decimal(self.minutes * people_count) / 60).quantize(Decimal("0.01"))


NOWHERE = Route(job_ids=(), drives=())


@dataclass(frozen=True, slots=True, kw_only=True)
class Drives:
    """What is known of the drives among some sites and the yard: minutes entered, and where they lie."""

    entered: Mapping[tuple[int, int], int]
    spots: Mapping[int, Spot]
    assumed: DriveAssumptions

    def between(self, one: int, other: int) -> Drive | None:
        """Return the drive between two sites, or a site and `YARD`; None where nothing is known. No query."""
        if (minutes := self.entered.get((min(one, other), max(one, other)))) is not None:
            return entered_drive(minutes)
        if one in self.spots and other in self.spots:
            return drive_between(self.spots[one], self.spots[other], self.assumed)
        return None

    def route(self, job_ids: Collection[int]) -> Route:
        """Return the way between the sites of a day; the drives from and to the yard are none of it. No query."""
        if len(set(job_ids)) < 2:
            return NOWHERE
        order = shortest_order(sorted(set(job_ids)), self._minutes)
        legs = tuple(self.between(one, other) for one, other in pairwise(order))
        return Route(job_ids=order, drives=legs)

    def _minutes(self, one: int, other: int) -> int:
        drive = self.between(one, other)
        return drive.minutes if drive else LONGEST_DRIVE_MIN


def drives_among(job_ids: Collection[int]) -> Drives:
    """Return what is known of the drives among these sites and the yard. Three queries."""
    asked = set(job_ids)
    pairs = SiteDrive.objects.filter(site__in=asked).order_by().values_list("site", "other", "minutes")
    entered = {
        (min(site, other or YARD), max(site, other or YARD)): minutes
        for site, other, minutes in pairs
        if other is None or other in asked
    }
    located = (
        Job.objects.filter(pk__in=asked, latitude__isnull=False).order_by().values_list("pk", "latitude", "longitude")
    )
    spots = {pk: Spot(latitude=north, longitude=east) for pk, north, east in located}
    firm = company()
    if firm.yard_latitude is not None and firm.yard_longitude is not None:
        spots[YARD] = Spot(latitude=firm.yard_latitude, longitude=firm.yard_longitude)
    assumed = DriveAssumptions(road_factor=firm.road_factor, mph=firm.drive_mph)
    return Drives(entered=entered, spots=spots, assumed=assumed)


@dataclass(frozen=True, slots=True, kw_only=True)
class DriveRow:
    """The drive from one site to another as the page of drives lists it."""

    job_id: int
    name: str
    drive: Drive | None

    @property
    def field(self) -> str:
        """What it is called in a form."""
        return f"to_{self.job_id}"

    @property
    def entered_minutes(self) -> int | None:
        return self.drive.minutes if self.drive and self.drive.is_entered else None


def drives_from(job: Job) -> list[DriveRow]:
    """Return the drives from a site to the yard and to each other open job. Four queries."""
    others = list(Job.objects.open().exclude(pk=job.pk))
    known = drives_among([job.pk, *(other.pk for other in others)])
    named = [(YARD, "the yard"), *((other.pk, str(other)) for other in others)]
    return [DriveRow(job_id=pk, name=name, drive=known.between(job.pk, pk)) for pk, name in named]
