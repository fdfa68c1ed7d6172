"""What is typed about a crew ⇄ values."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.calc.experience import Experience
from jobs.calc.horizon import PLAN
from jobs.forms.fields import DayField, DecimalField, WeekdaysField, WordsField
from jobs.models import Crew


class CrewForm(forms.Form):
    """A truck, the people who ride in it, and when they work."""

    name = forms.CharField(max_length=60, label="Crew")
    people_count = forms.IntegerField(min_value=1, max_value=20, label="People")
    truck = forms.CharField(max_length=60, label="Truck", help_text="Each crew has a truck of its own.")
    payload_lb = DecimalField(
        max_digits=8,
        decimal_places=2,
        min_value=1,
        max_value=80_000,
        required=False,
        label="Payload, lb",
        help_text="What the truck may carry, from the label on its door frame.",
    )
    shift_h = DecimalField(max_digits=4, decimal_places=2, min_value=0.25, max_value=24, label="Hours a day")
    weekdays = WeekdaysField(label="Works on")
    experience = forms.ChoiceField(
        choices=[(one.value, one.value) for one in Experience],
        label="Experience",
        help_text="How used the crew is to this work; hours are planned by it.",
    )
    skills = WordsField(
        longest=40,
        most=20,
        max_length=840,
        required=False,
        label="Trained for",
        help_text="With commas between, such as lead-safe work, boom lift.",
    )

    def __init__(self, data: Any = None, *, crew: Crew) -> None:
        super().__init__(data, initial={name: getattr(crew, name) for name in self.base_fields})


class DaysOffForm(forms.Form):
    """Days off of a crew, the first and the last included."""

    first = DayField(within=PLAN, label="First day off")
    last = DayField(within=PLAN, label="Last day off", required=False, help_text="Leave blank for one day.")
    off_reason = forms.CharField(max_length=80, label="Reason")

    def clean(self) -> dict[str, Any]:
        values = self.cleaned_data
        values["last"] = values.get("last") or values.get("first")
        return values


class CrewDayForm(forms.Form):
    """A day of a crew, one of those that its page shows."""

    day = forms.IntegerField(widget=forms.HiddenInput)
