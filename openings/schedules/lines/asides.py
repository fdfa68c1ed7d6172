"""Rows that may be no part of the work: doors amid windows, alternates, what is deleted, existing or by others."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from openings.schedules.grid import Cell
from openings.schedules.headings.of_table import Aside
from openings.schedules.layout import NOTHING
from openings.schedules.lines.body import Body
from openings.schedules.lines.cells import is_none_given, shown
from openings.schedules.rows import Question

BETWEEN_VALUES = ", "
"""Stands between values where one answer names several."""

_MOST_VALUES = 12
_MOST_KINDS = 50
"""A column of more different cells is no column of kinds, whatever spelling and blanks make of them."""

_LONGEST_VALUE = 40
_MOST_NAMED = 8
_NOT_OF_THE_WORK = (
    r"(?:(?:exterior |interior |entry |patio |sliding |glass |swing(?:ing)? |french |hinged |folding |balcony )*doors?"
    r"|storefronts?|curtain ?walls?|skylights?"
    r"|louv(?:er|re)s?"
    r"|(?:add |deduct |bid )?alt(?:ernates?|ernative|\.)?(?: ?(?:no\.? ?|#)?[\da-z]{1,2})?"
    r"|deleted?|omit(?:ted)?"
    r"|void(?:ed)?|cancel(?:l?ed)?|removed?|not (?:in|part of) (?:the )?(?:contract|scope|work)|out of scope|excluded?"
    r"|n\.? ?i\.? ?c\.?|not used|(?:supplied |supplied |installed |done |work )?by (?:others?|owner)"
    r"|owner[ -]supplied|ofo?i|existing(?: (?:to remain|window|unit))?|(?:to )?remain|e\.?t\.?r\.?|future"
    r"|demo(?:lition|lish(?:ed)?)?|option(?:al)?(?: ?[\da-z]{1,2})?)"
)
"""What rows say that are no windows to set: terms of the trade, common practice, no source."""

_DOOR = re.compile(
    r"d|(?:(?:ext|int|entry|patio|sl|slid(?:ing)?|gl|glass|swing|french)\.? ){0,3}(?:doors?|drs?)\.?", re.IGNORECASE
)
_WINDOW = re.compile(r"w|(?:windows?|wi?ndws?|wdws?|wins?)\.?", re.IGNORECASE)
"""How a column of kinds says window and door in short; where it says both, it tells them apart."""

_SAYS_SO = re.compile(rf"{_NOT_OF_THE_WORK}[ .!]*", re.IGNORECASE)
_HOLDS_IT = re.compile(rf"(?<![\w]){_NOT_OF_THE_WORK}(?![\w])", re.IGNORECASE)
_OF_KINDS = re.compile(
    r"\b(?:category|window ?/ ?door|door ?/ ?window|w ?/ ?d|item type|type of item|product type|scope|class)\b",
    re.IGNORECASE,
)
_OF_CONTRACT = re.compile(r"\b(?:in|part of) (?:the )?(?:contract|scope)\b", re.IGNORECASE)
_NO = re.compile(r"(?:no|n|false|0)\.?", re.IGNORECASE)


def sets_rows_apart(texts: Iterable[str]) -> bool:
    """Return whether one of some texts says that a row is no window of the work."""
    return any(len(text) <= _LONGEST_VALUE and _SAYS_SO.fullmatch(text.strip()) for text in texts)


def left_out(body: Body, asides: Sequence[Aside]) -> tuple[set[int], list[str]]:
    """Return the lines that settled values leave out, and notes on them."""
    left: set[int] = set()
    notes = []
    for aside in asides:
        if aside.leave_out is None:
            continue
        values = _values(body, aside)
        wanted = {_folded(value) for value in expanded(aside.leave_out, values)}
        mine = [number for number, cell in enumerate(_said(body, aside)) if _folded(_text(cell)) in wanted]
        left.update(mine)
        if mine:
            said = _counted({value: count for value, count in values.items() if _folded(value) in wanted})
            kept = _counted({value: count for value, count in values.items() if _folded(value) not in wanted})
            rest = f"; kept: {kept}" if kept else ""
            notes.append(f"Rows left out by what {_says(aside)}: {said}{rest}.")
        elif wanted and values:
            asked = ", ".join(f"“{value[:_LONGEST_VALUE]}”" for value in aside.leave_out[:_MOST_NAMED])
            notes.append(f"No row is left out by what {_says(aside)}: {asked} is not there, only {_counted(values)}.")
    return left, notes


def questions_of(body: Body, asides: Sequence[Aside]) -> Iterator[Question]:
    """Yield a question about each column by which rows may have to be left out and nobody settled it."""
    for aside in asides:
        if aside.leave_out is not None or not _is_worth_a_look(body, aside):
            continue
        values = _values(body, aside)
        likely = _likely(aside, values)
        if likely is None:
            continue
        named = values if len(values) <= _MOST_VALUES else {value: values[value] for value in likely}
        several, says = BETWEEN_VALUES.join(likely), _says(aside)
        leaves_all = sum(values[value] for value in likely) == len(body.rows)
        first = [several] if likely and not leaves_all else []
        yield Question(
            field=_field(aside),
            heading=aside.text,
            detail=f"{says[:1].upper()}{says[1:]} {_counted(values)}. Rows that are no windows of this work "
            f"would be set like all others; with which of these values are they left out?",
            choices=tuple(dict.fromkeys((*first, NOTHING, *([several] if likely else []), *named))),
            values=dict(named),
        )


def as_asked(asides: Sequence[Aside], asked: Sequence[Question]) -> list[Aside]:
    """Return the columns with the likeliest answer of each question that is asked about one."""
    likeliest = {question.field: likeliest_of(question) for question in asked}
    return [replace(one, leave_out=likeliest.get(_field(one), one.leave_out)) for one in asides]


def likeliest_of(question: Question) -> tuple[str, ...]:
    """Return the values that the first answer of a question leaves out."""
    return tuple(expanded([one for one in question.choices[:1] if one != NOTHING], question.values))


def _field(aside: Aside) -> str:
    return f"columns.{aside.letter}.leave_out"


def expanded(given: Iterable[str], values: Iterable[str]) -> list[str]:
    """Return values, those that stand in one answer taken apart.

    >>> expanded(["Door, Alternate 1"], {"Window": 4, "Door": 2, "Alternate 1": 1})
    ['Door', 'Alternate 1']
    """
    known = {_folded(value) for value in values}
    found: list[str] = []
    for one in given:
        parts = one.split(BETWEEN_VALUES)
        found.extend(parts if _folded(one) not in known and all(_folded(part) in known for part in parts) else [one])
    return found


def _likely(aside: Aside, values: Mapping[str, int]) -> list[str] | None:
    """Return the values whose rows are likely left out, or None if nothing need be asked."""
    if not values:
        return None
    if _SAYS_SO.fullmatch(aside.text.strip()) and not aside.is_read:
        marked = [value for value in values if not _NO.fullmatch(value)]
        return marked if len(marked) <= _MOST_VALUES else None
    are_kinds = len(values) <= _MOST_VALUES and not aside.is_read
    pattern = _HOLDS_IT.search if are_kinds else _SAYS_SO.fullmatch
    found = [value for value in values if len(value) <= _LONGEST_VALUE and pattern(value)]
    if are_kinds and any(map(_WINDOW.fullmatch, values)):
        found = [value for value in values if value in found or _DOOR.fullmatch(value)]
    if found or not are_kinds or len(values) == 1:
        return found or None
    if _OF_CONTRACT.search(aside.text):
        return [value for value in values if _NO.fullmatch(value)]
    if _OF_KINDS.search(aside.text):
        return [value for value in values if value.casefold() == "d"]
    return None


def _said(body: Body, aside: Aside) -> Sequence[Cell]:
    return body.heads if aside.is_between else body.column(aside.index)


def _says(aside: Aside) -> str:
    return "the lines between the rows say" if aside.is_between else f"“{aside.text}” ({aside.letter}) says"


def _is_worth_a_look(body: Body, aside: Aside) -> bool:
    """Return whether a column may set rows apart; long ones of different texts are looked through at once."""
    different = set(_said(body, aside))
    if not aside.is_read and len(different) <= _MOST_KINDS:
        return True
    return sets_rows_apart(cell for cell in different if isinstance(cell, str))


def _values(body: Body, aside: Aside) -> dict[str, int]:
    """Return the different texts of a column and in how many rows each stands, the commonest first."""
    counts: Counter[str] = Counter()
    spelled: dict[str, str] = {}
    for cell, count in Counter(_said(body, aside)).items():
        if cell != "" and not is_none_given(cell):
            text = _text(cell)
            counts[spelled.setdefault(_folded(text), text)] += count
    return dict(counts.most_common())


def _text(cell: Cell) -> str:
    return " ".join(shown(cell).split())


def _folded(text: str) -> str:
    return " ".join(text.split()).casefold()


def _counted(values: Mapping[str, int]) -> str:
    named = [f"“{value[:_LONGEST_VALUE]}” ({count:,})" for value, count in list(values.items())[:_MOST_NAMED]]
    more = f" and {len(values) - _MOST_NAMED} other values" if len(values) > _MOST_NAMED else ""
    return ", ".join(named) + more
