"""Measures at the edge: lengths as people write them, and the units in which they ask to be answered."""

from __future__ import annotations

from collections.abc import Collection
from decimal import Decimal
from typing import TYPE_CHECKING, Any, ClassVar, TypeVar

from django.db import models
from django.http import HttpRequest
from drf_spectacular.extensions import OpenApiSerializerFieldExtension
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request

from jobs.errors import BadInput
from jobs.measures import (
    AmountField,
    InchesField,
    MeasureField,
    PoundsField,
    PressureField,
    TemperatureField,
    TemperatureRangeField,
    UnitChoiceField,
    UnitField,
)
from jobs.names import ModelBody
from openings.calc.figures import plain
from openings.calc.hours import RIGHT, checked_hours, read_hours
from openings.calc.tape import read_length
from openings.calc.units import BY_NAME, US, Reasoned, Units
from openings.errors import BadHours, BadLength

if TYPE_CHECKING:  # it imports views, whose settings name what is built on this file
    from drf_spectacular.openapi import AutoSchema

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
"""The media type of a workbook. Source: ISO/IEC 29500-1, as IANA registered it."""

LONGEST_SHOWN = 40

Row = TypeVar("Row", bound=models.Model)


def units_of(request: Request | HttpRequest) -> Units:
    """Return the units that `?units=` asks for, the trade's own where it asks for none.

    Raises:
        BadInput: there are no such units.
    """
    asked = request.GET.get("units", US.name)
    if asked not in BY_NAME:
        shown = asked[:LONGEST_SHOWN]
        sentence = f"there are no units “{shown}”; ask for {' or '.join(BY_NAME)}"
        raise BadInput.of("units", shown, sentence)
    return BY_NAME[asked]


class LengthField(InchesField):
    """Decimal inches. Text is read as people write lengths: tape notation, fractions, or with a unit of its own."""

    is_small = False

    def to_internal_value(self, sent: Any) -> Any:
        if isinstance(sent, str):
            try:
                # Without padding, so that a field of fewer places takes it.
                sent = plain(read_length(sent, is_small=self.is_small))
            except BadLength as error:
                raise serializers.ValidationError(error.detail, code=error.code) from error
        return super().to_internal_value(sent)


class SmallLengthField(LengthField):
    """A length that can only be small, so that `1/8` is an eighth of an inch."""

    is_small = True


class HoursField(serializers.DecimalField):
    """Hours that somebody worked. Text is read as people write them: 2:15, 45 min, 1 1/2."""

    def to_internal_value(self, sent: Any) -> Any:
        try:
            if isinstance(sent, str):
                return read_hours(sent)
            if isinstance(sent, bool) or not isinstance(sent, int | float | Decimal):
                raise BadHours(f"this is not a time that somebody worked; {RIGHT}")
            return checked_hours(Decimal(str(sent)))
        except BadHours as error:
            raise serializers.ValidationError(error.detail, code=error.code) from error


class HoursSchema(OpenApiSerializerFieldExtension):  # type: ignore[no-untyped-call]  # drf-spectacular's has no types
    """How the OpenAPI document describes hours: a number, and on the way in also text."""

    target_class = HoursField

    def map_serializer_field(self, auto_schema: AutoSchema, direction: str) -> dict[str, Any]:
        number = _as_number(auto_schema, self.target, direction)
        return number if direction == "response" else {"oneOf": [number, {"type": "string", "example": "2:15"}]}


class LengthSchema(OpenApiSerializerFieldExtension):  # type: ignore[no-untyped-call]  # drf-spectacular's has no types
    """How the OpenAPI document describes a length: a number, and on the way in also text."""

    target_class = LengthField
    match_subclasses = True

    def map_serializer_field(self, auto_schema: AutoSchema, direction: str) -> dict[str, Any]:
        number = _as_number(auto_schema, self.target, direction)
        if direction == "response":
            return number
        return {"oneOf": [number, {"type": "string", "example": "1/8" if self.target.is_small else "3' 0 1/2\""}]}


def _as_number(auto_schema: AutoSchema, field: Any, direction: str) -> dict[str, Any]:
    """Return how a field of figures is described where nothing of our own is said of it."""
    number: dict[str, Any] = auto_schema._map_serializer_field(field, direction, bypass_extensions=True)  # type: ignore[no-untyped-call]  # drf-spectacular's has no types
    return number


FIELDS_OF_COLUMNS: dict[str, type[MeasureField]] = {
    "_in": LengthField, "_lb": PoundsField, "_psf": PressureField, "_range_f": TemperatureRangeField,
    "_f": TemperatureField,
}  # fmt: skip
"""By the end of a column's name, the first that fits: that says what a column measures."""


class MeasuredModelSerializer(ModelBody[Row]):
    """A model whose columns are measured, lists of them included; lengths are taken as people write them.

    Those named in `small_lengths` can only be small. `amounts` are of the unit that the column `unit` says.
    """

    small_lengths: ClassVar[Collection[str]] = ()
    amounts: ClassVar[Collection[str]] = ()
    unit: ClassVar[str] = ""

    def build_standard_field(
        self, field_name: str, model_field: models.Field[Any, Any]
    ) -> tuple[type[serializers.Field[Any, Any, Any, Any]], dict[str, Any]]:
        field_class, options = super().build_standard_field(field_name, model_field)
        name = model_field.name  # the entries of an array have the name of its column, not of a field
        if name == self.unit:
            field_class = UnitChoiceField if "choices" in options else UnitField
        elif issubclass(field_class, serializers.DecimalField):
            field_class = self._figure(name) or field_class
        return field_class, options

    def _figure(self, name: str) -> type[serializers.DecimalField] | None:
        """Return the field that says what a column of figures measures, or None where that is no measure."""
        if name in self.amounts:
            return AmountField
        if name in self.small_lengths:
            return SmallLengthField
        ends = (end for end in FIELDS_OF_COLUMNS if name.endswith(end) and not name.endswith(f"_per{end}"))
        return FIELDS_OF_COLUMNS.get(next(ends, ""))


@extend_schema_field(str)
class ReasonField(serializers.Field[Reasoned, Any, str, Any]):
    """The reason of a line, in the units that the request asks for; `source` is where the line stands."""

    def __init__(self, *, source: str = "*", **options: Any) -> None:
        super().__init__(source=source, read_only=True, **options)

    def to_representation(self, line: Reasoned) -> str:
        request = self.context.get("request")
        return line.reason_in(units_of(request) if request else US)
