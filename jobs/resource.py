"""The shape that every endpoint of a stored thing shares."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from typing import Any, ClassVar, Protocol, TypeVar, cast

from django.core.exceptions import NON_FIELD_ERRORS
from django.core.exceptions import ValidationError as ModelError
from django.db.models import Model, QuerySet
from rest_framework import mixins, viewsets
from rest_framework.exceptions import ValidationError
from rest_framework.pagination import PageNumberPagination
from rest_framework.permissions import BasePermission
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer, Serializer, as_serializer_error
from rest_framework.settings import api_settings
from rest_framework.status import HTTP_201_CREATED
from rest_framework.views import APIView

from jobs import services, transaction
from jobs.carefully import Carefully
from jobs.changed_since import ChangedSince
from jobs.errors import BadInput, CallerError, Fault
from jobs.models import Person
from jobs.names import Nothing, unknown
from jobs.permissions import ANYONE, OFFICE, ByRole

Row = TypeVar("Row", bound=Model)
Shown = TypeVar("Shown")

ASKED_OF_ALL = ("units", "format")
"""What the query may name at every address."""


class Endpoint(Carefully):
    """For everybody signed in; what its query may name is known.

    A view or an action that asks by its query names the serializer of that in `query`.
    """

    permission_classes: Sequence[type[BasePermission]] = [ByRole]
    readers: ClassVar[frozenset[Person.Role]] = ANYONE
    query: ClassVar[type[Serializer[Any]] | None] = None
    is_stored: ClassVar[bool] = True
    """Whether what is sent is kept, and so can clash with what already holds."""
    refusals: ClassVar[Collection[int]] = ()
    """Statuses of refusals that its kind alone does not lead one to expect, for the OpenAPI document."""

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        """Settle who asks; refuse what is not done here, whoever asks, and a query of which a name is not known."""
        if request.method not in self.allowed_methods:
            self.http_method_not_allowed(request)
        super().initial(request, *args, **kwargs)
        refuse_unknown(request.query_params, self.query_names())

    def query_names(self) -> list[str]:
        """Return what the query may name."""
        return [*ASKED_OF_ALL, *(self.query().fields if self.query else ())]

    def asked(self) -> dict[str, Any]:
        """Return what the query asks, as `query` reads it."""
        if self.query is None:
            raise TypeError("this view names no serializer of its query")
        asked = self.query(data=self.request.query_params)
        asked.is_valid(raise_exception=True)
        values: dict[str, Any] = asked.validated_data
        return values


def row_of(serializer: BaseSerializer[Row]) -> Row:
    """Return the row that a body changes."""
    if serializer.instance is None:
        raise TypeError("this body adds a row; it changes none")
    return serializer.instance


def refuse_body(request: Request) -> None:
    """Return if nothing was sent to a verb that its address tells whole.

    Raises:
        ValidationError: something was, which would be passed over.
    """
    Nothing(data=request.data).is_valid(raise_exception=True)


def refuse_unknown(named: Iterable[str], known: Collection[str]) -> None:
    """Return if every name of a query is known.

    Raises:
        BadInput: one is not; `faults` name each with the nearest that is.
    """
    if said := unknown(named, known, kind="parameter"):
        faults = [Fault(field=name, detail=sentence) for name, sentence in said.items()]
        raise BadInput("; ".join(said.values()), faults=faults)


class ListFilter(Protocol[Row]):
    """What picks or orders the rows of a list, and says which names of the query are its own."""

    def names(self, view: APIView) -> list[str]: ...

    def filter_queryset(self, request: Request, queryset: QuerySet[Row], view: APIView) -> QuerySet[Row]: ...


class Readable(mixins.RetrieveModelMixin, mixins.ListModelMixin, Endpoint, viewsets.GenericViewSet[Row]):
    """Listed and read by everybody signed in; of a list, what changed since an instant too."""

    filter_backends: Sequence[type[ListFilter[Row]]] = [
        *cast("Sequence[type[ListFilter[Row]]]", api_settings.DEFAULT_FILTER_BACKENDS),  # their names, read
        ChangedSince,
    ]

    writers: frozenset[Person.Role] = OFFICE
    ordering: ClassVar[Any] = ["pk"]
    ordering_fields: ClassVar[Any] = ["pk"]
    paged: ClassVar[Collection[str]] = ("list",)
    """The actions that answer page by page; the filters are those of `list` alone."""

    def query_names(self) -> list[str]:
        names = super().query_names()
        if self.action in self.paged and isinstance(pages := self.paginator, PageNumberPagination):
            names += [name for name in (pages.page_query_param, pages.page_size_query_param) if name]
        if self.action == "list":
            for backend in self.filter_backends:
                names += backend().names(self)
        return names

    def filter_queryset(self, queryset: QuerySet[Row, Shown]) -> QuerySet[Row, Shown]:
        """Return what was asked for; rows that stand equal keep one order, or pages would overlap."""
        found = super().filter_queryset(queryset)
        return found.order_by(*found.query.order_by, "pk")


MOST_AT_ONCE = 500
"""So many may be added in one request (our choice: the openings of a large floor, within the time of one request)."""


class Addable(mixins.CreateModelMixin, Readable[Row]):
    """Added by the roles in `writers`: one, or with a list several, all of them or none."""

    takes_several: ClassVar[bool] = True

    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Add one; of a list add all or none, and say by `item` what is wrong with which."""
        if not isinstance(request.data, list):
            return super().create(request, *args, **kwargs)
        bodies = self._read_several(request.data)
        self._add_several(bodies)
        return Response([body.data for body in bodies], status=HTTP_201_CREATED)

    def _read_several(self, sent: list[Any]) -> list[BaseSerializer[Row]]:
        if not 1 <= len(sent) <= MOST_AT_ONCE:
            raise BadInput(f"a list holds 1 to {MOST_AT_ONCE} to add; this one holds {len(sent)}")
        bodies = [self.get_serializer(data=one) for one in sent]
        wrong = [body for body in bodies if not body.is_valid()]
        if wrong:
            raise ValidationError([dict(body.errors) for body in bodies])
        return bodies

    @transaction.atomic
    def _add_several(self, bodies: Sequence[BaseSerializer[Row]]) -> None:
        for item, body in enumerate(bodies):
            try:
                self.perform_create(body)
            except CallerError as error:
                whole = (Fault(field="", detail=error.detail),)
                error.faults = tuple(_of_item(fault, item) for fault in error.faults or whole)
                raise
            except ModelError as error:
                said = as_serializer_error(error)
                whole_row = {api_settings.NON_FIELD_ERRORS_KEY: said.pop(NON_FIELD_ERRORS, [])}
                raise ValidationError([{}] * item + [said | whole_row]) from error

    def perform_create(self, serializer: BaseSerializer[Row]) -> None:
        serializer.instance = services.add(self.get_queryset().model(**serializer.validated_data))


def _of_item(fault: Fault, item: int) -> Fault:
    return replace(fault, field=f"[{item}].{fault.field}" if fault.field else f"[{item}]", item=item)


class Resource(mixins.UpdateModelMixin, Addable[Row]):
    """Added and changed by the roles in `writers`. Nothing is deleted: history stays."""

    http_method_names = ["get", "post", "patch", "head", "options"]

    def perform_update(self, serializer: BaseSerializer[Row]) -> None:
        serializer.instance = services.change(row_of(serializer), **serializer.validated_data)
