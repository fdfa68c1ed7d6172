"""What is kept of a schedule beside its file: plain values as deflated JSON."""

from __future__ import annotations

import json
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import fields
from decimal import Decimal
from operator import attrgetter
from typing import Any

from openings.schedules.rows import ScheduleRow


def packed(value: Any) -> bytes:
    """Return values as deflated JSON: dataclasses as objects, decimals as numbers.

    >>> unpacked(packed({"marks": ("W1", "W2"), "width_in": Decimal("36.5")}))
    {'marks': ['W1', 'W2'], 'width_in': Decimal('36.5')}
    """
    return zlib.compress(json.dumps(value, default=_plain).encode(), 1)


def packed_rows(rows: Sequence[ScheduleRow]) -> bytes:
    """Return rows as deflated JSON, column by column: there may be a hundred thousand."""
    columns: dict[str, list[Any]] = {}
    for field in fields(ScheduleRow):
        column = list(map(attrgetter(field.name), rows))
        columns[field.name] = [dict(value) if value else None for value in column] if field.name == "facts" else column
    for name in ("ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in", "weight_lb"):
        columns[name] = [None if value is None else float(value) for value in columns[name]]
    return packed(columns)


def unpacked_rows(content: bytes | memoryview) -> list[dict[str, Any]]:
    """Return the rows that were packed, each by column, with no facts where none were given."""
    columns = unpacked(content) or {}
    rows = [dict(zip(columns, values, strict=True)) for values in zip(*columns.values(), strict=True)]
    return [row | {"facts": row["facts"] or {}} for row in rows]


def unpacked(content: bytes | memoryview) -> Any:
    """Return the packed values, numbers with a point as decimals; None for nothing.

    >>> unpacked(packed({"side_in": Decimal("36.02362")}))
    {'side_in': Decimal('36.02362')}
    """
    return json.loads(zlib.decompress(content), parse_float=Decimal) if content else None


def _plain(value: Any) -> Any:
    if isinstance(value, Decimal):
        return float(value)  # up to five places: its shortest text is that of the decimal
    if isinstance(value, Mapping):
        return dict(value)
    return {field.name: getattr(value, field.name) for field in fields(value)}
