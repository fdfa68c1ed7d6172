"""The columns of a schedule file as a person sees them: what each says, how sure that is, and what is asked."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import forms

from openings.schedules import MEANING_NAMES, NOT_READ, PAIRS, SIDES_IN, Meaning, meaning_name

Kept = Mapping[str, Any]
"""A value of the outcome that a draft keeps: a proposal, a question or a table as JSON."""

QUESTION = re.compile(r"columns\.(?P<column>.+)\.(?P<part>meaning|unit|height_first|leave_out)")
NEARLY_SURE = Decimal("0.85")


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnShown:
    """A column of the file, and what is asked and settled about it.

    Args:
        key: names it in a mapping: its letter, or with its table where others have something else under that letter.
        tables: names of the tables that have it.
        asked: questions by the part of the answer: meaning, unit, height_first, leave_out.
        found: what the reader found and was told, as a mapping says it.
    """

    key: str
    number: int
    proposal: Kept
    tables: tuple[str, ...]
    asked: Mapping[str, Kept]
    found: Kept
    is_settled: bool

    @property
    def label(self) -> str:
        return f"column {self.proposal['letter']}, {self.proposal['heading']}"

    @property
    def meaning(self) -> Meaning | None:
        return meaning_of(self.proposal["meaning"])

    @property
    def values(self) -> dict[str, str]:
        """Values by which rows can be left out, and how each reads; none where nothing of the kind was asked."""
        if asked := self.asked.get("leave_out"):
            return {value: f"{value} ({count})" for value, count in asked["values"].items()}
        if "leave_out" not in self.found:
            return {}
        return {value: value for value in (*self.found["leave_out"], *self.proposal["samples"])}

    @property
    def questions(self) -> list[str]:
        return [question["detail"] for question in self.asked.values()]

    @property
    def sure(self) -> str:
        """How sure its meaning is, in words."""
        if self.asked or self.is_settled:
            return "needs answer" if self.asked else "answered"
        confidence = Decimal(self.proposal["confidence"])
        if self.meaning is None or confidence == 1:
            return "sure" if self.meaning else ""
        return f"{'nearly' if confidence >= NEARLY_SURE else 'not quite'} sure, {confidence:.0%}"

    def select(self, part: str, label: str, choices: Iterable[Any]) -> forms.ChoiceField:
        """Return a choice about this column; what is asked describes it."""
        described = {"aria-describedby": f"asked-{self.number}"} if self.asked else {}
        return select(label.format(self.label), choices, id=f"{part}-{self.number}", **described)


def columns_shown(outcome: Kept, settled: Kept) -> list[ColumnShown]:
    """Return the columns from left to right; the same column of several tables is one."""
    asked: dict[str, dict[str, Kept]] = defaultdict(dict)
    for question in outcome.get("questions", ()):
        if match := QUESTION.fullmatch(question["field"]):
            asked[match["column"]][match["part"]] = question
    found = outcome.get("mapping", {}).get("columns", {})
    columns = []
    for number, (key, alike) in enumerate(_by_key(outcome.get("proposal", ())).items(), start=1):
        names = [*map(_in_table, alike), alike[0]["letter"], alike[0]["heading"]]
        columns.append(
            ColumnShown(
                key=key,
                number=number,
                proposal=alike[0],
                tables=tuple(one["table"] for one in alike),
                asked=next((asked[name] for name in names if name in asked), {}),
                found=next((found[name] for name in names if name in found), {}),
                is_settled=not settled.keys().isdisjoint(names),
            )
        )
    return columns


def _by_key(proposal: Iterable[Kept]) -> dict[str, list[Kept]]:
    """Return columns by what names them in a mapping."""
    by_letter: dict[str, list[Kept]] = defaultdict(list)
    for one in proposal:
        by_letter[one["letter"]].append(one)
    found: dict[str, list[Kept]] = {}
    for letter, columns in by_letter.items():
        if len({_alike(one) for one in columns}) == 1:
            found[letter] = columns
        else:
            found |= {_in_table(one): [one] for one in columns}
    return found


def _alike(column: Kept) -> tuple[Any, ...]:
    return " ".join(column["heading"].casefold().split()), column["meaning"], column["unit"]


def _in_table(column: Kept) -> str:
    return f"{column['table']}:{column['letter']}"


Chosen = Iterable[tuple[ColumnShown, str]]
"""Columns with the meaning that was chosen for each."""


def said_twice(chosen: Chosen, units: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Yield columns that say what another one of their table says, but for feet and inches of one length.

    Args:
        units: what was chosen or found for the bare numbers of each column, by its key.
    """
    first: dict[tuple[str, str], ColumnShown] = {}
    for column, meaning in chosen:
        if meaning in ("", NOT_READ, Meaning.COUNT_ON_FLOOR):
            continue
        for table in column.tables:
            other = first.setdefault((table, meaning), column)
            are_one = {units.get(other.key, ""), units.get(column.key, "")} == {"ft", "in"}
            if other is not column and not (are_one and meaning in SIDES_IN):
                said = f"{other.label} and {column.label} both say {meaning_name(meaning)}"
                yield column.key, f"{said}; choose one of them, and “{NOT_READ}” or something else for the other"


def without_a_partner(chosen: Chosen) -> Iterator[tuple[str, str]]:
    """Yield columns of one side whose other side no column says."""
    by_meaning = {meaning: column for column, meaning in chosen}
    for width, height, both in PAIRS:
        if both not in by_meaning and (width in by_meaning) is not (height in by_meaning):
            have, lack = (width, height) if width in by_meaning else (height, width)
            column = by_meaning[have]
            said = f"{column.label} says {MEANING_NAMES[have]}, but no column says {MEANING_NAMES[lack]}"
            yield column.key, f"{said}; choose one for it"


def meaning_of(name: str | None) -> Meaning | None:
    return None if name in (None, NOT_READ) else Meaning(name)


def select(label: str, choices: Iterable[Any], **attrs: str) -> forms.ChoiceField:
    return forms.ChoiceField(required=False, label=label, choices=list(choices), widget=forms.Select(attrs=attrs))
