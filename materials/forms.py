"""What is typed on the pages of materials ⇄ values."""

from __future__ import annotations

import re
from typing import Any

from django import forms

from openings.forms import DayField


class RequestSheetForm(forms.Form):
    crew = forms.IntegerField(widget=forms.HiddenInput)
    on = DayField(widget=forms.HiddenInput)


class LoadForm(forms.Form):
    """How many packages of each line lie on the truck: a field `line-N` a line, left empty where nobody counted."""

    LINE = re.compile(r"line-(\d{1,18})")

    sheet = forms.IntegerField()

    def __init__(self, data: Any) -> None:
        super().__init__(data)
        for name in data:
            if match := self.LINE.fullmatch(name):
                self.fields[name] = forms.IntegerField(
                    required=False, min_value=0, max_value=9999, label=f"packages of line {match[1]}"
                )

    @property
    def packages(self) -> dict[int, int]:
        """The packages by line id, of the lines that were counted; the form must be valid."""
        return {
            int(match[1]): count
            for name, count in self.cleaned_data.items()
            if (match := self.LINE.fullmatch(name)) and count is not None
        }
