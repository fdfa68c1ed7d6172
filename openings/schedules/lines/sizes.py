"""Sizes of the lines of a table: those that cannot be, and those that were taken out of longer texts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any

from openings.calc.tape import Size
from openings.calc.units import US
from openings.schedules.headings.of_table import Column, Headings
from openings.schedules.layout import PAIRS, Meaning
from openings.schedules.lines.body import Body

_MOST_NAMED = 5


def found_in_texts(values: Mapping[Meaning, Sequence[Any]], body: Body, headings: Headings) -> Iterator[str]:
    """Yield a note on sizes that were taken out of longer texts, whose other words are not kept."""
    for *_, size in PAIRS:
        if size not in headings.columns:
            continue
        texts = {
            value.found_in: row
            for value, row in zip(values[size], body.rows, strict=True)
            if isinstance(value, Size) and value.found_in
        }
        if texts:
            shown_texts = ", ".join(f"“{text}” (row {row})" for text, row in list(texts.items())[:_MOST_NAMED])
            more = f" and {len(texts) - _MOST_NAMED} more" if len(texts) > _MOST_NAMED else ""
            yield f"“{headings.columns[size].text}”: only the size was read of {shown_texts}{more}."


def wrong_sizes(values: Mapping[Meaning, Sequence[Any]], headings: Headings) -> Iterator[tuple[int, Column, str]]:
    """Yield sizes that are missing, half given, or larger than the opening they go into."""
    (ro_width, ro_height, _), (unit_width, unit_height, _) = PAIRS
    sides = zip(values[ro_width], values[ro_height], values[unit_width], values[unit_height], strict=True)
    columns = {
        meaning: headings.columns.get(meaning) or headings.columns.get(size)
        for *pair, size in PAIRS
        for meaning in pair
    }
    first = next(column for column in columns.values() if column)
    for line, (ro_w, ro_h, unit_w, unit_h) in enumerate(sides):
        if ro_w is None and ro_h is None and unit_w is None and unit_h is None:
            yield (
                line,
                first,
                "the row gives neither a rough opening nor a unit size; fill in width and height",
            )
        elif (ro_w is None) is not (ro_h is None):
            column = columns[ro_width if ro_w is None else ro_height]
            yield line, column or first, "one side of the rough opening is missing; fill it in"
        elif (unit_w is None) is not (unit_h is None):
            column = columns[unit_width if unit_w is None else unit_height]
            yield line, column or first, "one side of the unit is missing; fill it in"
        elif (
            isinstance(ro_w, Decimal) and isinstance(ro_h, Decimal)
            and isinstance(unit_w, Decimal) and isinstance(unit_h, Decimal)
            and (unit_w > ro_w or unit_h > ro_h)
        ):  # fmt: skip
            detail = (
                f"the unit ({US.say(unit_w)} × {US.say(unit_h)}) is larger than its rough opening ({US.say(ro_w)} "
                f"× {US.say(ro_h)})"
            )
            yield line, columns[unit_width] or first, detail
