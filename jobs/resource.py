"""The shape that every endpoint of a stored thing shares."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import Any, ClassVar, Protocol, TypeVar, cast

from django.db.models import Model, QuerySet
from rest_framework import mixins, viewsets
from rest_framework.pagination import PageNumberPagination
from rest_framework.permissions import BasePermission
from rest_framework.request import Request
from rest_framework.serializers import BaseSerializer, Serializer
from rest_framework.settings import api_settings
from rest_framework.views import APIView

from jobs import services
from jobs.carefully import Carefully
from jobs.changed_since import ChangedSince
from jobs.errors import BadInput, Fault
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


class Addable(mixins.CreateModelMixin, Readable[Row]):
    """Added by the roles in `writers`."""

    def perform_create(self, serializer: BaseSerializer[Row]) -> None:
        serializer.instance = services.add(self.get_queryset().model(**serializer.validated_data))


class Resource(mixins.UpdateModelMixin, Addable[Row]):
    """Added and changed by the roles in `writers`. Nothing is deleted: history stays."""

    http_method_names = ["get", "post", "patch", "head", "options"]

    def perform_update(self, serializer: BaseSerializer[Row]) -> None:
        serializer.instance = services.change(row_of(serializer), **serializer.validated_data)
