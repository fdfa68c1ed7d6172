"""What is chosen about notices, calendars and webhooks ⇄ values."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms

from jobs.calc.notice import SAID, EventKind, How
from jobs.models import Crew, Job
from jobs.queries import Choice


class NoticesForm(forms.Form):
    """How somebody is told of each kind of event."""

    def __init__(self, data: Any = None, *, choices: Iterable[Choice]) -> None:
        super().__init__(data)
        for choice in choices:
            self.fields[choice.kind.value] = forms.ChoiceField(
                label=SAID[choice.kind],
                choices=[(how.value, how.value.capitalize()) for how in How],
                initial=choice.how.value,
            )

    def how(self) -> dict[EventKind, How]:
        """Return what was chosen, once it is valid."""
        return {EventKind(kind): How(how) for kind, how in self.cleaned_data.items()}


class CalendarLinkForm(forms.Form):
    crew = forms.ModelChoiceField(
        Crew.objects.in_service(), required=False, empty_label="no crew", label="Days of a crew"
    )
    job = forms.ModelChoiceField(
        Job.objects.in_sight(), required=False, empty_label="no job", label="or crews at a job"
    )
    label = forms.CharField(
        max_length=80, label="Who reads it", help_text="A person or a program, such as the builder’s site manager."
    )

    def clean(self) -> dict[str, Any]:
        """Return the values; a link is for one crew or for one job."""
        values = super().clean() or {}
        if not self.errors and bool(values.get("crew")) == bool(values.get("job")):
            raise forms.ValidationError("Choose one crew or one job.")
        return values


class WebhookForm(forms.Form):
    name = forms.CharField(max_length=60, label="Program", help_text="A name for it, such as payroll.")
    address = forms.CharField(
        max_length=500,
        label="Web address",
        help_text="Begins with https:// and is not in a private network.",
        widget=forms.URLInput,
    )
    kinds = forms.MultipleChoiceField(
        choices=[(kind.value, SAID[kind]) for kind in EventKind],
        required=False,
        label="What it is told",
        help_text="Nothing selected: everything.",
        widget=forms.CheckboxSelectMultiple,
    )

    def clean_kinds(self) -> list[EventKind]:
        """Return the kinds of events."""
        return [EventKind(kind) for kind in self.cleaned_data["kinds"]]
