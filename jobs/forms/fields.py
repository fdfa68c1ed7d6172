"""Fields that several forms of this floor have."""

from __future__ import annotations

from decimal import Decimal
from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.core.exceptions import ValidationError

from jobs.calc.horizon import Horizon
from jobs.calc.say import zone_name
from jobs.dates import Within

US_ZONES = (
    "America/New_York",
    "America/Chicago",
    "America/Denver",
    "America/Phoenix",
    "America/Los_Angeles",
    "America/Anchorage",
    "Pacific/Honolulu",
    "America/Puerto_Rico",
    "Pacific/Guam",
)
"""A zone for each of the times of 15 USC 263, with Arizona, which keeps standard time."""

USUAL = [(zone, f"{zone_name(zone)}, Arizona" if zone == "America/Phoenix" else zone_name(zone)) for zone in US_ZONES]

CLOCK = forms.TimeInput(format="%H:%M", attrs={"type": "time"})
DECIMAL = {"step": "any", "inputmode": "decimal"}


class DayField(forms.DateField):
    """A day within a horizon, chosen from the browser's own calendar."""

    widget = forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})
    default_error_messages = {"invalid": "this is no day of the calendar; give one such as 11/30/2026"}

    def __init__(self, *, within: Horizon, **options: Any) -> None:
        super().__init__(validators=[Within(within)], **options)


class ZoneField(forms.ChoiceField):
    """A time zone, those of the United States by what people call them; one that a row has already is offered too."""

    def __init__(self, **options: Any) -> None:
        super().__init__(choices=USUAL, **options)

    def valid_value(self, value: Any) -> bool:
        return value in available_timezones()

    def offer(self, zone: str | None) -> None:
        """Offer a zone beside the usual ones."""
        if zone and zone not in US_ZONES and zone in available_timezones():
            self.choices = [*USUAL, (zone, zone_name(zone))]


class DecimalField(forms.DecimalField):
    """A figure that is typed, with as many places as its column has."""

    widget = forms.NumberInput(attrs=DECIMAL)

    def prepare_value(self, value: Any) -> Any:
        """Return what the field shows: a column has more zeros at its end than a person types."""
        return f"{value.normalize():f}" if isinstance(value, Decimal) else value


class WeekdaysField(forms.MultipleChoiceField):
    """Weekdays, each selected by itself; its value is their ISO digits in order."""

    widget = forms.CheckboxSelectMultiple

    def __init__(self, **options: Any) -> None:
        names = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
        super().__init__(choices=[(str(digit), name) for digit, name in enumerate(names, start=1)], **options)

    def clean(self, value: Any) -> str:
        return "".join(sorted(super().clean(value)))

    def prepare_value(self, value: Any) -> Any:
        return list(value) if isinstance(value, str) else value


class WordsField(forms.CharField):
    """Short texts with commas between; its value is a list."""

    def __init__(self, *, longest: int, most: int, **options: Any) -> None:
        super().__init__(**options)
        self.longest, self.most = longest, most

    def clean(self, value: Any) -> list[str]:
        words = [word.strip() for word in super().clean(value).split(",") if word.strip()]
        if len(words) > self.most or any(len(word) > self.longest for word in words):
            raise ValidationError(
                f"give at most {self.most}, of at most {self.longest} letters each, with commas between"
            )
        return words

    def prepare_value(self, value: Any) -> Any:
        return ", ".join(value) if isinstance(value, list) else value
