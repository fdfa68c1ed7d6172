"""Products, what they serve and what they may touch, as JSON."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from jobs.measures import AmountField, UnitField
from jobs.names import KnownNames, ModelBody
from materials.calc.product import ProductFacts
from materials.calc.ranges import product_ranges
from materials.calc.starting_products import STARTING_PRODUCTS
from materials.models import Compatibility, DetailProduct, Evidence, Product
from openings.calc.units import US
from openings.measure_fields import MeasuredModelSerializer, units_of
from openings.serializers import AdviceSerializer

SMALL_LENGTHS = ("fastener_diameter_in", "fastener_penetration_in")
"""Columns of a product that never hold feet, so that 1/2 is half an inch."""


class ProductSerializer(MeasuredModelSerializer[Product]):
    amounts = ("package_quantity",)
    unit = "measure"
    small_lengths = SMALL_LENGTHS
    advice = serializers.SerializerMethodField(help_text="Figures outside their usual range; no refusal.")

    class Meta:
        model = Product
        fields = "__all__"
        read_only_fields: ClassVar = ["retired_at"]

    @extend_schema_field(AdviceSerializer(many=True))
    def get_advice(self, product: Product) -> Any:
        request = self.context.get("request")
        found = product_ranges(product.as_facts(), units=units_of(request) if request else US)
        return [AdviceSerializer(one).data for one in found]


class StartingSerializer(KnownNames):
    """Products of the starting list, by their codes."""

    codes = serializers.ListField(
        child=serializers.ChoiceField(choices=[(one.facts.code, one.facts.name) for one in STARTING_PRODUCTS]),
        allow_empty=False,
    )


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
    spare_pct = serializers.DecimalField(5, 2)
    spare_pieces = serializers.IntegerField()
