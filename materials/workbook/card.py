"""The field card of one detail: its steps, and under them the measures of each size that the day has of it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import zip_longest
from typing import Final

from openpyxl import Workbook

from jobs.calc.say import plural
from materials.workbook.fitting import listed
from materials.workbook.rows import DetailCard, SizeOnCard, ToolRow
from materials.workbook.sheet import Sheet, Span, Value
from materials.workbook.styles import LOOKS, Style
from materials.workbook.tables import tape
from openings.calc.card import STANDING, CardStep, FlatPan, Measure, flat_pan

COLUMNS: Final = 24
COLUMN_WIDTH: Final = 4.5
STEPS: Final = (("Step", 2), ("Do", 7), ("See that", 8), ("Why", 7))
NUMBER, WHAT, SIZE, SIZES_ABREAST = 2, 7, 3, 5
"""How many columns the number of a step, what is measured and the measure of a size cover; sizes beside each other."""
_DIGITS: Final = LOOKS[Style.STRONG].digits(SIZE * COLUMN_WIDTH)

TOOLS: Final = (("Tool or supply", 8), ("Amount", 4), ("Why", 12))

TURN_UP: Final = 5
LONGEST_TITLE: Final = 31
_NOT_IN_TITLES: Final = re.compile(r"[\[\]:*?/\\]")


def write_card(workbook: Workbook, card: DetailCard, *, number: int, footer: str) -> None:
    """Write the card of one detail on a sheet of its own."""
    sheet = Sheet(workbook, title=_title(card, number), footer=footer, widths=[COLUMN_WIDTH] * COLUMNS, head_count=1)
    sheet.write((Style.TITLE, f"Field card: {card.detail}, job {card.job}, method {card.sizes[0].detail.method}"))
    for caution in STANDING:
        sheet.write_spans(Span(Style.STRONG, caution.topic, 5), Span(Style.TEXT, caution.text, COLUMNS - 5))
    sheet.write((Style.GAP, None))
    sheet.write_spans(*(Span(Style.HEADING, heading, columns) for heading, columns in STEPS))
    for drawn in card.sizes[0].steps:
        sheet.write_spans(*_step(drawn))
    for sizes in _abreast(card.sizes):
        _write_measures(sheet, sizes)
    for size in card.sizes:
        if size.detail.has_pan:
            _write_pan(sheet, size)
    _write_tools(sheet, card.tools)
    _write_next_trade(sheet, card.next_trade)
    sheet.print_only(COLUMNS)


def _title(card: DetailCard, number: int) -> str:
    """Return what the tab is called: the detail, behind a number that no other card has."""
    return _NOT_IN_TITLES.sub(" ", f"Card {number} {card.detail}")[:LONGEST_TITLE].strip("' ")


def _step(drawn: CardStep) -> Iterator[Span]:
    step = drawn.step
    stop = "\nHold point: stop for inspection." if step.is_hold_point else ""
    styles = (Style.COUNT, Style.STRONG, Style.TEXT, Style.TEXT)
    values: tuple[Value, ...] = (drawn.number, f"{step.title}{stop}", "\n".join(step.see), step.why)
    for style, value, (_, columns) in zip(styles, values, STEPS, strict=True):
        yield Span(style, value, columns)


def _abreast(sizes: Sequence[SizeOnCard]) -> Iterator[Sequence[SizeOnCard]]:
    for start in range(0, len(sizes), SIZES_ABREAST):
        yield sizes[start : start + SIZES_ABREAST]


def _write_measures(sheet: Sheet, sizes: Sequence[SizeOnCard]) -> None:
    """Write what is measured as lines, each size of the day as a column."""
    sheet.write((Style.GAP, None))
    names = (f"{listed(size.marks, digits=_DIGITS)}\n{_size(size)}" for size in sizes)
    sheet.write_spans(
        Span(Style.HEADING, "Step", NUMBER),
        Span(Style.HEADING, "Measure", WHAT),
        *(Span(Style.HEADING, name, SIZE) for name in names),
    )
    for place, drawn in enumerate(sizes[0].steps):
        measures = [size.steps[place].measures for size in sizes]
        for line in zip_longest(*measures):
            what = next(measure.what for measure in line if measure)
            values = (_cell(measure) for measure in line)
            sheet.write_spans(
                Span(Style.COUNT, drawn.number, NUMBER),
                Span(Style.TEXT, what, WHAT),
                *(Span(Style.STRONG, value, SIZE) for value in values),
            )


def _cell(measure: Measure | None) -> str | None:
    """Return a measure with each of its lengths in one line."""
    return listed(measure.size.split(", "), digits=_DIGITS) if measure else None


def _size(size: SizeOnCard) -> str:
    return f"RO {tape(size.opening.ro_width_in)} × {tape(size.opening.ro_height_in)}"


def _write_pan(sheet: Sheet, size: SizeOnCard) -> None:
    """Draw the pan membrane rolled out: a row for each part of its width, a cell for each part of its length."""
    flat = flat_pan(size.opening, size.detail)
    marks = ", ".join(map(tape, (flat.folds_in[0] * 0, *flat.folds_in, flat.length_in)))
    openings = plural("opening", len(size.marks))
    sheet.write((Style.GAP, None))
    sheet.write_spans(
        Span(
            Style.HEADING,
            f"Pan membrane rolled out, not to scale, {openings} {', '.join(size.marks)}: marks from the end of the "
            f"roll at {marks}",
            COLUMNS,
        )
    )
    for texts in _parts(flat):
        sheet.write_spans(
            Span(Style.PIECE, texts[0], TURN_UP),
            Span(Style.PIECE, texts[1], COLUMNS - 2 * TURN_UP),
            Span(Style.PIECE, texts[2], TURN_UP),
        )


def _parts(flat: FlatPan) -> Iterator[tuple[str, str, str]]:
    """Yield what is said of the turn-up, the middle and the other turn-up, from the inside outward."""
    up = f"turn-up {tape(flat.turn_up_in)}"
    if flat.back_dam_in:
        yield "", f"inside: back dam {tape(flat.back_dam_in)}, fold up", ""
    yield up, f"sill {tape(flat.between_in)} × {tape(flat.sill_in)}", up
    if flat.front_lap_in:
        cut = "cut at the fold"
        yield cut, f"outside: front lap {tape(flat.front_lap_in)}, fold down over the sill strip", cut


def _write_tools(sheet: Sheet, tools: Sequence[ToolRow]) -> None:
    """Write what the openings of this detail take along beside their draw."""
    if not tools:
        return
    sheet.write((Style.GAP, None))
    sheet.write_spans(Span(Style.HEADING, "Tools and small supplies", COLUMNS))
    sheet.write_spans(*(Span(Style.HEADING, heading, columns) for heading, columns in TOOLS))
    for tool in tools:
        values = ((Style.STRONG, tool.name), (Style.TEXT, tool.amount), (Style.TEXT, tool.why))
        sheet.write_spans(
            *(Span(style, value, columns) for (style, value), (_, columns) in zip(values, TOOLS, strict=True))
        )


def _write_next_trade(sheet: Sheet, left: Sequence[str]) -> None:
    """Write what the next trade finds, a line each."""
    if not left:
        return
    sheet.write((Style.GAP, None))
    sheet.write_spans(Span(Style.HEADING, "What the next trade finds", COLUMNS))
    for one in left:
        sheet.write_spans(Span(Style.TEXT, one, COLUMNS))
