"""JSON ⇄ products, stock and pull sheets."""

from __future__ import annotations

from dataclasses import fields
from typing import ClassVar

from rest_framework import serializers

from materials.calc.parts import Part
from materials.calc.product import Measure, ProductFacts
from materials.models import (
    Compatibility,
    DetailProduct,
    Evidence,
    Lot,
    Movement,
    Place,
    Product,
    PullSheet,
    PullSheetLine,
    RollCut,
)
from openings.edge import MeasuredModelSerializer, ReasonField
from openings.serializers import AdviceSerializer, OpeningWithDetail


class ProductSerializer(MeasuredModelSerializer):
    class Meta:
        model = Product
        fields = "__all__"


class DetailProductSerializer(serializers.ModelSerializer):
    class Meta:
        model = DetailProduct
        fields = "__all__"


class CompatibilitySerializer(serializers.ModelSerializer):
    class Meta:
        model = Compatibility
        fields = "__all__"


class EvidenceSerializer(serializers.ModelSerializer):
    class Meta:
        model = Evidence
        fields = "__all__"
        read_only_fields: ClassVar = ["recorded_by"]


class PairSerializer(serializers.Serializer):
    """Two chemistries that would touch."""

    chemistry = serializers.CharField(max_length=60)
    neighbor = serializers.CharField(max_length=60)


class VerdictSerializer(serializers.Serializer):
    verdict = serializers.CharField()
    source = serializers.CharField(allow_blank=True)


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


class ShelfSerializer(serializers.Serializer):
    """A product as a line needs it."""

    code = serializers.CharField()
    name = serializers.CharField()
    package = serializers.CharField()
    measure = serializers.CharField()
    package_quantity = serializers.DecimalField(10, 5)


class DrawLineSerializer(serializers.Serializer):
    part = serializers.CharField(source="line.part")
    count = serializers.IntegerField(source="line.count")
    each = serializers.DecimalField(12, 5, source="line.each")
    quantity = serializers.DecimalField(12, 5, source="line.quantity")
    unit = serializers.CharField(source="line.unit")
    product = ShelfSerializer(allow_null=True)
    packages = serializers.DecimalField(12, 5, allow_null=True)
    reason = ReasonField(source="line")
    source = serializers.CharField(source="line.source")


class ShortfallSerializer(serializers.Serializer):
    """One thing for which the products chosen do not do."""

    code = serializers.CharField(source="error.code")
    field = serializers.CharField(source="fault.field")
    value = serializers.CharField(source="fault.value")
    detail = serializers.CharField(source="fault.detail")


class JudgedSerializer(serializers.Serializer):
    """Two parts that touch, and whether their products may."""

    part = serializers.CharField(source="contact.part")
    neighbor = serializers.CharField(source="contact.neighbor")
    where = serializers.CharField(source="contact.where")
    verdict = serializers.CharField()
    reason = serializers.CharField()
    source = serializers.CharField()


class DrawSerializer(serializers.Serializer):
    opening = serializers.IntegerField(allow_null=True)
    lines = DrawLineSerializer(many=True)
    faults = ShortfallSerializer(many=True)
    touching = JudgedSerializer(many=True, source="judged")
    advice = AdviceSerializer(many=True)
    caution = serializers.CharField()


class OpeningAdviceSerializer(serializers.Serializer):
    opening = serializers.IntegerField()
    advice = AdviceSerializer(many=True)
    caution = serializers.CharField()


class ProductAsked(MeasuredModelSerializer):
    """A product of the shelf by its code alone, or one that is described whole."""

    class Meta:
        model = Product
        fields: ClassVar = [field.name for field in fields(ProductFacts)]
        extra_kwargs: ClassVar = {
            "code": {"validators": []},
            **{name: {"required": False} for name in ("name", "measure", "package", "package_quantity")},
        }
        validators: ClassVar[list] = []

    def validate(self, values: dict) -> ProductFacts | str:
        if set(values) == {"code"}:
            return values["code"]
        missing = [name for name in ("measure", "package", "package_quantity") if name not in values]
        if missing:
            required = "give it, or the code alone for a product of the shelf"
            raise serializers.ValidationError(dict.fromkeys(missing, required))
        values.setdefault("name", values["code"])
        return ProductFacts(**values | {"measure": Measure(values["measure"])})


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


