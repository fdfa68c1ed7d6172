"""JSON in and out: exact numbers, and no control characters."""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import Decimal
from typing import IO, Any

from rest_framework.exceptions import ParseError
from rest_framework.parsers import JSONParser
from rest_framework.renderers import JSONRenderer
from rest_framework.utils.encoders import JSONEncoder

from jobs.calc.text import has_control


class NumberEncoder(JSONEncoder):
    """Writes a Decimal as a number: five places of at most nine digits survive a double unchanged."""

    def default(self, obj: Any) -> Any:
        if isinstance(obj, Decimal):
            return int(obj) if obj == obj.to_integral_value() else float(obj)
        return super().default(obj)


class NumberRenderer(JSONRenderer):
    """JSON whose measures are numbers."""

    encoder_class = NumberEncoder


class CleanParser(JSONParser):
    """JSON whose texts hold no control characters and whose numbers are finite; nothing else could be stored."""

    def parse(self, stream: IO[bytes], media_type: str | None = None, parser_context: Mapping | None = None) -> Any:
        try:
            body = super().parse(stream, media_type, parser_context)
            _refuse_unusable(body, "")
        except RecursionError as error:
            raise ParseError("the body is nested too deeply to be read") from error
        return body


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
