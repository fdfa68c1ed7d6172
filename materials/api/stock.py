"""Endpoints of places, lots and moves of stock."""

from __future__ import annotations

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer

from jobs.permissions import SHELF
from jobs.resource import Addable, Endpoint, Resource, row_of
from jobs.signed_in import signed_in
from materials import queries, services
from materials.models import Lot, Movement, Place
from materials.models.values import Counted
from materials.serializers import (
    CountSerializer,
    LotSerializer,
    MovementSerializer,
    PlaceSerializer,
    ShortageSerializer,
    StockSerializer,
)


class Places(Resource[Place]):
    queryset = Place.objects.all()
    serializer_class = PlaceSerializer
    writers = SHELF
    filterset_fields: ClassVar = ["kind", "crew", "opening"]
    ordering_fields: ClassVar = ["kind", "name"]
    ordering: ClassVar = ["kind", "name"]

    def perform_update(self, serializer: BaseSerializer[Place]) -> None:
        serializer.instance = services.change_place(place_id=row_of(serializer).pk, **serializer.validated_data)


class Lots(Resource[Lot]):
    queryset = Lot.objects.all()
    serializer_class = LotSerializer
    writers = SHELF
    filterset_fields: ClassVar = {"product": ["exact"], "code": ["exact"], "expires_on": ["lte", "gte"]}
    ordering_fields: ClassVar = ["received_on", "expires_on"]
    ordering: ClassVar = ["product", "received_on", "pk"]

    def perform_update(self, serializer: BaseSerializer[Lot]) -> None:
        serializer.instance = services.change_lot(lot_id=row_of(serializer).pk, **serializer.validated_data)


class Movements(Addable[Movement]):
    """Moves of stock: entries are added, never changed."""

    queryset = Movement.objects.all()
    serializer_class = MovementSerializer
    writers = SHELF
    filterset_fields: ClassVar = {
        "product": ["exact"], "lot": ["exact"], "source": ["exact"], "destination": ["exact"],
        "moved_at": ["gte", "lte"],
    }  # fmt: skip
    ordering_fields: ClassVar = ["moved_at"]
    ordering: ClassVar = ["-moved_at", "-pk"]

    def perform_create(self, serializer: BaseSerializer[Movement]) -> None:
        serializer.instance = services.move(by=signed_in(self.request), **serializer.validated_data)


class Stock(Endpoint):
    @extend_schema(responses=StockSerializer(many=True))
    def get(self, request: Request, **kwargs: Any) -> Response:
        """What lies in each warehouse and on each truck, by product and lot."""
        return Response(StockSerializer(queries.on_hand(), many=True).data)  # type: ignore[arg-type]  # the stub takes one


class StockCounts(Endpoint):
    writers = SHELF

    @extend_schema(request=CountSerializer, responses={201: MovementSerializer(many=True)})
    def post(self, request: Request, **kwargs: Any) -> Response:
        """Enter what was counted at a place, all or none: the movements that bring the books to it.

        What is more than the books say came from the supplier, what is less is scrap; what was not counted stays. The
        first stock of a firm is a count like any other.
        """
        body = CountSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        asked = body.validated_data
        counted = [Counted(**line) for line in asked.pop("lines")]
        entered = services.count_stock(counted=counted, by=signed_in(request), **asked)
        return Response(MovementSerializer(entered, many=True, context={"request": request}).data, status=201)


class Shortages(Endpoint):
    @extend_schema(responses=ShortageSerializer(many=True))
    def get(self, request: Request, **kwargs: Any) -> Response:
        """The products of which the written pull sheets want more than the warehouses hold, and who goes without.

        Trucks are loaded day by day, and on one day by the name of the crew.
        """
        return Response(ShortageSerializer(queries.shortages(), many=True).data)  # type: ignore[arg-type]  # the stub takes one
