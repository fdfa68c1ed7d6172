"""How lists are filtered, ordered and cut into pages: what is asked wrongly is refused, never passed over."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.db.models import QuerySet
from django_filters.rest_framework import DjangoFilterBackend
from rest_framework.filters import OrderingFilter
from rest_framework.request import Request
from rest_framework.views import APIView

from jobs.changed_since import GoesOnWithChanges
from jobs.errors import BadInput
from jobs.names import LONGEST_SHOWN, no_such
from jobs.paging import LongPaginator


class Filters(DjangoFilterBackend):
    """The filters that a list declares."""

    def names(self, view: Any) -> list[str]:
        """Return what the query may name."""
        filterset = self.get_filterset_class(view, view.get_queryset())
        return list(filterset.base_filters) if filterset else []


class Ordering(OrderingFilter):
    """The order of a list: names of `ordering_fields`, those with a minus from the last on."""

    def names(self, view: Any) -> list[str]:
        """Return what the query may name."""
        return [self.ordering_param]

    def remove_invalid_fields(
        self, queryset: QuerySet[Any], fields: Iterable[str], view: APIView, request: Request
    ) -> list[str]:
        """Return the names as they were asked.

        Raises:
            BadInput: a list is not ordered by one of them.
        """
        names = list(fields)
        known = [name for name, _label in self.get_valid_fields(queryset, view)]
        said = [no_such(name, known, kind="order") for field in names if (name := field.removeprefix("-")) not in known]
        if said:
            asked = ",".join(names)[:LONGEST_SHOWN]
            raise BadInput.of(self.ordering_param, asked, "; ".join(said))
        return names

    def get_schema_operation_parameters(self, view: Any) -> list[dict[str, Any]]:
        """Return how the OpenAPI document describes the order."""
        names = [sign + name for name in view.ordering_fields for sign in ("", "-")]
        return [
            {
                "name": self.ordering_param,
                "in": "query",
                "description": "By what the list is ordered; with a minus, from the last on.",
                "schema": {"type": "array", "items": {"type": "string", "enum": names}},
                "style": "form",
                "explode": False,
            }
        ]


class Pages(GoesOnWithChanges):
    """50 entries a page; `?page_size=` asks for up to 500."""

    django_paginator_class = LongPaginator
    page_size = 50
    page_size_query_param = "page_size"
    max_page_size = 500

    def get_page_size(self, request: Request) -> int:
        """Return how many entries a page has.

        Raises:
            BadInput: it is no whole number that a page may have.
        """
        name, most = self.page_size_query_param, self.max_page_size
        asked = request.query_params.get(name)
        if asked is None:
            return self.page_size
        if asked.isascii() and asked.isdecimal() and len(asked) <= len(str(most)) and 1 <= int(asked) <= most:
            return int(asked)
        raise BadInput.of(name, asked[:LONGEST_SHOWN], f"{name} is a whole number of 1 to {most}")

    def get_schema_operation_parameters(self, view: APIView) -> list[dict[str, Any]]:
        """Return how the OpenAPI document describes the pages."""
        return [
            {
                "name": self.page_query_param,
                "in": "query",
                "description": "Which page, from 1 on.",
                "schema": {"type": "integer", "minimum": 1, "default": 1},
            },
            {
                "name": self.page_size_query_param,
                "in": "query",
                "description": "How many entries a page has.",
                "schema": {
                    "type": "integer",
                    "minimum": 1,
                    "maximum": self.max_page_size,
                    "default": self.page_size,
                },
            },
        ]
