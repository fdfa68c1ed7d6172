"""Lengths and reasons at the edge of the API."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar

import pytest
from drf_spectacular.openapi import AutoSchema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.test import APIRequestFactory

from jobs.errors import BadInput
from jobs.measures import PoundsField
from openings.calc.units import METRIC, US, Units
from openings.measure_fields import LengthField, MeasuredModelSerializer, ReasonField, units_of
from openings.models import Opening

SIDE = LengthField(max_digits=9, decimal_places=5, min_value=Decimal("0.00001"), max_value=480)


def asking(query: str) -> Request:
    return Request(APIRequestFactory().get(f"/api/v1/openings/{query}"))


@pytest.mark.parametrize(("query", "units"), [("", US), ("?units=us", US), ("?units=metric", METRIC)])
def test_units_are_those_asked_for(query, units):
    assert units_of(asking(query)) is units
    assert units_of(asking(query)._request) is units


@pytest.mark.parametrize("query", ["?units=", "?units=furlongs", "?units=METRIC", "?units=metric&units=x"])
def test_units_that_nobody_knows_are_refused(query):
    with pytest.raises(BadInput, match="us or metric") as refused:
        units_of(asking(query))
    assert refused.value.faults[0].field == "units"


# How lengths are written: openings/calc/tape.py and its tests. Inch of 25.4 mm: NIST Handbook 44, appendix C.
@pytest.mark.parametrize(
    ("sent", "inches"),
    [
        (36, "36"),
        (36.5, "36.5"),
        ("36", "36"),
        ("36 1/2", "36.5"),
        ("3' 0 1/2\"", "36.5"),
        ("3'-0 1/2\"", "36.5"),
        ("5/0", "60"),
        ("915 mm", "36.02362"),
        ("914.4mm", "36"),
        ("36.0000001", "36"),
        ("100", "100"),
    ],
)
def test_a_length_is_read_as_people_write_it(sent, inches):
    read = SIDE.run_validation(sent)
    assert (str(read), read.as_tuple().exponent) == (str(Decimal(inches).quantize(Decimal("0.00001"))), -5)


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ("wide", "“wide” is not a length"),
        ("3/4", "can mean 3/4 in or 3'-4"),
        ("1,200", "leave the comma out"),
        ("-36", "it is negative"),
        ("", "is not a length"),
        ("36 1/3", "on no tape"),
        ("x" * 500, "too long"),
        (36.0000001, "no more than 5 decimal places"),
        (True, "valid number"),
        ([36], "valid number"),
        ("41'", "less than or equal to 480"),
        ("0.000001", "greater than or equal to 0.00001"),
    ],
)
def test_what_is_no_length_is_refused_with_its_reason(sent, said):
    with pytest.raises(serializers.ValidationError) as refused:
        SIDE.run_validation(sent)
    assert said in str(refused.value.detail[0])


def test_text_is_rounded_to_what_the_field_holds_or_refused():
    coarse = LengthField(max_digits=5, decimal_places=2)
    assert coarse.run_validation('1/2"') == Decimal("0.5")
    with pytest.raises(serializers.ValidationError, match="2 decimal places"):
        coarse.run_validation('1/8"')


class OpeningSizes(MeasuredModelSerializer):
    class Meta:
        model = Opening
        fields: ClassVar = ["ro_width_in", "ro_height_in", "weight_lb"]


def test_columns_in_inches_take_lengths_within_the_bounds_of_the_model():
    fields = OpeningSizes().fields
    assert (type(fields["ro_width_in"]), type(fields["weight_lb"])) == (LengthField, PoundsField)
    width = fields["ro_width_in"]
    assert (width.max_digits, width.decimal_places, width.max_value) == (9, 5, 480)
    read = OpeningSizes(data={"ro_width_in": "3'-0\"", "ro_height_in": 54, "weight_lb": "40"})
    assert read.is_valid(), read.errors
    assert read.validated_data["ro_width_in"] == 36
    wrong = OpeningSizes(data={"ro_width_in": "50'", "ro_height_in": "high", "weight_lb": "40 lb"})
    assert not wrong.is_valid()
    assert set(wrong.errors) == {"ro_width_in", "ro_height_in", "weight_lb"}


def test_a_list_of_lengths_takes_lengths():
    class Lites(MeasuredModelSerializer):
        class Meta:
            model = Opening
            fields: ClassVar = ["lites_in"]

    read = Lites(data={"lites_in": ['1/8"', "3 mm", 0.25]})
    assert read.is_valid(), read.errors
    assert read.validated_data["lites_in"] == [Decimal("0.125"), Decimal("0.11811"), Decimal("0.25")]
    wrong = Lites(data={"lites_in": ["thin"]})
    assert not wrong.is_valid()
    assert "“thin” is not a length" in str(wrong.errors)


def test_the_document_says_number_out_and_number_or_text_in():
    number = {"type": "number", "format": "double"}
    described = {way: AutoSchema()._map_serializer_field(SIDE, way) for way in ("request", "response")}
    assert number.items() <= described["response"].items()
    assert [one["type"] for one in described["request"]["oneOf"]] == ["number", "string"]


@dataclass
class Line:
    def reason_in(self, units: Units) -> str:
        return f"strip, {units.say(Decimal(36))}"


@dataclass
class Shelf:
    line: Line


class LineSerializer(serializers.Serializer):
    reason = ReasonField()


class ShelfSerializer(serializers.Serializer):
    reason = ReasonField(source="line")


@pytest.mark.parametrize(
    ("context", "reason"),
    [
        ({}, "strip, 3' 0\""),
        ({"request": asking("")}, "strip, 3' 0\""),
        ({"request": asking("?units=metric")}, "strip, 914.4 mm"),
    ],
    ids=["no request", "us", "metric"],
)
def test_a_reason_is_said_in_the_units_of_the_request(context, reason):
    assert LineSerializer(Line(), context=context).data == {"reason": reason}
    assert ShelfSerializer([Shelf(Line())], many=True, context=context).data == [{"reason": reason}]
