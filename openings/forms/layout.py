"""How a schedule file is read: its tables, what each column means, and how marks are meant ⇄ a mapping."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from django import forms

from openings.forms.layout_columns import (
    ColumnShown,
    Kept,
    columns_shown,
    meaning_of,
    said_twice,
    select,
    without_a_partner,
)
from openings.forms.schedule import detail_field
from openings.schedules import (
    LONGEST_FLOOR,
    MARKS_NAMES,
    MEANING_GROUPS,
    MEANING_NAMES,
    NOT_READ,
    NOTHING,
    SIDES_IN,
    TOTALS_NAMES,
    UNIT_NAMES,
    WHOLE_SIZES,
    Meaning,
    meaning_name,
    units_for,
)

UNANSWERED = ("", "– choose –")
NOT_SAID = {"unit": ("", "unit as the heading says"), "height_first": ("", "sides as the heading says")}
WIDTH_FIRST, HEIGHT_FIRST = "width", "height"


class LayoutForm(forms.Form):
    """What a draft was understood to say, to be settled: fields `meaning-B`, `unit-B`, `order-B`, `floor-B`, `leave-B`.

    Shown are units of lengths and weights only, the order of the sides where one column has both, and the floor of
    a column of counts.
    """

    def __init__(self, data: Any = None, *, outcome: Kept | None, settled: Kept, detail: str, job_id: int) -> None:
        """Show what an outcome says, or read what was chosen of it.

        Args:
            settled: the mapping by which the file was read.
            detail: the detail that rows had which name none.
        """
        super().__init__(data)
        self._outcome = outcome or {}
        self.questions = {question["field"]: question["detail"] for question in self._outcome.get("questions", ())}
        self._wrong: dict[str, str] = {}
        self._weights = list(settled.get("weights", ()))
        self._inches: frozenset[str] = frozenset()
        self.columns = columns_shown(self._outcome, settled.get("columns", {}))
        self.fields["detail"] = detail_field(job_id)
        self.initial["detail"] = detail
        self._add_tables(self._outcome.get("tables", ()))
        self._add_marks(self._outcome.get("mapping", {}).get("marks", ""))
        self._add_totals(self._outcome.get("mapping", {}).get("totals", ""))
        for column in self.columns:
            self._add_column(column)

    @property
    def rows(self) -> list[tuple[ColumnShown, dict[str, forms.BoundField], str]]:
        """Each column that has a heading, from left to right, with its fields by part and why it cannot be so."""
        return [
            (
                column,
                {part: self[name] for part in _PARTS if (name := f"{part}-{column.key}") in self.fields},
                self._wrong.get(column.key, ""),
            )
            for column in self.columns
        ]

    def clean(self) -> dict[str, Any]:
        """Refuse what no reader could follow: two columns for one thing, a side without the other, or no mark."""
        if self._is_of_other_tables:
            return self.cleaned_data
        chosen = [(column, self.cleaned_data.get(f"meaning-{column.key}", "")) for column in self.columns]
        self._inches = self._inches_of(chosen)
        units = {column.key: self._unit(column.key) for column, _ in chosen}
        self._wrong = dict(said_twice(chosen, units))
        for column in self.columns:
            left = self.cleaned_data.get(f"leave-{column.key}", ())
            if NOTHING in left and len(left) > 1:
                self._wrong[column.key] = f"Rows of {column.label} are left out, or nothing is; select one of the two"
        if not self._wrong and all(meaning for _, meaning in chosen):
            self._wrong = dict(without_a_partner(chosen))
            if chosen and Meaning.MARK not in {meaning for _, meaning in chosen}:
                self.add_error(None, "Say which column is the mark.")
        for sentence in self._wrong.values():
            self.add_error(None, sentence)
        return self.cleaned_data

    @property
    def has_several_tables(self) -> bool:
        """Whether more than one table is read."""
        return len({table for column in self.columns for table in column.tables}) > 1

    @property
    def asked_elsewhere(self) -> list[str]:
        """What is asked that belongs to no field here."""
        placed = {question["field"] for column in self.columns for question in column.asked.values()}
        return [
            detail for field, detail in self.questions.items() if field not in {"tables", "marks", "totals", *placed}
        ]

    @property
    def mapping(self) -> dict[str, Any]:
        """Everything that was shown, as it was left or changed; what is asked and was not answered is left out.

        The form must be valid. Where other tables are chosen than those that were shown, their columns are left
        to the reader.
        """
        values = self.cleaned_data
        settled = {part: values[part] for part in ("tables", "marks", "totals") if values.get(part)}
        if self._weights:
            settled["weights"] = self._weights
        if not self._is_of_other_tables:
            settled["columns"] = {
                column.key: self._says(column.key) for column in self.columns if values[f"meaning-{column.key}"]
            }
        return settled

    @property
    def _is_of_other_tables(self) -> bool:
        return "tables" in self.fields and set(self.cleaned_data.get("tables", ())) != self._read

    def _inches_of(self, chosen: Sequence[tuple[ColumnShown, str]]) -> frozenset[str]:
        """Return the columns that were not read and are now said to go with a column in feet: they have the inches."""
        in_feet = {meaning for column, meaning in chosen if self._unit(column.key) == "ft"}
        return frozenset(
            column.key
            for column, meaning in chosen
            if meaning in in_feet and meaning in SIDES_IN and f"unit-{column.key}" not in self.fields
        )

    def _unit(self, key: str) -> str:
        return "in" if key in self._inches else self.cleaned_data.get(f"unit-{key}", "")

    def _says(self, key: str) -> dict[str, Any]:
        meaning, _, order, floor, leave = (self.cleaned_data.get(f"{part}-{key}") for part in _PARTS)
        return {
            "meaning": meaning,
            **({"unit": unit} if (unit := self._unit(key)) in units_for(meaning_of(meaning)) else {}),
            **({"floor": floor} if floor and meaning == Meaning.COUNT_ON_FLOOR else {}),
            **({"height_first": order == HEIGHT_FIRST} if order and meaning in WHOLE_SIZES else {}),
            **({"leave_out": [one for one in leave if one != NOTHING]} if leave else {}),
        }

    def _add_tables(self, tables: Iterable[Kept]) -> None:
        choices = [(table["name"], _table_name(table)) for table in tables]
        self._read = {table["name"] for table in tables if table["is_read"]}
        if len(choices) > 1 or "tables" in self.questions:
            self.initial["tables"] = [] if "tables" in self.questions else sorted(self._read)
            self.fields["tables"] = forms.MultipleChoiceField(
                choices=choices,
                widget=forms.CheckboxSelectMultiple,
                label="Tables to read",
                error_messages={"required": "select at least one table"},
            )

    def _add_marks(self, found: str) -> None:
        is_asked = "marks" in self.questions
        if is_asked or found:
            self.initial["marks"] = "" if is_asked else found
            self.fields["marks"] = select(
                "A mark such as W1-W4 stands for",
                [*([UNANSWERED] if is_asked else []), *((kind.value, said) for kind, said in MARKS_NAMES.items())],
                **({"aria-describedby": "asked-marks"} if is_asked else {}),
            )

    def _add_totals(self, found: str) -> None:
        is_asked = "totals" in self.questions
        if is_asked or found:
            self.initial["totals"] = "" if is_asked else found
            self.fields["totals"] = select(
                "A total that differs from the rows",
                [UNANSWERED, *((kind.value, said) for kind, said in TOTALS_NAMES.items())],
                **({"aria-describedby": "asked-totals"} if is_asked else {}),
            )

    def _add_column(self, column: ColumnShown) -> None:
        meaning = column.select("meaning", "What {} means", _meanings(column.asked.get("meaning")))
        self._add("meaning", column, meaning, column.proposal["meaning"] or NOT_READ)
        likely = column.asked.get("unit", {}).get("choices", [])
        if units := list(dict.fromkeys([*likely, *units_for(column.meaning)])):
            choices = [_unsaid("unit", column), *((unit, UNIT_NAMES[unit]) for unit in units)]
            unit = column.select("unit", "What bare numbers of {} are in", choices)
            self._add("unit", column, unit, column.proposal["unit"])
        if column.meaning in WHOLE_SIZES or "height_first" in column.asked:
            orders = [(WIDTH_FIRST, "width first"), (HEIGHT_FIRST, "height first")]
            order = column.select("order", "Which side of {} is first", [_unsaid("height_first", column), *orders])
            height_first = column.found.get("height_first")
            settled: dict[bool | None, str] = {True: HEIGHT_FIRST, False: WIDTH_FIRST}
            self._add("order", column, order, settled.get(height_first, ""))
        if values := column.values:
            leave = forms.MultipleChoiceField(
                required=False,
                choices=[*values.items(), (NOTHING, "nothing: all its rows are windows of this work")],
                widget=forms.CheckboxSelectMultiple(attrs={"id": f"leave-{column.number}"}),
                label=f"Rows left out by {column.label}",
            )
            self._add("leave", column, leave, column.found.get("leave_out") or [NOTHING])
        if column.meaning is Meaning.COUNT_ON_FLOOR:
            self._add("floor", column, _floor(column), column.found.get("floor") or column.proposal["heading"])

    def _add(self, part: str, column: ColumnShown, field: forms.Field, initial: str | list[str]) -> None:
        is_asked = {"order": "height_first", "leave": "leave_out"}.get(part, part) in column.asked
        self.fields[f"{part}-{column.key}"] = field
        self.initial[f"{part}-{column.key}"] = "" if is_asked else initial


_PARTS = ("meaning", "unit", "order", "floor", "leave")


def _meanings(asked: Kept | None) -> list[Any]:
    """Return the choice of meanings in groups; of a column that is asked about the likely ones first."""
    likely = list(asked["choices"]) if asked else []
    groups = [
        (group, [(meaning.value, MEANING_NAMES[meaning]) for meaning in meanings if meaning not in likely])
        for group, meanings in MEANING_GROUPS.items()
    ]
    return [
        *([UNANSWERED] if asked else []),
        *([("Likely", [(name, meaning_name(name)) for name in likely])] if likely else []),
        *((group, choices) for group, choices in groups if choices),
        *([] if NOT_READ in likely else [(NOT_READ, NOT_READ)]),
    ]


def _unsaid(part: str, column: ColumnShown) -> tuple[str, str]:
    return UNANSWERED if part in column.asked else NOT_SAID[part]


def _floor(column: ColumnShown) -> forms.CharField:
    at = forms.TextInput(attrs={"id": f"floor-{column.number}", "autocomplete": "off", "size": 12})
    return forms.CharField(required=False, max_length=LONGEST_FLOOR, label=f"Floor of {column.label}", widget=at)


def _table_name(table: Kept) -> str:
    """Return a table as a person finds it in the file."""
    parts = [f"sheet “{table['sheet']}”" if table["sheet"] else "", f"“{table['title']}”" if table["title"] else ""]
    return ", ".join([*filter(None, parts), f"rows {table['first_row']} to {table['last_row']}"])
