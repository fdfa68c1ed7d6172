"""JSON in and out: exact numbers, and no control characters."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import IO, Any

from rest_framework.exceptions import ParseError
from rest_framework.parsers import JSONParser
from rest_framework.renderers import JSONRenderer
from rest_framework.utils.encoders import JSONEncoder

CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")


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
    """JSON whose texts hold no control characters, which neither workbook nor database would take."""

    def parse(self, stream: IO[bytes], media_type: str | None = None, parser_context: Mapping | None = None) -> Any:
        body = super().parse(stream, media_type, parser_context)
        _refuse_control(body, "")
        return body


def _refuse_control(value: Any, path: str) -> None:
    if isinstance(value, str) and CONTROL.search(value):
        raise ParseError(f"{path or 'the body'} holds a control character; send plain text")
    if isinstance(value, dict):
        for name, inner in value.items():
            _refuse_control(name, f"{path}.{name}".lstrip("."))
            _refuse_control(inner, f"{path}.{name}".lstrip("."))
    if isinstance(value, list):
        for index, inner in enumerate(value):
            _refuse_control(inner, f"{path}[{index}]")
