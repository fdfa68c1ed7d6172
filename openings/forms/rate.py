"""A labor rate of the company ⇄ values."""

from __future__ import annotations

from django import forms

from openings.calc.labor_rates import MOST_PERSON_H, RATE_NAMES


class RateNameForm(forms.Form):
    name = forms.ChoiceField(choices=[(name, name) for name in RATE_NAMES])


class RateForm(RateNameForm):
    """What one piece of a task takes, and where that comes from."""

    person_h = forms.DecimalField(min_value=0, max_value=MOST_PERSON_H, decimal_places=5, label="Labor hours")
    source = forms.CharField(
        max_length=200, label="Source", help_text="Such as “our records, 40 openings since March”."
    )
