"""Stock and where it lies, as JSON."""

from __future__ import annotations

from typing import ClassVar

from rest_framework import serializers

from materials.models import Lot, Movement, Place
from materials.serializers.product import ProductSerializer, ShelfSerializer


class PlaceSerializer(serializers.ModelSerializer):
    class Meta:
        model = Place
        fields = "__all__"


class LotSerializer(serializers.ModelSerializer):
    class Meta:
        model = Lot
        fields = "__all__"


class MovementSerializer(serializers.ModelSerializer):
    class Meta:
        model = Movement
        fields = "__all__"
        read_only_fields: ClassVar = ["moved_by"]


class StockSerializer(serializers.Serializer):
    place = PlaceSerializer()
    product = ProductSerializer()
    lot = serializers.IntegerField(allow_null=True)
    packages = serializers.DecimalField(20, 3)


class SheetShareSerializer(serializers.Serializer):
    sheet = serializers.IntegerField()
    crew = serializers.CharField()
    on = serializers.DateField()
    packages = serializers.IntegerField()


class ShortageSerializer(serializers.Serializer):
    product = ShelfSerializer()
    on_hand = serializers.DecimalField(20, 3)
    reserved = serializers.IntegerField()
    short = serializers.DecimalField(20, 3)
    sheets = SheetShareSerializer(many=True)
