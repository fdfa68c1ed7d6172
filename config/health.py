"""Whether the service lives, whether it is ready, and its figures as Prometheus text."""

from __future__ import annotations

import redis
from django.conf import settings
from django.core.exceptions import PermissionDenied
from django.db import Error, connection
from django.http import HttpRequest, HttpResponse, JsonResponse

from jobs.queries import mail_state
from materials.queries import pull_sheet_counts
from openings.queries import opening_counts

PLAIN = "text/plain; version=0.0.4; charset=utf-8"


def live(request: HttpRequest) -> HttpResponse:
    """Answer that the process runs."""
    return JsonResponse({"status": "live"})


def ready(request: HttpRequest) -> HttpResponse:
    """Answer 200 when database and broker answer. Without the broker requests still succeed, so it only says so.

    Mail that does not leave is kept, so of that it only says so too.
    """
    parts = {"database": _database_answers(), "broker": _broker_answers()}
    return JsonResponse(
        {"status": "ready" if parts["database"] else "not ready", **parts, "mail": _mail(parts["database"])},
        status=200 if parts["database"] else 503,
    )


def metrics(request: HttpRequest) -> HttpResponse:
    """Answer counts in the text format of Prometheus, to this machine or to somebody signed in."""
    if request.META.get("REMOTE_ADDR") not in {"127.0.0.1", "::1", ""} and not request.user.is_authenticated:
        raise PermissionDenied("metrics are for this machine or for somebody signed in")
    lines = [
        *_gauge("weatherlap_openings", "Openings by state.", "state", opening_counts()),
        *_gauge("weatherlap_pull_sheets", "Pull sheets by state.", "state", pull_sheet_counts()),
    ]
    return HttpResponse("\n".join(lines) + "\n", content_type=PLAIN)


def _gauge(name: str, description: str, label: str, values: dict[str, int]) -> list[str]:
    samples = [f'{name}{{{label}="{value}"}} {count}' for value, count in values.items()]
    return [f"# HELP {name} {description}", f"# TYPE {name} gauge", *samples]


def _database_answers() -> bool:
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except Error:
        return False
    return True


def _mail(database_answers: bool) -> str:
    try:
        return mail_state() if database_answers else "unknown"
    except Error:  # the tables are not there yet
        return "unknown"


def _broker_answers() -> bool:
    try:
        with redis.Redis.from_url(settings.REDIS_URL, socket_connect_timeout=1, socket_timeout=1) as broker:
            return bool(broker.ping())
    except redis.RedisError:
        return False
