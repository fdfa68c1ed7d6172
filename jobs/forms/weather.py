"""What is typed about the weather ⇄ values."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.calc.horizon import PLAN
from jobs.calc.weather import WeatherLimits
from jobs.forms.fields import DayField, DecimalField
from jobs.models import Job, SiteForecast


class ForecastForm(forms.Form):
    """The weather that is expected on one day, on a site or on all of them."""

    job = forms.ModelChoiceField(
        Job.objects.open(),
        required=False,
        label="Job",
        empty_label="choose a job",
        error_messages={"invalid_choice": "there is no such open job; choose one from the list"},
    )
    every_job = forms.BooleanField(
        required=False, label="Every open job", help_text="Where the weather is the same on all sites."
    )
    on = DayField(within=PLAN, label="Day")
    low_f = DecimalField(max_digits=4, decimal_places=1, min_value=-80, max_value=140, label="Low, °F")
    high_f = DecimalField(max_digits=4, decimal_places=1, min_value=-80, max_value=140, label="High, °F")
    wind_mph = DecimalField(max_digits=4, decimal_places=1, min_value=0, max_value=300, label="Wind, mph")
    rain_in = DecimalField(max_digits=5, decimal_places=2, min_value=0, max_value=100, label="Rain, in a day, inches")

    def __init__(self, data: Any = None, *, forecast: SiteForecast | None = None) -> None:
        kept = {name: getattr(forecast, name) for name in self.base_fields if name != "every_job"} if forecast else {}
        super().__init__(data, initial=kept or {"wind_mph": 0, "rain_in": 0})

    def clean(self) -> dict[str, Any]:
        """Return the values with `jobs`: the one that was chosen, or all that are open."""
        values = self.cleaned_data
        job, every = values.pop("job", None), values.pop("every_job", False)
        jobs = list(Job.objects.open()) if every else [job]
        if "job" not in self.errors and (bool(job) == every or not jobs):
            self.add_error("job", "choose one job, or every open job")
        low_f, high_f = values.get("low_f"), values.get("high_f")
        if low_f is not None and high_f is not None and low_f > high_f:
            self.add_error("low_f", "the low is above the high; give the lower of the two here")
        return values | {"jobs": jobs}


class WeatherLimitsForm(forms.Form):
    """From what weather on no window is set, and who says so."""

    most_wind_mph = DecimalField(max_digits=5, decimal_places=1, min_value=0, max_value=200, label="Most wind, mph")
    wind_source = forms.CharField(max_length=200, label="Who says so", help_text="Such as the shop's safety plan.")
    most_rain_in = DecimalField(
        max_digits=5, decimal_places=2, min_value=0, max_value=100, label="Most rain in a day, inches"
    )
    rain_source = forms.CharField(max_length=200, label="Who says so", help_text="Such as a maker's instructions.")

    def __init__(self, data: Any = None, *, limits: WeatherLimits) -> None:
        super().__init__(data, initial={name: getattr(limits, name) for name in self.base_fields})
