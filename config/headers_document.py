"""How the OpenAPI document describes the headers that every write takes, and the versions that answers name."""

from __future__ import annotations

from typing import Any

from drf_spectacular.openapi import AutoSchema

from jobs import etag, idempotency
from jobs.carefully import WITH_A_KEY, Carefully
from jobs.services import ANSWERS_KEPT_FOR

KEY = {
    "name": idempotency.HEADER,
    "in": "header",
    "schema": {"type": "string", "minLength": 1, "maxLength": idempotency.LONGEST},
    "description": (
        "Best a UUID. The same request of the same person with the same key is done once: sent again within "
        f"{ANSWERS_KEPT_FOR.days} days it is answered as the first time. A refusal is not kept: mend what was wrong "
        "and send it with the same key."
    ),
}
MATCH = {
    "name": etag.HEADER,
    "in": "header",
    "schema": {"type": "string"},
    "description": (
        "The `ETag` of what you read, or its `updated_at` between quotes: nothing is written if it was changed since. "
        "`*` takes any version. Without it the last one who writes wins."
    ),
}
TAG = {
    "schema": {"type": "string"},
    "description": (
        "The version of what can be edited, for `If-Match`: `updated_at` between quotes. It says nothing of what is "
        "only shown with it and kept elsewhere."
    ),
}
CHANGED_SINCE = "It was changed since: `updated_at` says when, `conflicts` what. Nothing was written."
MEANINGS = {
    "409": "It clashes with what already holds, or the first request with this key is not done yet.",
    "412": CHANGED_SINCE,
    "422": "This key was sent with something else before.",
}
ONE_ROW = ("retrieve", "create", "partial_update")


class SaysHeaders(AutoSchema):
    """An operation with the headers that it takes and answers, as `jobs.carefully` reads them."""

    def get_operation(self, *args: Any) -> dict[str, Any] | None:
        """Return the description of one operation, or None where it has none."""
        operation: dict[str, Any] | None = super().get_operation(*args)
        if operation and isinstance(self.view, Carefully):
            if self.view.takes_a_key and self.method in WITH_A_KEY:
                self._take(operation, KEY, "409", "422")
                if self._is_of_one_row():
                    self._take(operation, MATCH, "412")
            self._tag(operation)
        return operation

    def _is_of_one_row(self) -> bool:
        return "{id}" in self.path

    def _take(self, operation: dict[str, Any], header: dict[str, Any], *refusals: str) -> None:
        operation.setdefault("parameters", []).append(header)
        problem = {name: part for name, part in operation["responses"].get("400", {}).items() if name == "content"}
        for status in refusals:
            operation["responses"].setdefault(status, problem | {"description": MEANINGS[status]})

    def _tag(self, operation: dict[str, Any]) -> None:
        action = getattr(self.view, "action", "")
        if action in ONE_ROW or (self._is_of_one_row() and self.method == "POST"):
            for status in ("200", "201", "202"):
                if status in operation["responses"]:
                    operation["responses"][status].setdefault("headers", {})["ETag"] = TAG
