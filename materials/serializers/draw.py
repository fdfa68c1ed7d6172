"""Draws as JSON, stored and asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from jobs.measures import AmountField, UnitField
from materials.calc.attachment import Held
from materials.calc.compatibility import Judged
from materials.calc.load_list import LoadItem
from materials.calc.parts import Part
from materials.calc.product import ProductFacts
from materials.calc.supply import Shortfall, SuppliedLine
from materials.models import Product
from materials.models.product import facts_of
from materials.queries.draw import OpeningDraw
from materials.serializers.product import SMALL_LENGTHS, ShelfSerializer
from openings.calc.units import US
from openings.measure_fields import MeasuredModelSerializer, ReasonField, units_of
from openings.serializers import AdviceSerializer, OpeningWithDetail


class DrawLineSerializer(serializers.Serializer[SuppliedLine]):
    part = serializers.CharField(source="line.part")
    count = serializers.IntegerField(source="line.count")
    each = AmountField(12, 5, source="line.each")
    quantity = AmountField(12, 5, source="line.quantity")
    spare = AmountField(
        12,
        5,
        allow_null=True,
        help_text="In percent, beside the quantity and not in it; pieces are taken once a truck.",
    )
    unit = UnitField(source="line.unit")
    product = ShelfSerializer(allow_null=True)
    packages = serializers.DecimalField(12, 5, allow_null=True)
    reason = ReasonField(source="line")
    source = serializers.CharField(source="line.source")  # type: ignore[assignment]


class ShortfallSerializer(serializers.Serializer[Shortfall]):
    """One thing for which the products chosen do not do."""

    code = serializers.CharField(source="error.code")
    field = serializers.CharField(source="fault.field")
    value = serializers.CharField(source="fault.value")
    detail = serializers.CharField(source="fault.detail")


class MissingSerializer(serializers.Serializer[Mapping[str, str]]):
    """A part without a product, and why."""

    part = serializers.CharField()
    reason = serializers.CharField()


class JudgedSerializer(serializers.Serializer[Judged]):
    """Two parts that touch, and whether their products may."""

    part = serializers.CharField(source="contact.part")
    neighbor = serializers.CharField(source="contact.neighbor")
    where = serializers.CharField(source="contact.where")
    verdict = serializers.CharField()
    reason = serializers.CharField()
    source = serializers.CharField()  # type: ignore[assignment]


class HeldSerializer(serializers.Serializer[Held]):
    """How a strip or membrane is held, by the product that is chosen for it."""

    step = serializers.CharField()
    part = serializers.CharField()
    said = serializers.CharField()


@extend_schema_field(str)
class AmountText(serializers.Field[LoadItem, Any, str, Any]):
    """How much of a small supply, in words, in the units that the request asks for."""

    def __init__(self) -> None:
        super().__init__(source="*", read_only=True)

    def to_representation(self, item: LoadItem) -> str:
        request = self.context.get("request")
        return item.amount_in(units_of(request) if request else US)


class LoadItemSerializer(serializers.Serializer[LoadItem]):
    """A tool or small supply to carry along; without an amount, one is enough or it is taken as needed."""

    name = serializers.CharField()
    amount = AmountText()
    why = serializers.CharField()


class DrawSerializer(serializers.Serializer[OpeningDraw]):
    opening = serializers.IntegerField(allow_null=True)
    lines = DrawLineSerializer(many=True)
    faults = ShortfallSerializer(many=True)
    missing = MissingSerializer(many=True)
    touching = JudgedSerializer(many=True, source="judged")
    advice = AdviceSerializer(many=True)
    held = HeldSerializer(many=True)
    load_list = LoadItemSerializer(many=True)
    caution = serializers.CharField()


class OpeningAdviceSerializer(serializers.Serializer[Mapping[str, Any]]):
    opening = serializers.IntegerField()
    advice = AdviceSerializer(many=True)
    caution = serializers.CharField()


class ProductAsked(MeasuredModelSerializer[Product]):
    """A product of the shelf by its code alone, or one that is described whole."""

    amounts = ("package_quantity",)
    unit = "measure"
    small_lengths = SMALL_LENGTHS

    class Meta:
        model = Product
        fields: ClassVar = [field.name for field in fields(ProductFacts)]
        extra_kwargs: ClassVar = {
            "code": {"validators": []},
            **{name: {"required": False} for name in ("name", "measure", "package", "package_quantity")},
        }
        validators: ClassVar[list[Any]] = []

    def validate(self, values: dict[str, Any]) -> ProductFacts | str:
        if set(values) == {"code"}:
            return str(values["code"])
        missing = [name for name in ("measure", "package", "package_quantity") if name not in values]
        if missing:
            required = "give it, or the code alone for a product of the shelf"
            raise serializers.ValidationError(dict.fromkeys(missing, required))
        values.setdefault("name", values["code"])
        return facts_of(values)


class DrawAsked(OpeningWithDetail):
    """An opening, its detail, and the products by the part that they serve.

    Without `products` the lines tell quantities alone; with them, every part that is drawn needs one that does for it.
    """

    products = serializers.DictField(child=ProductAsked(), required=False, help_text="By part, such as `sill strip`.")

    def validate_products(self, products: dict[str, ProductFacts | str]) -> dict[Part, ProductFacts | str]:
        unknown = {part: f"there is no part {part}; the parts are {', '.join(Part)}" for part in products}
        unknown = {part: said for part, said in unknown.items() if part not in set(Part)}
        if unknown:
            raise serializers.ValidationError(unknown)
        return {Part(part): product for part, product in products.items()}


class JobDrawLineSerializer(serializers.Serializer[Mapping[str, Any]]):
    part = serializers.CharField()
    product = ShelfSerializer(allow_null=True)
    quantity = AmountField(14, 5)
    spare = AmountField(14, 5, allow_null=True, help_text="As of a line of one opening.")
    unit = UnitField()
    packages = serializers.DecimalField(14, 5, allow_null=True)


class JobDrawSerializer(serializers.Serializer[Mapping[str, Any]]):
    job = serializers.IntegerField()
    openings_count = serializers.IntegerField()
    lines = JobDrawLineSerializer(many=True)
    missing = MissingSerializer(many=True)
