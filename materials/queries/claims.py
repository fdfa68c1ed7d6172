"""What pull sheets have or still want of the stock, from the side of one job."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.db.models import Q

from jobs.models import Job
from jobs.queries import today_at
from materials.models import PullSheet, PullSheetLine, Remnant
from materials.queries.remnants import IN_A_WAREHOUSE, LYING


@dataclass(frozen=True, slots=True, kw_only=True)
class Claims:
    """Packages by product, of the written sheets of today and later.

    Args:
        for_others: what sheets that set an opening of another job still want.
        on_trucks: what is loaded on sheets that set this job alone.
        own_days: the crew days of these.
        shared: names of the sheets that set this job and another: all that they hold counts for the other.
    """

    for_others: Mapping[int, int]
    on_trucks: Mapping[int, int]
    own_days: frozenset[int]
    shared: tuple[str, ...]


def claims_beside(job: Job) -> Claims:
    """Return what is wanted for other jobs, and what is on the trucks for this one. Three queries."""
    sheets = PullSheet.objects.newest_written().filter(crew_day__on__gte=today_at(job)).defer("workbook")
    found = {sheet.pk: sheet for sheet in sheets.order_by("crew_day__on", "crew_day__crew__name")}
    listed = PullSheet.openings.through.objects.filter(pullsheet__in=found).order_by()
    jobs: dict[int, set[int]] = {}
    for sheet_id, job_id in listed.values_list("pullsheet", "opening__job").distinct():
        jobs.setdefault(sheet_id, set()).add(job_id)
    own = {sheet_id for sheet_id in found if jobs.get(sheet_id) == {job.pk}}
    for_others: dict[int, int] = {}
    on_trucks: dict[int, int] = {}
    lines = PullSheetLine.objects.filter(sheet__in=found, product__isnull=False).order_by()
    for sheet_id, product_id, packages, loaded in lines.values_list("sheet", "product", "packages", "loaded_packages"):
        if sheet_id in own:
            on_trucks[product_id] = on_trucks.get(product_id, 0) + (loaded or 0)
        else:
            for_others[product_id] = for_others.get(product_id, 0) + max(packages - (loaded or 0), 0)
    return Claims(
        for_others=for_others,
        on_trucks=on_trucks,
        own_days=frozenset(found[sheet_id].crew_day_id for sheet_id in own),
        shared=tuple(str(sheet) for pk, sheet in found.items() if job.pk in jobs.get(pk, ()) and pk not in own),
    )


def remnants_for(own_days: frozenset[int]) -> dict[int, list[Remnant]]:
    """Return by product the remnants that a job can cut from. One query.

    Those are free in a warehouse, or reserved for a crew day of the job alone. What came back of today's trucks is not
    among them: its rolls still count as loaded.
    """
    within_reach = Q(IN_A_WAREHOUSE, reserved_for__isnull=True) | Q(reserved_for__in=own_days)
    found: dict[int, list[Remnant]] = {}
    lying = Remnant.objects.filter(LYING, within_reach).exclude(left_of__sheet__crew_day__in=own_days)
    for remnant in lying.order_by("pk"):
        found.setdefault(remnant.product_id, []).append(remnant)
    return found
