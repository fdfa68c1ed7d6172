"""JSON in and out: exact numbers, in the units that were asked for, and no control characters."""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import Decimal
from typing import IO, Any

from rest_framework.exceptions import ParseError
from rest_framework.negotiation import DefaultContentNegotiation
from rest_framework.parsers import JSONParser
from rest_framework.renderers import BaseRenderer, JSONRenderer
from rest_framework.request import Request
from rest_framework.utils.encoders import JSONEncoder

from config import metric
from jobs.calc.text import has_control
from openings.calc.units import BY_NAME, US, Units
from openings.measure_fields import units_of

UNITS_PARAMETER = {
    "in": "query",
    "name": "units",
    "schema": {"type": "string", "enum": list(BY_NAME), "default": US.name},
    "description": (
        "With `metric`, measures are read and answered in metric, under names that end accordingly: `ro_width_mm` for "
        "`ro_width_in`, `weight_kg` for `weight_lb`. Filters and `ordering` keep their names."
    ),
}
API_PREFIX = "/api/v1/"


class NumberEncoder(JSONEncoder):
    """Writes a Decimal as a number: five places of at most nine digits survive a double unchanged."""

    def default(self, obj: Any) -> Any:
        if isinstance(obj, Decimal):
            return int(obj) if obj == obj.to_integral_value() else float(obj)
        return super().default(obj)


class NumberRenderer(JSONRenderer):
    """JSON whose measures are numbers, in its `units`."""

    encoder_class = NumberEncoder
    units: Units = US

    def render(self, data: Any, *args: Any, **kwargs: Any) -> bytes:
        return super().render(metric.to_metric(data) if self.units.is_metric else data, *args, **kwargs)


class UnitsNegotiation(DefaultContentNegotiation):
    """Settles in which units the answer is written, together with its media type, before anything is done."""

    def select_renderer(self, request: Request, *args: Any, **kwargs: Any) -> tuple[BaseRenderer, str]:
        units = units_of(request)
        renderer, media_type = super().select_renderer(request, *args, **kwargs)
        renderer.units = units
        return renderer, media_type


class CleanParser(JSONParser):
    """JSON whose texts hold no control characters and whose numbers are finite; nothing else could be stored.

    What was sent in metric is read into the measures inside; a request keeps such a body as `metric_body` too.
    """

    def parse(self, stream: IO[bytes], media_type: str | None = None, parser_context: Mapping | None = None) -> Any:
        try:
            body = super().parse(stream, media_type, parser_context)
            _refuse_unusable(body, "")
            request = parser_context["request"] if parser_context else None
            units = units_of(request) if request else US
            read = metric.from_body(body, units)
        except RecursionError as error:
            raise ParseError("the body is nested too deeply to be read") from error
        if units.is_metric:
            request.metric_body = body
        return read


def _refuse_unusable(value: Any, path: str) -> None:
    if isinstance(value, str) and has_control(value):
        raise ParseError(f"{path or 'the body'} holds a control character; send plain text")
    if isinstance(value, float) and not math.isfinite(value):
        raise ParseError(f"{path or 'the body'} is a number too large to be meant")
    if isinstance(value, dict):
        for name, inner in value.items():
            _refuse_unusable(name, path)
            _refuse_unusable(inner, f"{path}.{name}".lstrip("."))
    if isinstance(value, list):
        for index, inner in enumerate(value):
            _refuse_unusable(inner, f"{path}[{index}]")


def offer_units(result: dict[str, Any], **kwargs: Any) -> dict[str, Any]:
    """Return the OpenAPI document with `units` as a parameter of every operation of the API."""
    for path, operations in result["paths"].items():
        for operation in operations.values() if path.startswith(API_PREFIX) else ():
            operation.setdefault("parameters", []).append(UNITS_PARAMETER)
    return result
