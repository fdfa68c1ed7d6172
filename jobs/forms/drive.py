"""What is typed on the page of drives ⇄ values."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from jobs.models.drive import LONGEST_DRIVE_MIN
from jobs.queries.drive import DriveRow


class DrivesForm(forms.Form):
    """Minutes from one site to each of the others; what is empty is worked out from where they lie."""

    def __init__(self, data: Any = None, *, rows: Sequence[DriveRow]) -> None:
        super().__init__(data)
        for row in rows:
            self.fields[row.field] = forms.IntegerField(
                label=f"Minutes to {row.name}",
                initial=row.entered_minutes,
                required=False,
                min_value=0,
                max_value=LONGEST_DRIVE_MIN,
                widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
            )
        self._rows = rows

    def minutes(self) -> dict[int, int | None]:
        """Return by site what was entered anew or taken back."""
        return {
            row.job_id: self.cleaned_data[row.field]
            for row in self._rows
            if self.cleaned_data[row.field] != row.entered_minutes
        }
