"""The days of a crew or a job as a calendar, to whoever has its link."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.services import follow_calendar_link
from openings.calendar_file import write_calendar
from openings.queries import calendar_of


@require_safe
def calendar_feed(request: HttpRequest, token: str) -> HttpResponse:
    """Answer the calendar of a link, as text/calendar."""
    now = timezone.now()
    link = follow_calendar_link(token=token, now=now)
    content = write_calendar(calendar_of(link, now=now), name=f"Weatherlap: {link.of}", namespace=link.namespace)
    headers = {"Cache-Control": "private, no-cache", "Content-Disposition": 'inline; filename="weatherlap.ics"'}
    return HttpResponse(content, content_type="text/calendar; charset=utf-8", headers=headers)
