"""Marks of windows in models: openings of one mark are alike, but models give one name to many kinds."""

from __future__ import annotations

from collections.abc import Sequence

from openings.calc.tape import Size
from openings.schedules.building.sizes import Said
from openings.schedules.grid import Cell
from openings.schedules.rows import MAX_MARK_LETTERS


def distinct_marks(marks: Sequence[Cell], said: Sequence[Sequence[Said]]) -> tuple[list[Cell], list[str]]:
    """Return the marks, with the size added to each that stands for several sizes, and notes on these."""
    sizes: dict[str, dict[Size, str]] = {}
    firsts = [next((one for one in given if one.size), None) for given in said]
    for mark, first in zip(marks, firsts, strict=True):
        if isinstance(mark, str) and first and first.size:
            sizes.setdefault(mark, {})[first.size] = first.text
    named = [
        _with(mark, first.text) if isinstance(mark, str) and first and len(sizes[mark]) > 1 else mark
        for mark, first in zip(marks, firsts, strict=True)
    ]
    several = [f"“{mark}” ({', '.join(texts.values())})"[:300] for mark, texts in sizes.items() if len(texts) > 1]
    return named, [
        f"The size was added to marks that stand for several sizes: {'; '.join(several)}."[:1000]
    ] if several else []


def operations_of_marks(marks: Sequence[Cell], operations: Sequence[str]) -> tuple[list[str], list[str]]:
    """Return for each window all operations that windows of its mark have, and notes on those that have several."""
    given: dict[Cell, dict[str, None]] = {}
    for mark, operation in zip(marks, operations, strict=True):
        given.setdefault(mark, {})[operation] = None
    joined = {mark: ", ".join(dict.fromkeys(", ".join(filter(None, said)).split(", "))) for mark, said in given.items()}
    several = [f"“{mark}” ({joined[mark]})" for mark, said in given.items() if len(said) > 1]
    notes = (
        [f"Windows of one mark have several operations, which each row names all: {'; '.join(several)}."]
        if several
        else []
    )
    return [joined[mark] for mark in marks], notes


def _with(mark: str, size: str) -> str:
    return f"{mark[: MAX_MARK_LETTERS - len(size) - 1].rstrip()} {size}"