class JobDrawLineSerializer(serializers.Serializer):
    part = serializers.CharField()
    product = ShelfSerializer(allow_null=True)
    quantity = serializers.DecimalField(14, 5)
    unit = serializers.CharField()
    packages = serializers.DecimalField(14, 5, allow_null=True)


class JobDrawSerializer(serializers.Serializer):
    job = serializers.IntegerField()
    openings_count = serializers.IntegerField()
    lines = JobDrawLineSerializer(many=True)


class PullSheetLineSerializer(serializers.ModelSerializer):
    product = ShelfSerializer(allow_null=True)

    class Meta:
        model = PullSheetLine
        fields: ClassVar = ["id", "product", "parts", "quantity", "measure", "packages", "loaded_packages"]


class PullSheetSerializer(serializers.ModelSerializer):
    number = serializers.CharField(read_only=True)
    crew = serializers.IntegerField(source="crew_day.crew_id", read_only=True)
    crew_name = serializers.CharField(source="crew_day.crew.name", read_only=True)
    on = serializers.DateField(source="crew_day.on", read_only=True)
    lines = PullSheetLineSerializer(many=True, read_only=True)

    class Meta:
        model = PullSheet
        fields: ClassVar = [
            "id", "number", "revision", "state", "crew", "crew_name", "on", "requested_at", "written_at", "failure",
            "changes", "lines",
        ]  # fmt: skip


class RequestSheetSerializer(serializers.Serializer):
    crew = serializers.IntegerField(min_value=1)
    on = serializers.DateField()


class LoadSerializer(serializers.Serializer):
    line = serializers.IntegerField(min_value=1)
    packages = serializers.IntegerField(min_value=0, max_value=9999, help_text="What lies on the truck now.")


class RollCutSerializer(serializers.ModelSerializer):
    mark = serializers.CharField(source="opening.mark")
    product_code = serializers.CharField(source="product.code")

    class Meta:
        model = RollCut
        fields: ClassVar = ["product_code", "roll", "place_in_roll", "opening", "mark", "part", "length_in"]


class StagingSerializer(serializers.Serializer):
    sheet = PullSheetSerializer()
    cuts = RollCutSerializer(many=True)


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


class StagingDay(serializers.Serializer):
    on = serializers.DateField(required=False, help_text="The next day with a sheet where it is not given.")


class MaterialProgressSerializer(serializers.Serializer):
    product = ShelfSerializer()
    planned_packages = serializers.DecimalField(12, 2)
    planned_done_packages = serializers.DecimalField(12, 2)
    loaded_packages = serializers.DecimalField(12, 2)


class EndingSerializer(serializers.Serializer):
    on = serializers.DateField(allow_null=True)
    reason = serializers.CharField()


class ProgressSerializer(serializers.Serializer):
    job = serializers.IntegerField(source="progress.job.pk")
    code = serializers.CharField(source="progress.job.code")
    name = serializers.CharField(source="progress.job.name")
    openings_count = serializers.IntegerField(source="progress.openings_count")
    done_count = serializers.IntegerField(source="progress.done_count")
    done_pct = serializers.IntegerField(source="progress.done_pct")
    states = serializers.DictField(source="progress.states", child=serializers.IntegerField())
    planned_person_h = serializers.DecimalField(12, 2, source="progress.planned_person_h")
    planned_person_h_done = serializers.DecimalField(12, 2, source="progress.planned_person_h_done")
    recorded_person_h = serializers.DecimalField(12, 2, source="progress.recorded_person_h")
    recorded_person_h_done = serializers.DecimalField(12, 2, source="progress.recorded_person_h_done")
    done_by_day = serializers.DictField(source="progress.done_by_day_text", child=serializers.IntegerField())
    ending = EndingSerializer(source="progress.ending")
    materials = MaterialProgressSerializer(many=True)
