"""Endpoints of forecasts."""

from __future__ import annotations

from typing import ClassVar

from jobs.models import SiteForecast
from jobs.resource import Resource
from jobs.serializers import (
    SiteForecastSerializer,
)


class Forecasts(Resource[SiteForecast]):
    queryset = SiteForecast.objects.all()
    serializer_class = SiteForecastSerializer
    filterset_fields: ClassVar = {"job": ["exact"], "on": ["exact", "gte", "lte"]}
    ordering_fields: ClassVar = ["on", "job"]
    ordering: ClassVar = ["on", "job"]
