"""The columns that verbs take by name are those of their tables, and those that a body may send."""

from __future__ import annotations

from typing import NotRequired, get_args, get_origin, get_type_hints

import pytest
from django.db.models import Model
from rest_framework.serializers import Serializer

from jobs.models import CrewDay
from openings.calc.readings import READING_NAMES, ReadingsIn
from openings.models import Callback, FieldMeasurement, InstallationDetail, Opening
from openings.models.values import CallbackValues, CrewDayValues, DetailValues, OpeningChanges
from openings.serializers import (
    CallbackSerializer,
    CrewDaySerializer,
    MeasurementSerializer,
    NewDetailSerializer,
    OpeningSerializer,
)

TABLES = [
    (OpeningChanges, Opening),
    (DetailValues, InstallationDetail),
    (CallbackValues, Callback),
    (CrewDayValues, CrewDay),
    (ReadingsIn, FieldMeasurement),
]


@pytest.mark.parametrize(("values", "model"), TABLES)
def test_each_is_a_column_and_may_be_none_where_that_may(values: type, model: type[Model]):
    hints = get_type_hints(values)
    assert {name: model._meta.get_field(name).null for name in hints} == {
        name: type(None) in get_args(hint) for name, hint in hints.items()
    }


@pytest.mark.parametrize(
    ("values", "body", "beside"),
    [
        (OpeningChanges, OpeningSerializer, {"weight_confirmed"}),
        (DetailValues, NewDetailSerializer, {"starting_point", "copy_of"}),
        (CallbackValues, CallbackSerializer, set()),
        (CrewDayValues, CrewDaySerializer, set()),
        (ReadingsIn, MeasurementSerializer, {"opening", "measured"}),
    ],
)
def test_a_body_sends_these_and_what_the_verb_names_itself(values: type, body: type[Serializer], beside: set[str]):
    sent = {field.source for field in body().fields.values() if not field.read_only}
    assert sent == get_type_hints(values).keys() | beside


def test_readings_may_be_left_out_where_nobody_need_measure_them():
    hints = get_type_hints(ReadingsIn, include_extras=True)
    assert tuple(hints) == READING_NAMES
    may_be_left_out = {name for name, hint in hints.items() if get_origin(hint) is NotRequired}
    assert may_be_left_out == {name for name in hints if FieldMeasurement._meta.get_field(name).null}
