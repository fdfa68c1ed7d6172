"""What is typed about a job ⇄ values."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.calc.horizon import PLAN
from jobs.forms.fields import CLOCK, DayField, DecimalField, ZoneField
from jobs.models import Job

PHONE = {"type": "tel", "autocomplete": "off"}


class JobForm(forms.Form):
    """A site, who is there, and what was promised."""

    name = forms.CharField(max_length=120, label="Job")
    code = forms.SlugField(
        max_length=40,
        label="Code",
        help_text="Short, for sheets and files, such as quarry-row: letters, digits and hyphens.",
        error_messages={"invalid": "use letters, digits and hyphens alone, such as quarry-row"},
    )
    address = forms.CharField(max_length=300, label="Address", widget=forms.Textarea(attrs={"rows": 3}))
    contact_name = forms.CharField(max_length=80, required=False, label="Contact on site")
    contact_phone = forms.CharField(
        max_length=40, required=False, label="Phone of the contact", widget=forms.TextInput(attrs=PHONE)
    )
    gate_note = forms.CharField(
        max_length=300, required=False, label="Gate note", help_text="How a crew gets in: gate, code, parking."
    )
    starts_on = DayField(within=PLAN, required=False, label="Starts on")
    promised_on = DayField(within=PLAN, required=False, label="Promised for")
    built_year = forms.IntegerField(
        min_value=1600,
        max_value=2200,
        required=False,
        label="Year built",
        help_text="Before 1978 the sheets carry the lead-paint caution.",
    )
    cutoff = forms.TimeField(
        label="Cut-off", help_text="On the working day before, when the pull sheets are made.", widget=CLOCK
    )
    time_zone = ZoneField(label="Time zone")
    latitude = DecimalField(
        max_digits=9, decimal_places=6, min_value=-90, max_value=90, required=False, label="Latitude"
    )
    longitude = DecimalField(
        max_digits=9,
        decimal_places=6,
        min_value=-180,
        max_value=180,
        required=False,
        label="Longitude",
        help_text="Degrees, west is negative. With both, travel between sites is estimated.",
    )

    def __init__(self, data: Any = None, *, job: Job) -> None:
        super().__init__(data, initial={name: getattr(job, name) for name in self.base_fields})
        zone = self.fields["time_zone"]
        if isinstance(zone, ZoneField):
            zone.offer(job.time_zone)

    def clean(self) -> dict[str, Any]:
        values = self.cleaned_data
        starts_on, promised_on = values.get("starts_on"), values.get("promised_on")
        if starts_on and promised_on and promised_on < starts_on:
            self.add_error("promised_on", "this is before the job starts; give a later day, or an earlier start")
        if not self.errors and (values["latitude"] is None) != (values["longitude"] is None):
            self.add_error("longitude", "latitude and longitude go together: give both, or neither")
        return values
