"""The sheet at the cutting table: each roll as a line with its cuts in order, and under it as a bar to scale."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import ROUND_HALF_UP, Decimal
from typing import Final

from openpyxl import Workbook

from materials.calc.roll_picture import ALL, RollPicture, RollPiece, RollRow, roll_pictures
from materials.workbook.fitting import listed
from materials.workbook.rows import RollGroup
from materials.workbook.sheet import Sheet, Span
from materials.workbook.styles import LOOKS, Look, Style
from materials.workbook.tables import TICK_BOX, tape

UNITS: Final = 150
"""Columns of a bar, so that half a foot of a 75-ft roll is one of them."""
UNIT_WIDTH: Final = 0.875
"""Of a column, in digits: seven of a digit's eight pixels, so that the sheet prints nearly in its own size."""
DIGIT_PT: Final = 6
UNIT_PT: Final = UNIT_WIDTH * DIGIT_PT
BAR_PT: Final = 66

_LIST_COLUMNS: Final = 78
_LIST_DIGITS: Final = LOOKS[Style.ROLL_CUTS].digits(_LIST_COLUMNS * UNIT_WIDTH)
_COLUMNS: Final = (("Cut", 6), ("Take", 23), ("Length", 15), ("Cuts in order", _LIST_COLUMNS), ("Left", 28))
_UPRIGHT: Final = {
    Style.PIECE: Style.PIECE_UPRIGHT,
    Style.KEPT: Style.KEPT_UPRIGHT,
    Style.SCRAP: Style.SCRAP_UPRIGHT,
}


def write_roll_cuts(workbook: Workbook, *, heading: str, footer: str, groups: Sequence[RollGroup]) -> None:
    """Write the rolls of each product."""
    sheet = Sheet(
        workbook,
        title="Roll cuts",
        footer=footer,
        widths=[UNIT_WIDTH] * UNITS,
        head_count=2,
        is_landscape=True,
    )
    sheet.write((Style.TITLE, heading))
    sheet.write_spans(*(Span(Style.HEADING, heading, columns) for heading, columns in _COLUMNS))
    for group in groups:
        _write_group(sheet, group)
    if not groups:
        sheet.write((Style.TITLE, "Nothing to cut from rolls."))
    sheet.print_only(UNITS)


def _write_group(sheet: Sheet, group: RollGroup) -> None:
    trim = f"; {tape(group.trim_in)} lost at each cut" if group.trim_in else ""
    title = f"{group.product}\n{group.verdict}{trim}"
    sheet.write_spans(Span(Style.ROLL_GROUP, title, UNITS))
    for picture in roll_pictures(group.rolls, trim_in=group.trim_in):
        sheet.write_spans(*_line(picture.roll, product=group.product))
        sheet.write_spans(*bar(picture), height_pt=BAR_PT)
        sheet.write((Style.GAP, None))


def _line(roll: RollRow, *, product: str) -> Iterator[Span]:
    """Yield the cells of a line; it names its product, whose heading may stand on the page before."""
    take = f"{roll.name}\n{', '.join(filter(None, (product, roll.place)))}"
    names = (_names(piece) for piece in roll.pieces)
    cuts = listed((f"{length} {opening} {part}" for opening, part, length in names), digits=_LIST_DIGITS)
    styles = (Style.ROLL_TICK, Style.ROLL, Style.ROLL, Style.ROLL_CUTS, Style.ROLL_CUTS)
    values = (TICK_BOX, take, tape(roll.length_in), cuts, _left(roll))
    for style, value, (_, columns) in zip(styles, values, _COLUMNS, strict=True):
        yield Span(style, value, columns)


def _left(roll: RollRow) -> str | None:
    if roll.is_spare:
        return "spare: bring it back closed if not wanted"
    if not roll.left_in:
        return None
    return f"{_end(roll)}: return to stock" if roll.is_kept else _end(roll)


def _end(roll: RollRow) -> str:
    return f"{tape(roll.left_in)} left" if roll.is_kept else f"scrap {tape(roll.left_in)}"


def bar(picture: RollPicture) -> Iterator[Span]:
    """Yield the cells of a bar; pieces too short for a column of their own share one."""
    end = max(_units(picture.width_pct), 1)
    starting: dict[int, list[RollPiece]] = {}
    for piece, start_pct, _ in picture.pieces:
        starting.setdefault(min(_units(start_pct), end - 1), []).append(piece)
    if picture.roll.is_spare:
        yield _cell(Style.KEPT, ["spare"], end)
        return
    *_, last = starting
    left = max(_units(picture.left_start_pct), last + 1)
    for start, stop in zip(starting, [*starting, left][1:], strict=True):
        lines = (line for piece in starting[start] for line in _names(piece))
        yield _cell(Style.PIECE, list(lines), stop - start)
    if left < end:
        style = Style.KEPT if picture.roll.is_kept else Style.SCRAP
        yield _cell(style, [_end(picture.roll)], end - left)


def _units(share_pct: Decimal) -> int:
    return int((share_pct * UNITS / ALL).to_integral_value(ROUND_HALF_UP))


def _names(piece: RollPiece) -> tuple[str, str, str]:
    """Return opening, part and length of a piece."""
    return piece.opening, piece.part, tape(piece.length_in)


def _cell(style: Style, lines: Sequence[str], columns: int) -> Span:
    """Return a cell of a bar; where it is too narrow for its words it holds as many lines as fit upright."""
    text, width, look = "\n".join(lines), columns * UNIT_WIDTH, LOOKS[style]
    if look.height_pt(text, width=width) <= BAR_PT and look.is_wide_enough(text, width=width):
        return Span(style, text, columns)
    room = int(columns * UNIT_PT / look.line_pt)
    fitting = (count for count in range(len(lines), 1, -1) if _upright_count(look, lines[:count]) <= room)
    return Span(_UPRIGHT[style], "\n".join(lines[: next(fitting, 1)]), columns)


def _upright_count(look: Look, lines: Sequence[str]) -> int:
    return look.line_count("\n".join(lines), width=BAR_PT / DIGIT_PT)
