"""Endpoints of remnants, and of what trucks bring back of rolls."""

from __future__ import annotations

from typing import Any, ClassVar

from django.db.models import QuerySet
from django_filters import ChoiceFilter, FilterSet
from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer

from jobs.permissions import STOCK
from jobs.resource import Addable, Endpoint, refuse_body
from jobs.signed_in import signed_in
from materials import queries, services
from materials.models import Remnant
from materials.serializers import RemnantSerializer, RollToSettleSerializer, SettledSerializer, SettleSerializer

ON_HAND = "on_hand"


class RemnantFilter(FilterSet):
    fate = ChoiceFilter(
        choices=[(ON_HAND, "on hand"), *Remnant.Fate.choices], method="of_fate", help_text="On hand, or how it ended."
    )

    class Meta:
        model = Remnant
        fields: ClassVar = ["product", "place", "fate", "reserved_for"]

    def of_fate(self, found: QuerySet[Remnant], name: str, fate: str) -> QuerySet[Remnant]:
        return found.filter(fate="" if fate == ON_HAND else fate)


class Remnants(Addable[Remnant]):
    """What is left of rolls, piece by piece; those that are gone stay listed."""

    queryset = queries.remnant_list()
    serializer_class = RemnantSerializer
    writers = STOCK
    filterset_class = RemnantFilter
    ordering_fields: ClassVar = ["length_in", "entered_at"]
    ordering: ClassVar = ["product__code", "-length_in"]

    def perform_create(self, serializer: BaseSerializer[Remnant]) -> None:
        serializer.instance = services.enter_remnant(by=signed_in(self.request), **serializer.validated_data)

    @extend_schema(request=None, responses=RemnantSerializer)
    @action(detail=True, methods=["post"])
    def scrap(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Enter that it is gone; a crew day that counts on it counts on it no more."""
        refuse_body(request)
        services.scrap_remnant(remnant_id=self.get_object().pk, by=signed_in(request))
        return Response(self.get_serializer(self.get_object()).data)


class RollsToSettle(Endpoint):
    @extend_schema(responses=RollToSettleSerializer(many=True))
    def get(self, request: Request, **kwargs: Any) -> Response:
        """The rolls that today's and earlier trucks took along, until it is entered what came back of them."""
        return Response(RollToSettleSerializer(queries.rolls_to_settle(), many=True).data)


class SettleRoll(Endpoint):
    writers = STOCK

    @extend_schema(request=SettleSerializer, responses=SettledSerializer)
    def post(self, request: Request, roll_id: int, **kwargs: Any) -> Response:
        """Enter what came back of a roll: it lies there as a remnant, and the one it was cut from is cut up.

        Only what was loaded can come back. Another length corrects what was entered before, as long as the remnant
        that came of it has not been used since; the same length again changes nothing.
        """
        body = SettleSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        settled = services.settle_roll(roll_id=roll_id, by=signed_in(request), **body.validated_data)
        return Response(SettledSerializer(settled).data)
