"""Products, what they serve and what they may touch, as JSON."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from rest_framework import serializers

from jobs.measures import AmountField, UnitField
from jobs.names import ModelBody
from materials.calc.product import ProductFacts
from materials.models import Compatibility, DetailProduct, Evidence, Product
from openings.measure_fields import MeasuredModelSerializer


class ProductSerializer(MeasuredModelSerializer[Product]):
    amounts = ("package_quantity",)
    unit = "measure"

    class Meta:
        model = Product
        fields = "__all__"


class DetailProductSerializer(ModelBody[DetailProduct]):
    class Meta:
        model = DetailProduct
        fields = "__all__"


class CompatibilitySerializer(ModelBody[Compatibility]):
    class Meta:
        model = Compatibility
        fields = "__all__"


class EvidenceSerializer(ModelBody[Evidence]):
    class Meta:
        model = Evidence
        fields = "__all__"
        read_only_fields: ClassVar = ["recorded_by"]


class PairSerializer(serializers.Serializer[Any]):
    """Two chemistries that would touch."""

    chemistry = serializers.CharField(max_length=60)
    neighbor = serializers.CharField(max_length=60)


class VerdictSerializer(serializers.Serializer[Mapping[str, str]]):
    verdict = serializers.CharField()
    source = serializers.CharField(allow_blank=True)  # type: ignore[assignment]


class ShelfSerializer(serializers.Serializer[Product | ProductFacts]):
    """A product as a line needs it."""

    code = serializers.CharField()
    name = serializers.CharField()
    package = serializers.CharField()
    measure = UnitField()
    package_quantity = AmountField(10, 5)
