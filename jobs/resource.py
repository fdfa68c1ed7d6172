"""The shape that every endpoint of a stored thing shares."""

from __future__ import annotations

from typing import Any, ClassVar

from django.db.models import QuerySet
from rest_framework import mixins, viewsets
from rest_framework.serializers import BaseSerializer

from jobs import services
from jobs.models import Person
from jobs.permissions import OFFICE, ByRole


class Readable(mixins.RetrieveModelMixin, mixins.ListModelMixin, viewsets.GenericViewSet):
    """Listed and read by everybody signed in."""

    permission_classes: ClassVar = [ByRole]
    writers: frozenset[Person.Role] = OFFICE
    ordering: ClassVar[Any] = ["pk"]
    ordering_fields: ClassVar[Any] = ["pk"]

    def filter_queryset(self, queryset: QuerySet) -> QuerySet:
        """Return what was asked for; rows that stand equal keep one order, or pages would overlap."""
        found = super().filter_queryset(queryset)
        return found.order_by(*found.query.order_by, "pk")


class Addable(mixins.CreateModelMixin, Readable):
    """Added by the roles in `writers`."""

    def perform_create(self, serializer: BaseSerializer) -> None:
        serializer.instance = services.add(serializer.Meta.model, **serializer.validated_data)


class Resource(mixins.UpdateModelMixin, Addable):
    """Added and changed by the roles in `writers`. Nothing is deleted: history stays."""

    http_method_names: ClassVar = ["get", "post", "patch", "head", "options"]

    def perform_update(self, serializer: BaseSerializer) -> None:
        serializer.instance = services.change(serializer.instance, **serializer.validated_data)
