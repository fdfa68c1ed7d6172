"""Entering how long the drive between two sites takes."""

from __future__ import annotations

from collections.abc import Mapping

from jobs import transaction
from jobs.errors import BadInput, NotFound
from jobs.models import Job, SiteDrive
from jobs.services.row import add, change


@transaction.atomic
def enter_drives(*, site_id: int, minutes: Mapping[int | None, int | None]) -> None:
    """Enter the minutes from one site to others; which of two sites comes first does not matter.

    Args:
        minutes: by the id of the other site, or None for the yard; minutes that are None are forgotten.

    Raises:
        NotFound: there is no such job.
        BadInput: a drive would lead to where it starts.
        ValidationError: more minutes than anybody drives.
    """
    if site_id in minutes:
        raise BadInput("a drive leads to another site")
    asked = {site_id, *(other for other in minutes if other is not None)}
    jobs = Job.objects.select_for_update(no_key=True).filter(pk__in=asked).order_by("pk")
    if missing := sorted(asked - {job.pk for job in jobs}):
        raise NotFound(f"there is no job {', '.join(map(str, missing))}")
    for other, value in minutes.items():
        first, second = (site_id, None) if other is None else (min(site_id, other), max(site_id, other))
        _enter(first, second, value)


def _enter(first: int, second: int | None, minutes: int | None) -> None:
    stands = SiteDrive.objects.filter(site=first, other=second)
    if minutes is None:
        stands.delete()
    elif row := stands.first():
        change(row, minutes=minutes)
    else:
        add(SiteDrive(site_id=first, other_id=second, minutes=minutes))
