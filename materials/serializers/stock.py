"""Stock and where it lies, as JSON."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any, ClassVar

from rest_framework import serializers

from jobs.calc.horizon import EXPIRY, PAST
from jobs.dates import Within, require_within
from jobs.names import KnownNames, ModelBody
from jobs.queries import latest_today_on_sites
from materials.models import Lot, Movement, Place, Product
from materials.queries.stock import Share, Shortage
from materials.serializers.product import ProductSerializer, ShelfSerializer


class PlaceSerializer(ModelBody[Place]):
    class Meta:
        model = Place
        fields = "__all__"


class LotSerializer(ModelBody[Lot]):
    class Meta:
        model = Lot
        fields = "__all__"

    def validate_received_on(self, received_on: date) -> date:
        require_within(PAST, received_on, today=latest_today_on_sites(), field="received_on")
        return received_on


class MovementSerializer(ModelBody[Movement]):
    class Meta:
        model = Movement
        fields = "__all__"
        read_only_fields: ClassVar = ["moved_by"]


class CountedSerializer(KnownNames):
    """The packages of one product, of one lot where the package has a lot number."""

    product = serializers.PrimaryKeyRelatedField(queryset=Product.objects.all())
    packages = serializers.DecimalField(10, 3, min_value=Decimal(0))
    lot_code = serializers.CharField(max_length=60, required=False, allow_blank=True, default="")
    expires_on = serializers.DateField(validators=[Within(EXPIRY)], required=False, allow_null=True, default=None)


class CountSerializer(KnownNames):
    """What was counted at one place."""

    place = serializers.PrimaryKeyRelatedField(queryset=Place.objects.all())
    lines = CountedSerializer(many=True, allow_empty=False)
    reason = serializers.CharField(max_length=200, required=False, default="count")


class StockSerializer(serializers.Serializer[Mapping[str, Any]]):
    place = PlaceSerializer()
    product = ProductSerializer()
    lot = serializers.IntegerField(allow_null=True)
    packages = serializers.DecimalField(20, 3)


class SheetShareSerializer(serializers.Serializer[Share]):
    sheet = serializers.IntegerField(source="sheet.pk")
    crew = serializers.CharField(source="sheet.crew_day.crew.name")
    on = serializers.DateField(source="sheet.crew_day.on", read_only=True)
    packages = serializers.IntegerField(help_text="What the sheet lists less what is loaded.")
    short = serializers.IntegerField(help_text="What this truck is short of, those before it supplied first.")


class ShortageSerializer(serializers.Serializer[Shortage]):
    product = ShelfSerializer()
    on_hand = serializers.DecimalField(20, 3)
    reserved = serializers.IntegerField()
    short = serializers.IntegerField(help_text="In all: the sum of what the trucks go without.")
    sheets = SheetShareSerializer(many=True, source="shares", help_text="In the order in which trucks are loaded.")
