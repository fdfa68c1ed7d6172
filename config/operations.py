"""How the OpenAPI document describes one operation: what it asks, and every refusal that it can answer with."""

from __future__ import annotations

from collections.abc import Iterator
from http import HTTPStatus
from typing import Any

import uritemplate
from drf_spectacular.plumbing import get_lib_doc_excludes
from drf_spectacular.utils import Direction
from rest_framework import serializers
from rest_framework.permissions import SAFE_METHODS, AllowAny

from config.errors import CONTENT_TYPE
from config.headers_document import CHANGED_SINCE, SaysHeaders
from jobs.names import KnownNames, ModelBody
from jobs.permissions import ANYONE
from openings.measure_fields import MeasuredModelSerializer
from openings.serializers import UnderstoodSerializer

MEANINGS = {
    400: "What was sent cannot be used; `errors` names each field.",
    401: "Nobody is signed in, or the token is nobody's.",
    403: "This is for other roles, or a page sent it without its token against forgery.",
    404: "There is no such thing, or no such page of the list.",
    406: "It is answered in other media types than were asked for.",
    409: "It clashes with what already holds.",
    412: CHANGED_SINCE,
    413: "More was sent than is read.",
    415: "Bodies of this media type are not read.",
    429: "Asked too often; `Retry-After` says when to ask again.",
    503: "Not at this moment; `Retry-After` says when to ask again, in seconds.",
}
JSON = "application/json"
HEADERS = {
    401: ("WWW-Authenticate", {"type": "string"}),
    429: ("Retry-After", {"type": "integer", "minimum": 0}),
    503: ("Retry-After", {"type": "integer", "minimum": 0}),
}


class ProblemFaultSerializer(serializers.Serializer[Any]):
    """One thing wrong in what was sent."""

    field = serializers.CharField(help_text="Where it stands, such as `readings[1].width_in`; empty for the whole.")
    row = serializers.IntegerField(allow_null=True, help_text="The row of a file.")
    value = serializers.CharField(help_text="What stands there.")
    detail = serializers.CharField(help_text="What is wrong, and what would be right.")
    item = serializers.IntegerField(required=False, help_text="Which of several that were sent it is, counted from 0.")


class ProblemConflictSerializer(serializers.Serializer[Any]):
    """One row that a refusal is about."""

    type = serializers.CharField(help_text="What it is, such as `opening`.")
    id = serializers.IntegerField()
    name = serializers.CharField()
    detail = serializers.CharField(help_text="What is so of it; may be empty.")


class ProblemSerializer(serializers.Serializer[Any]):
    """What is wrong, as RFC 9457 describes it, with `code` and `errors` of our own."""

    type = serializers.CharField(help_text="A URN that ends with `code`.")
    title = serializers.CharField()
    status = serializers.IntegerField()
    detail = serializers.CharField()
    code = serializers.CharField(help_text="Stays the same from release to release.")
    errors = ProblemFaultSerializer(many=True)  # type: ignore[assignment]  # a field, which leaves the class's `errors`
    conflicts = ProblemConflictSerializer(many=True, required=False, help_text="The rows that a 409 or 412 is about.")
    retry_after_s = serializers.IntegerField(required=False, help_text="With 429: seconds until it may be asked again.")
    updated_at = serializers.DateTimeField(required=False, help_text="With 412: when the row was changed.")
    schedule = UnderstoodSerializer(required=False, help_text="How a file was understood, where that is what is wrong.")


def undescribed() -> list[type]:
    """Return the classes whose docstrings tell developers what their heirs share, and callers nothing."""
    from jobs import resource  # it imports views, which name this file

    endpoints = (resource.Endpoint, resource.Readable, resource.Addable, resource.Resource)
    excluded: list[type] = get_lib_doc_excludes()  # type: ignore[no-untyped-call]  # drf-spectacular's has no types
    return [*excluded, KnownNames, ModelBody, MeasuredModelSerializer, *endpoints]


class Operation(SaysHeaders):
    """One operation of the API."""

    def get_override_parameters(self) -> list[Any]:
        """Return what the view says that its query asks."""
        query = getattr(self.view, "query", None)
        return [query] if query and self.method == "GET" else []

    def _get_response_bodies(self, direction: Direction = "response") -> dict[str, Any]:
        bodies = super()._get_response_bodies(direction)
        return bodies | {str(status): self._refusal(status) for status in self._refusals() if str(status) not in bodies}

    def _get_request_body(self, direction: Direction = "request") -> dict[str, Any] | None:
        body: dict[str, Any] | None = super()._get_request_body(direction)  # type: ignore[no-untyped-call]  # nor has this
        if body and self._takes_several():
            _or_several(body["content"][JSON])
        return body

    def _get_response_for_code(self, serializer: Any, status_code: str, *args: Any, **options: Any) -> dict[str, Any]:
        body: dict[str, Any] = super()._get_response_for_code(  # type: ignore[no-untyped-call]  # nor this
            serializer, status_code, *args, **options
        )
        if str(status_code) == str(int(HTTPStatus.CREATED)) and self._takes_several():
            _or_several(body["content"][JSON])
        return body

    def _takes_several(self) -> bool:
        """Return whether this adds what it is sent, one or a list of them."""
        return getattr(self.view, "action", None) == "create" and getattr(self.view, "takes_several", False)

    def _refusals(self) -> Iterator[int]:
        """Yield the statuses of the refusals that are possible here."""
        view, writes = self.view, self.method not in SAFE_METHODS
        yield HTTPStatus.BAD_REQUEST  # every address refuses a query of which a name is not known
        if not any(isinstance(permission, AllowAny) for permission in view.get_permissions()):
            yield HTTPStatus.UNAUTHORIZED
            if writes or getattr(view, "readers", ANYONE) != ANYONE:
                yield HTTPStatus.FORBIDDEN
        if uritemplate.variables(self.path) or getattr(view, "action", None) in getattr(view, "paged", ()):
            yield HTTPStatus.NOT_FOUND
        yield HTTPStatus.NOT_ACCEPTABLE
        if writes and getattr(view, "is_stored", True):
            yield HTTPStatus.CONFLICT
        if writes:
            yield HTTPStatus.REQUEST_ENTITY_TOO_LARGE
            yield HTTPStatus.UNSUPPORTED_MEDIA_TYPE
        if view.get_throttles():
            yield HTTPStatus.TOO_MANY_REQUESTS
        yield HTTPStatus.SERVICE_UNAVAILABLE
        yield from getattr(view, "refusals", ())

    def _refusal(self, status: int) -> dict[str, Any]:
        body: dict[str, Any] = {
            "content": {CONTENT_TYPE: {"schema": self.resolve_serializer(ProblemSerializer, "response").ref}}
        }
        if status in HEADERS:
            name, schema = HEADERS[status]
            body["headers"] = {name: {"schema": schema}}
        return body | {"description": MEANINGS[status]}


def _or_several(media: dict[str, Any]) -> None:
    """Let a body be one, or a list of as many as are added at once."""
    from jobs.resource import MOST_AT_ONCE  # it imports views, which name this file

    several = {"type": "array", "items": media["schema"], "minItems": 1, "maxItems": MOST_AT_ONCE}
    media["schema"] = {"oneOf": [media["schema"], several]}
