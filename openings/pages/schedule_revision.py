"""One revision of a job's window schedule, as it was read and what it did."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.core.paginator import Page as PageOfLines
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.page import Page
from openings import queries
from openings.schedules import grouped, in_order, unpacked, unpacked_rows

LINES_A_PAGE = 200


@Page
def schedule_revision(request: HttpRequest, job_id: int, revision: int) -> HttpResponse:
    """What it added, changed, removed and left, and its rows."""
    schedule = queries.revision_of(job_id, revision)
    difference = unpacked(schedule.difference) or {"added": [], "lines": [], "left": []}
    groups = grouped(difference["lines"])
    return render(
        request,
        "openings/schedule_revision.html",
        {
            "schedule": schedule,
            "job": schedule.job,
            "columns": in_order(schedule.columns),
            "added": difference["added"],
            "by_hand": difference.get("by_hand", ()),
            "done": _page(request, "changed", [group for group in groups if not group.hindrance]),
            "stayed": _page(request, "left", [group for group in groups if group.hindrance]),
            "left": difference["left"],
            "rows": _page(request, "page", unpacked_rows(schedule.rows)),
        },
    )


def _page(request: HttpRequest, name: str, lines: Sequence[Any]) -> PageOfLines[Any]:
    return Paginator(lines, LINES_A_PAGE).get_page(request.GET.get(name))
