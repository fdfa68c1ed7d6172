"""Every date that the service takes has a horizon: columns, fields of JSON and fields of forms."""

from __future__ import annotations

import pytest
from django import forms
from django.apps import apps
from django.db import models
from rest_framework import serializers

import openings.api
import openings.forms  # noqa: F401 - what is declared there is looked for below
from jobs.dates import Within

FLOORS = ("jobs", "openings", "materials")


def declared(root: type) -> list[type]:
    """Return what our floors declare beneath a class, however deep."""
    found = [below for child in root.__subclasses__() for below in (child, *declared(child))]
    return [kind for kind in dict.fromkeys(found) if kind.__module__.split(".")[0] in FLOORS]


def dates_of_models() -> list[tuple[str, models.Field]]:
    columns = [
        field
        for floor in FLOORS
        for model in apps.get_app_config(floor).get_models()
        for field in model._meta.local_fields
        if isinstance(field, models.DateField) and not isinstance(field, models.DateTimeField)
    ]
    return [(str(column), column) for column in columns]


def dates_of_json() -> list[tuple[str, serializers.Field]]:
    fields = [
        (f"{kind.__module__}.{kind.__name__}.{name}", field)
        for kind in declared(serializers.Serializer)
        if hasattr(kind, "Meta") or not issubclass(kind, serializers.ModelSerializer)
        for name, field in kind().fields.items()
    ]
    return [(name, field) for name, field in fields if isinstance(field, serializers.DateField) and not field.read_only]


def dates_of_forms() -> list[tuple[str, forms.Field]]:
    return [
        (f"{kind.__module__}.{kind.__name__}.{name}", field)
        for kind in declared(forms.BaseForm)
        for name, field in getattr(kind, "base_fields", {}).items()
        if isinstance(field, forms.DateField)
    ]


def horizons(field: object) -> list[Within]:
    return [validator for validator in field.validators if isinstance(validator, Within)]


def test_every_date_column_has_one():
    columns = dates_of_models()
    assert {str(column) for _, column in columns} == {
        "jobs.Job.starts_on", "jobs.Job.promised_on", "jobs.CompanyDay.on", "jobs.CrewDay.on", "jobs.Event.on",
        "jobs.SiteForecast.on", "openings.Hold.expected_on", "openings.HourRecord.on", "openings.Callback.reported_on",
        "openings.Callback.resolved_on", "openings.TradeBefore.expected_on", "openings.TradeBefore.done_on",
        "openings.Delivery.expected_on", "openings.Unit.ordered_on", "openings.Unit.expected_on",
        "materials.Lot.received_on", "materials.Lot.expires_on",
    }  # fmt: skip
    assert [name for name, column in columns if len(horizons(column)) != 1] == []


@pytest.mark.parametrize("dates", [dates_of_json, dates_of_forms], ids=["JSON", "forms"])
def test_every_date_that_is_sent_has_one(dates):
    fields = dates()
    assert len(fields) >= 3
    assert [name for name, field in fields if not horizons(field)] == []
