"""Progress of every job."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from jobs.page import Page
from jobs.queries import today_at
from materials import queries
from openings.calc.curve import curve_of


@Page
def progress(request: HttpRequest) -> HttpResponse:
    """Each job: what is done of all, hours and material against plan, and when it will end."""
    boards = queries.progress_board()
    curves = [
        curve_of(
            done_by_day=board.progress.done_by_day,
            total=board.progress.openings_count,
            today=today_at(board.progress.job),
            ending_on=board.progress.ending.on if board.progress.ending else None,
        )
        for board in boards
    ]
    today = min((today_at(board.progress.job) for board in boards), default=timezone.localdate())
    jobs = list(zip(boards, curves, strict=True))
    return render(request, "materials/progress.html", {"today": today, "jobs": jobs})
