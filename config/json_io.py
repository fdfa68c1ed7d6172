"""JSON in and out: exact numbers, in the units that were asked for, and no control characters."""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import Decimal
from io import BytesIO
from typing import IO, Any

from django.conf import settings
from django.core.exceptions import RequestDataTooBig
from rest_framework.exceptions import ParseError
from rest_framework.negotiation import DefaultContentNegotiation
from rest_framework.parsers import JSONParser
from rest_framework.renderers import BaseRenderer, JSONRenderer
from rest_framework.request import Request
from rest_framework.utils.encoders import JSONEncoder

from config import metric
from jobs.calc.text import has_control
from openings.calc.units import US, Units
from openings.measure_fields import units_of


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

    def parse(
        self, stream: IO[bytes], media_type: str | None = None, parser_context: Mapping[str, Any] | None = None
    ) -> Any:
        try:
            body = super().parse(BytesIO(_bounded(stream)), media_type, parser_context)
            _refuse_unusable(body, "")
            request = parser_context["request"] if parser_context else None
            units = units_of(request) if request else US
            read = metric.from_body(body, units)
        except RecursionError as error:
            raise ParseError("the body is nested too deeply to be read") from error
        if request and units.is_metric:
            request.metric_body = body
        return read


def _bounded(stream: IO[bytes]) -> bytes:
    """Return what was sent.

    Raises:
        RequestDataTooBig: it is more than is read of a body that is no file.
    """
    most: int = settings.DATA_UPLOAD_MAX_MEMORY_SIZE
    content = stream.read(most + 1)
    if len(content) > most:
        raise RequestDataTooBig(f"The body has more than {most / 2**20:.0f} MiB; send less at once.")
    return content


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
