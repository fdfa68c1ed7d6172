"""Endpoints of units and of the deliveries that bring them."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any, ClassVar

from django.db.models import Model, QuerySet
from django_filters import BooleanFilter, FilterSet
from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer

from jobs.about import of_several
from jobs.permissions import ANYONE, OFFICE, STOCK
from jobs.resource import Resource, row_of
from jobs.signed_in import signed_in
from openings import services
from openings.models import Delivery, Opening, Unit
from openings.serializers import (
    DeliverySerializer,
    NewDeliverySerializer,
    NewUnitSerializer,
    OrderManySerializer,
    OrderSerializer,
    ReceiveDeliverySerializer,
    ReceiveUnitsSerializer,
    UnitSerializer,
)


class UnitFilter(FilterSet):
    current = BooleanFilter(field_name="replaced_at", lookup_expr="isnull", help_text="No other one replaces it.")

    class Meta:
        model = Unit
        fields: ClassVar = {
            "opening": ["exact"],
            "opening__job": ["exact"],
            "delivery": ["exact"],
            "condition": ["exact"],
            "received_at": ["isnull"],
        }


class Units(Resource[Unit]):
    """The units of openings: ordered, expected, received, damaged or wrong and ordered again."""

    queryset = Unit.objects.with_due()
    serializer_class = UnitSerializer
    writers = OFFICE | STOCK
    locks_first = ("opening",)
    filterset_class = UnitFilter
    ordering_fields: ClassVar = ["opening", "ordered_on", "due_on"]
    ordering: ClassVar = ["pk"]

    def get_serializer_class(self) -> type[BaseSerializer[Unit]]:
        return NewUnitSerializer if self.action == "create" else UnitSerializer

    def perform_create(self, serializer: BaseSerializer[Unit]) -> None:
        values = dict(serializer.validated_data)
        (unit,) = services.order_units(opening_ids=[values.pop("opening").pk], **values)
        serializer.instance = self.get_queryset().get(pk=unit.pk)

    def perform_update(self, serializer: BaseSerializer[Unit]) -> None:
        values = {name: value for name, value in serializer.validated_data.items() if name != "opening"}
        unit = services.revise_unit(unit_id=row_of(serializer).pk, by=signed_in(self.request), **values)
        serializer.instance = self.get_queryset().get(pk=unit.pk)

    @extend_schema(request=OrderManySerializer, responses={201: UnitSerializer(many=True)})
    @action(
        detail=False,
        methods=["post"],
        pagination_class=None,
        filterset_class=None,
        refusals=(HTTPStatus.NOT_FOUND,),
    )
    def many(self, request: Request, **kwargs: Any) -> Response:
        """Enter that the units of several openings are ordered, all or none."""
        asked = _read(OrderManySerializer, request)
        with of_several(Opening, asked["opening_ids"], field="openings"):
            units = services.order_units(**asked)
        return Response(self._shown(units), status=HTTPStatus.CREATED)

    @extend_schema(request=ReceiveUnitsSerializer, responses=UnitSerializer(many=True))
    @action(
        detail=False,
        methods=["post"],
        pagination_class=None,
        filterset_class=None,
        writers=ANYONE,
        refusals=(HTTPStatus.NOT_FOUND,),
    )
    def receive(self, request: Request, **kwargs: Any) -> Response:
        """Enter that units have come, all or none: whole, but for the flaws that are named singly."""
        asked = _read(ReceiveUnitsSerializer, request)
        with of_several(Unit, asked["unit_ids"], field="units"):
            units = services.receive_units(by=signed_in(request), **asked)
        return Response(self._shown(units))

    @extend_schema(request=OrderSerializer, responses={201: UnitSerializer})
    @action(detail=True, methods=["post"])
    def reorder(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Order a damaged or wrong unit again: the new one. The one before stays as history."""
        asked = _read(OrderSerializer, request)
        ordered = services.reorder_unit(unit_id=self.get_object().pk, **asked)
        (shown,) = self._shown([ordered])
        return Response(shown, status=HTTPStatus.CREATED)

    def _shown(self, units: list[Unit]) -> list[dict[str, Any]]:
        found: QuerySet[Unit] = self.get_queryset().filter(pk__in=[unit.pk for unit in units]).order_by("pk")
        return list(UnitSerializer(found, many=True).data)


class DeliveryFilter(FilterSet):
    class Meta:
        model = Delivery
        fields: ClassVar = {"job": ["exact"], "received_at": ["isnull"], "expected_on": ["exact", "gte", "lte"]}


class Deliveries(Resource[Delivery]):
    """What suppliers bring to a job at one time."""

    queryset = Delivery.objects.all()
    serializer_class = DeliverySerializer
    writers = OFFICE | STOCK
    filterset_class = DeliveryFilter
    ordering_fields: ClassVar = ["job", "expected_on", "supplier"]
    ordering: ClassVar = ["expected_on", "pk"]

    def lock_before(self, row: Model) -> None:
        services.lock_openings_of_delivery(row.pk)

    def get_serializer_class(self) -> type[BaseSerializer[Delivery]]:
        return NewDeliverySerializer if self.action == "create" else DeliverySerializer

    def perform_create(self, serializer: BaseSerializer[Delivery]) -> None:
        serializer.instance = services.add_delivery(**serializer.validated_data)

    def perform_update(self, serializer: BaseSerializer[Delivery]) -> None:
        values = {name: value for name, value in serializer.validated_data.items() if name != "job"}
        serializer.instance = services.revise_delivery(delivery_id=row_of(serializer).pk, **values)

    @extend_schema(request=ReceiveDeliverySerializer, responses=DeliverySerializer)
    @action(detail=True, methods=["post"], writers=ANYONE)
    def receive(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Enter that it has come with all its units: whole, but for those named as flawed or missing."""
        asked = _read(ReceiveDeliverySerializer, request)
        came = services.receive_delivery(delivery_id=self.get_object().pk, by=signed_in(request), **asked)
        return Response(DeliverySerializer(came).data)


def _read(body: type[BaseSerializer[Any]], request: Request) -> dict[str, Any]:
    """Return what was sent, as the services take it."""
    sent = body(data=request.data)
    sent.is_valid(raise_exception=True)
    asked: dict[str, Any] = sent.validated_data
    return asked
