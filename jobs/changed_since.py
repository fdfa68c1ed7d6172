"""`?changed_since=`: what of a list changed, for whoever keeps a copy of it."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from django.core.paginator import Page
from django.db.models import Q, QuerySet
from django.utils.dateparse import parse_datetime
from rest_framework.filters import BaseFilterBackend
from rest_framework.pagination import PageNumberPagination
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.utils.urls import remove_query_param, replace_query_param

from jobs.changed import written
from jobs.errors import BadInput
from jobs.names import LONGEST_SHOWN
from jobs.queries import all_seen_until

SINCE, AFTER = "changed_since", "after"
LARGEST_ID = 2**63 - 1

HOW = (
    "Only what changed at that moment or later, in the order in which it changed, whatever `ordering` says. `next` "
    "goes on where a page ends. The first page says `as_of`: ask from there the next time. It lies before the "
    "beginning of everything that was being written then, so nothing is missed, and some of it comes again. Begin "
    "with `1970-01-01T00:00:00Z`. RFC 3339, with the zone; in an address a plus is `%2B`."
)


class ChangedSince(BaseFilterBackend):
    """The rows of a list that changed since an instant, the oldest change first."""

    def names(self, view: Any) -> list[str]:
        """Return what the query may name."""
        return [SINCE, AFTER]

    def filter_queryset(self, request: Request, queryset: QuerySet[Any], view: Any) -> QuerySet[Any]:
        """Return what changed; all rows where that is not asked."""
        if view.action != "list" or (since := _since(request)) is None:
            return queryset
        found = queryset.filter(updated_at__gte=since)
        if (after := _after(request)) is not None:
            found = found.filter(Q(updated_at__gt=since) | Q(pk__gt=after))
        return found.order_by("updated_at", "pk")

    def get_schema_operation_parameters(self, view: Any) -> list[dict[str, Any]]:
        """Return how the OpenAPI document describes it."""
        after = {"type": "integer", "minimum": 0, "maximum": LARGEST_ID}
        return [
            {"name": SINCE, "in": "query", "description": HOW, "schema": {"type": "string", "format": "date-time"}},
            {"name": AFTER, "in": "query", "description": "The id that a page of changes ended with.", "schema": after},
        ]


class GoesOnWithChanges(PageNumberPagination):
    """A paginator whose pages of changes go on after the last row, wherever a row has moved meanwhile."""

    page: Page[Any]
    request: Request

    def paginate_queryset(self, queryset: Any, request: Request, view: Any = None) -> Any:
        """Return one page, having asked first until when all is seen: what is written later comes the next time."""
        is_asked = SINCE in request.query_params and getattr(view, "action", "") == "list"
        self.as_of = all_seen_until() if is_asked else None
        return super().paginate_queryset(queryset, request, view)

    def get_next_link(self) -> str | None:
        """Return where the list goes on."""
        if self.as_of is None or not self.page.has_next():
            return super().get_next_link()
        last = self.page.object_list[len(self.page.object_list) - 1]
        here = remove_query_param(self.request.build_absolute_uri(), "page")
        return replace_query_param(replace_query_param(here, SINCE, written(last.updated_at)), AFTER, last.pk)

    def get_paginated_response(self, data: Any) -> Response:
        """Return the page; of changes it says until when all is seen."""
        response: Response = super().get_paginated_response(data)
        if self.as_of is not None:
            response.data["as_of"] = written(self.as_of)
        return response

    def get_paginated_response_schema(self, schema: dict[str, Any]) -> dict[str, Any]:
        """Return how the OpenAPI document describes a page."""
        described: dict[str, Any] = super().get_paginated_response_schema(schema)
        described["properties"]["as_of"] = {
            "type": "string",
            "format": "date-time",
            "description": "Where `changed_since` was asked: what to ask from the next time.",
        }
        return described


def _since(request: Request) -> datetime | None:
    if (asked := request.query_params.get(SINCE)) is None:
        return None
    try:
        found = parse_datetime(asked)
        if found and found.tzinfo:
            return found.astimezone(UTC)
    except (ValueError, OverflowError):
        pass
    raise _refused(SINCE, asked, "a date, a time and a zone, such as 2026-11-30T14:00:00Z; write + as %2B")


def _after(request: Request) -> int | None:
    if (asked := request.query_params.get(AFTER)) is None:
        return None
    if asked.isascii() and asked.isdecimal() and len(asked) < 20 and int(asked) <= LARGEST_ID:
        return int(asked)
    raise _refused(AFTER, asked, "the id that a page ended with")


def _refused(field: str, asked: str, takes: str) -> BadInput:
    return BadInput.of(field, asked[:LONGEST_SHOWN], f"{field} takes {takes}")
