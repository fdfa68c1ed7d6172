"""JSON ⇄ walls as they are laid, and what water does on them."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from rest_framework import serializers

from jobs.measures import InchesField
from jobs.names import KnownNames
from openings.calc.extents import Rect
from openings.calc.facts import STEEPEST_SILL_DEG, DetailFacts, OpeningFacts
from openings.calc.geometry import ROOT_OF_2
from openings.calc.units import US, Units
from openings.calc.water.layers import MOST_LAYERS, MOST_RECTANGLES, Edge, Flap, Layer, Pan, Role, Tuck, Wall
from openings.calc.water.of_detail import head_flap
from openings.calc.water.verdict import CAUTION, SOURCES, Fault, Verdict
from openings.measure_fields import LengthField, units_of
from openings.serializers.compute import DetailAsked, OpeningAsked, OpeningWithDetail
from openings.serializers.computed import Sourced

LONGEST_NAME = 80
EDGES = [edge.value for edge in Edge]


class PlaceAsked(KnownNames):
    """A rectangle on the wall, from the upper left corner of the rough opening: right and down."""

    left_in = LengthField(9, 5)
    top_in = LengthField(9, 5)
    right_in = LengthField(9, 5)
    bottom_in = LengthField(9, 5)

    def validate(self, values: dict[str, Any]) -> Rect:
        return Rect(**values)


class TuckAsked(KnownNames):
    """Behind which layer, and where; everywhere where no place is given."""

    layer = serializers.CharField(max_length=LONGEST_NAME)
    where = PlaceAsked(required=False, allow_null=True, default=None)

    def validate(self, values: dict[str, Any]) -> Tuck:
        return Tuck(values["layer"], values["where"])


class FlapAsked(KnownNames):
    """The head flap of a WRB that is laid first, cut at 45° from the top corners of the rough opening."""

    cut_in = LengthField(9, 5, min_value=Decimal(1), max_value=Decimal(200), help_text="Length of each cut.")
    is_taped = serializers.BooleanField(default=True)
    closed_after = serializers.CharField(
        max_length=LONGEST_NAME, default="", allow_blank=True, help_text="The layer after which it is folded down."
    )


class LayerAsked(KnownNames):
    """One sheet, or the unit with its flange or casing; free edges where nothing is said."""

    name = serializers.CharField(max_length=LONGEST_NAME)
    role = serializers.ChoiceField(choices=[role.value for role in Role])
    places = serializers.ListField(child=PlaceAsked(), min_length=1, max_length=MOST_RECTANGLES)
    top = serializers.ChoiceField(choices=EDGES, default=Edge.FREE.value)
    sides = serializers.ChoiceField(choices=EDGES, default=Edge.FREE.value)
    bottom = serializers.ChoiceField(choices=EDGES, default=Edge.FREE.value)
    bottom_gaps = serializers.IntegerField(default=0, min_value=0, max_value=100)
    behind = serializers.ListField(child=TuckAsked(), max_length=MOST_LAYERS, default=list)
    cuts = serializers.ListField(
        child=PlaceAsked(),
        max_length=MOST_RECTANGLES,
        default=list,
        help_text="Where it is slit: lines, so without width or without height.",
    )
    flap = FlapAsked(required=False, allow_null=True, default=None)


class PanAsked(KnownNames):
    """What of a pan does not lie on the face of the wall."""

    turn_up_in = LengthField(9, 5, min_value=Decimal(0))
    length_in = LengthField(9, 5, min_value=Decimal(0))
    back_dam_in = LengthField(9, 5, min_value=Decimal(0), default=Decimal(0))
    slope_deg = serializers.DecimalField(
        6, 2, min_value=Decimal(0), max_value=Decimal(STEEPEST_SILL_DEG), default=Decimal(0)
    )
    front_lap_in = LengthField(9, 5, min_value=Decimal(0))
    is_slit_through_base = serializers.BooleanField(default=False)
    is_fastened_through_base = serializers.BooleanField(default=False)
    has_corner_pieces = serializers.BooleanField(default=False)

    def validate(self, values: dict[str, Any]) -> Pan:
        return Pan(**values)


class WallAsked(KnownNames):
    """The layers of a wall in the order in which they are laid, as a firm or a maker has it."""

    ro_width_in = LengthField(9, 5)
    ro_height_in = LengthField(9, 5)
    layers = serializers.ListField(child=LayerAsked(), min_length=1, max_length=MOST_LAYERS)
    pan = PanAsked(required=False, allow_null=True, default=None)
    order = serializers.ListField(
        child=serializers.CharField(max_length=LONGEST_NAME),
        max_length=MOST_LAYERS,
        default=list,
        help_text="Names of the layers in the order in which they are laid, where that is another than they stand in.",
    )

    def validate(self, values: dict[str, Any]) -> Wall:
        layers = {layer["name"]: layer for layer in values["layers"]}
        order = values["order"] or [layer["name"] for layer in values["layers"]]
        if values["order"] and sorted(order) != sorted(layers):
            right = "name each layer once, and no other"
            raise serializers.ValidationError({"order": f"{right}: {', '.join(layers)}"})
        return Wall(
            width_in=values["ro_width_in"],
            height_in=values["ro_height_in"],
            layers=tuple(_layer(layers[name], values["ro_width_in"]) for name in order),
            pan=values["pan"],
        )


def _layer(values: dict[str, Any], width_in: Decimal) -> Layer:
    flap = values["flap"]
    return Layer(
        name=values["name"],
        role=Role(values["role"]),
        rects=tuple(values["places"]),
        top=Edge(values["top"]),
        sides=Edge(values["sides"]),
        bottom=Edge(values["bottom"]),
        bottom_gaps=values["bottom_gaps"],
        tucks=tuple(values["behind"]),
        cuts=tuple(values["cuts"]),
        flap=flap
        and Flap(
            rects=head_flap(width_in, flap["cut_in"] / ROOT_OF_2),
            is_taped=flap["is_taped"],
            closed_after=flap["closed_after"],
        ),
    )


class WaterPathAsked(KnownNames):
    """A detail, on an opening or by itself, or a wall layer by layer."""

    detail = DetailAsked(required=False)
    opening = OpeningAsked(required=False)
    wall = WallAsked(required=False)

    def validate(self, values: dict[str, Any]) -> Wall | tuple[DetailFacts, OpeningFacts | None]:
        if "wall" in values:
            if len(values) > 1:
                raise serializers.ValidationError({"wall": "give a wall, or a detail with or without an opening"})
            wall: Wall = values["wall"]
            return wall
        if "detail" not in values:
            raise serializers.ValidationError({"detail": "give a detail, or a wall layer by layer"})
        if "opening" not in values:
            return values["detail"], None
        both = OpeningWithDetail(context=self.context).validate(values)
        return both["detail"], both["opening"]


class FaultPlaceSerializer(serializers.Serializer[Rect]):
    left_in = InchesField(12, 5)
    top_in = InchesField(12, 5)
    right_in = InchesField(12, 5)
    bottom_in = InchesField(12, 5)


class WaterFaultSerializer(Sourced[Fault]):
    name = serializers.CharField()
    severity = serializers.CharField()
    what = serializers.SerializerMethodField()
    mend = serializers.SerializerMethodField()
    source = serializers.CharField()
    layers = serializers.ListField(child=serializers.CharField())
    step = serializers.CharField(allow_blank=True, help_text="The step that makes it; empty where others lay it.")
    places = FaultPlaceSerializer(many=True)

    def get_what(self, fault: Fault) -> str:
        return fault.what_in(self._units())

    def get_mend(self, fault: Fault) -> str:
        return fault.mend_in(self._units())

    def _units(self) -> Units:
        request = self.context.get("request")
        return units_of(request) if request else US


class WaterPathSerializer(serializers.Serializer[Verdict]):
    """What a wall does with water; what cannot be seen in that stands in the caution."""

    passes = serializers.BooleanField(help_text="Nothing is wrong; there may be notes.")
    leaks = serializers.BooleanField(help_text="Water gets in, so the detail is refused for an opening.")
    not_judged = serializers.CharField(allow_null=True)
    faults = WaterFaultSerializer(many=True)
    caution = serializers.SerializerMethodField()
    sources = serializers.SerializerMethodField()

    def get_caution(self, _verdict: Verdict) -> str:
        return CAUTION

    def get_sources(self, _verdict: Verdict) -> list[str]:
        return list(SOURCES)


class AcceptLeakSerializer(KnownNames):
    """Why a detail is used though it lets water in."""

    why = serializers.CharField(max_length=300)
