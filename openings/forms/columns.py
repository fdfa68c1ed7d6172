"""Which column says what, where the headings of a file say nothing ⇄ a mapping."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms

from openings.schedules import LENGTHS, MEANING_NAMES, SIDES_IN, UNIT_NAMES, Meaning, units_for

ASKED_FOR = (
    Meaning.MARK, Meaning.QUANTITY, Meaning.RO_WIDTH, Meaning.RO_HEIGHT, Meaning.RO_SIZE, Meaning.UNIT_WIDTH,
    Meaning.UNIT_HEIGHT, Meaning.UNIT_SIZE, Meaning.OPERATION, Meaning.FLOOR, Meaning.DETAIL, Meaning.REMARKS,
)  # fmt: skip


_RIGHT_OF_SIDE = "give the letter of a column, such as B, or those of feet and inches, such as B+C"


def _in_units(letters: str, unit: str) -> list[tuple[str, str]]:
    """Return each column with the unit of its bare numbers: two are the feet and the inches."""
    if "+" in letters:
        feet, _, inches = letters.partition("+")
        return [(feet, "ft"), (inches, "in")]
    return [(letters, unit)] if letters else []


class ColumnsForm(forms.Form):
    """The letter of the column for each meaning that a schedule has as a rule, left empty where it has none."""

    unit = forms.ChoiceField(
        required=False,
        label="Bare numbers are in",
        choices=[("", "as the file says"), *((unit, UNIT_NAMES[unit]) for unit in units_for(Meaning.RO_WIDTH))],
    )

    def __init__(self, data: Any = None, *, settled: Mapping[str, Any]) -> None:
        """Show what was settled so far, or read what was entered."""
        super().__init__(data, auto_id="place-%s")
        columns: dict[str, tuple[str, Mapping[str, Any]]] = {}
        for key, says in settled.get("columns", {}).items():
            first, of_first = columns.get(says["meaning"], ("", says))
            feet_first = says.get("unit") == "in" and of_first.get("unit") == "ft"
            columns[says["meaning"]] = (f"{first}+{key}", {}) if first and feet_first else (key, says)
        for meaning in ASKED_FOR:
            key, says = columns.get(meaning.value, ("", {}))
            self.fields[meaning.value] = forms.RegexField(
                r"^[A-Za-z]{1,3}(?:\+[A-Za-z]{1,3})?$" if meaning in SIDES_IN else r"^[A-Za-z]{1,3}$",
                required=False,
                label=MEANING_NAMES[meaning].capitalize(),
                error_messages={
                    "invalid": _RIGHT_OF_SIDE if meaning in SIDES_IN else "give the letter of a column, such as B"
                },
                widget=forms.TextInput(attrs={"size": 5 if meaning in SIDES_IN else 3, "autocomplete": "off"}),
            )
            self.initial[meaning.value] = key if len(key.partition("+")[0]) <= 3 else ""
            self.initial["unit"] = says.get("unit") or self.initial.get("unit", "")
        self.order_fields([*(meaning.value for meaning in ASKED_FOR), "unit"])

    @property
    def mapping(self) -> dict[str, Any]:
        """What was entered; the form must be valid. Columns that are not named are left to the reader."""
        unit = self.cleaned_data["unit"]
        return {
            "columns": {
                letter: {"meaning": meaning.value, **({"unit": in_unit} if in_unit and meaning in LENGTHS else {})}
                for meaning in ASKED_FOR
                for letter, in_unit in _in_units(self.cleaned_data[meaning.value].upper(), unit)
            }
        }
