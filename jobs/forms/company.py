"""What is typed about the firm and its days ⇄ values."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.calc.horizon import PLAN
from jobs.calc.us_states import US_STATES
from jobs.forms.fields import CLOCK, DayField, DecimalField, ZoneField
from jobs.models import Company


class CompanyForm(forms.Form):
    """The firm, its yard, and what new jobs and crews begin with."""

    name = forms.CharField(max_length=120, label="Company")
    us_state = forms.ChoiceField(
        choices=[("", "choose a state"), *US_STATES.items()],
        label="State",
        help_text="Its public holidays are offered in the calendar.",
    )
    time_zone = ZoneField(label="Time zone of new jobs")
    default_cutoff = forms.TimeField(
        label="Cut-off of new jobs",
        help_text="On the working day before, when the pull sheets are made.",
        widget=CLOCK,
    )
    default_shift_h = DecimalField(
        max_digits=4, decimal_places=2, min_value=0.25, max_value=24, label="Hours a day of new crews"
    )
    road_factor = DecimalField(
        max_digits=4,
        decimal_places=2,
        min_value=1,
        max_value=5,
        label="Road, times the straight line",
        help_text="For drives that nobody entered: how much longer the road is.",
    )
    drive_mph = DecimalField(
        max_digits=4,
        decimal_places=1,
        min_value=5,
        max_value=75,
        label="Speed of a loaded truck (mph)",
        help_text="Town and highway together.",
    )
    yard_address = forms.CharField(
        max_length=300, required=False, label="Address of the yard", widget=forms.Textarea(attrs={"rows": 3})
    )
    yard_latitude = DecimalField(
        max_digits=9, decimal_places=6, min_value=-90, max_value=90, required=False, label="Latitude of the yard"
    )
    yard_longitude = DecimalField(
        max_digits=9,
        decimal_places=6,
        min_value=-180,
        max_value=180,
        required=False,
        label="Longitude of the yard",
        help_text="Degrees, west is negative. With both, travel to sites is estimated.",
    )

    def __init__(self, data: Any = None, *, company: Company) -> None:
        super().__init__(data, initial={name: getattr(company, name) for name in self.base_fields})
        zone = self.fields["time_zone"]
        if isinstance(zone, ZoneField):
            zone.offer(company.time_zone)

    def clean(self) -> dict[str, Any]:
        values = self.cleaned_data
        if not self.errors and (values["yard_latitude"] is None) != (values["yard_longitude"] is None):
            self.add_error("yard_longitude", "latitude and longitude go together: give both, or neither")
        return values


class CompanyDayForm(forms.Form):
    """How the whole company works on a day."""

    AS_USUAL, PART, OFF = "as usual", "part", "off"
    on = DayField(within=PLAN, label="Day")
    name = forms.CharField(max_length=80, label="What day it is", help_text="Such as Thanksgiving Day, or inventory.")
    works = forms.ChoiceField(
        choices=[(OFF, "off"), (PART, "part of the day"), (AS_USUAL, "works as usual")], label="The company"
    )
    shift_h = DecimalField(
        max_digits=4,
        decimal_places=2,
        min_value=0.25,
        max_value=24,
        required=False,
        label="Hours worked",
        help_text="For a part of the day.",
    )

    def clean(self) -> dict[str, Any]:
        values = self.cleaned_data
        works = values.pop("works", "")
        if works == self.PART and not values.get("shift_h"):
            self.add_error("shift_h", "give the hours that are worked that day")
        elif works != self.PART:
            values["shift_h"] = 0 if works == self.OFF else None
        return values


class YearForm(forms.Form):
    year = forms.IntegerField(min_value=2000, max_value=2100, label="Year")
