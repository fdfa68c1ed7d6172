"""What is typed or chosen on the pages of openings ⇄ values."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.calc.horizon import COMING, PAST, PLAN
from jobs.forms.fields import DayField
from jobs.models import Crew, CrewDay
from openings.calc.hours import read_hours
from openings.calc.reading_slips import require_no_slips
from openings.calc.readings import READING_NAMES, SIDE_NAMES, TITLES, Measured, Readings
from openings.calc.units import US, Units
from openings.errors import BadHours, BadLength
from openings.forms.tape import TapeField
from openings.models import Assignment, Hold, Opening
from openings.queries import SeenDay


class HoursField(forms.CharField):
    """Hours as people write them; its value is hours."""

    widget = forms.TextInput(attrs={"autocomplete": "off", "size": 9})

    def to_python(self, value: Any) -> Decimal | None:  # type: ignore[override]  # text in, a figure out
        text = super().to_python(value)
        if not text:
            return None
        try:
            return read_hours(text)
        except BadHours as error:
            raise ValidationError(error.detail, code=error.code) from error


class CrewForm(forms.Form):
    """Whose days are looked at."""

    crew = forms.ModelChoiceField(Crew.objects.all(), empty_label="choose a crew")


class ExampleForm(forms.Form):
    """The rough opening for which a detail is drawn."""

    width_in = TapeField(label="Rough opening, wide")
    height_in = TapeField(label="Rough opening, high")


class CrewAndDayForm(forms.Form):
    """A crew and a day, chosen among crews that the page has loaded already."""

    crew = forms.ModelChoiceField(Crew.objects.in_service(), empty_label="choose a crew")
    on = DayField(within=PLAN, label="Day")

    def __init__(self, data: Any = None, *, crews: Iterable[Crew] = (), **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        shown = [(crew.pk, str(crew)) for crew in crews if not crew.is_retired]
        self.fields["crew"].widget.choices = [("", "choose a crew"), *shown]


class GiveForm(CrewAndDayForm):
    """To which crew and day openings go, and, where the crew is too small for a unit, why that is safe."""

    on = DayField(within=COMING, label="Day")
    short_crew_reason = forms.CharField(
        max_length=300,
        required=False,
        label="Why this crew can lift it safely",
        help_text="Shown on the pull sheet with your name.",
    )


class SeenField(forms.Field):
    """The crew days that the page showed, each as its crew, its date and its version."""

    widget = forms.MultipleHiddenInput

    def to_python(self, value: Any) -> list[SeenDay]:
        try:
            return [self._read(text) for text in value or ()]
        except ValueError as error:
            raise ValidationError("what this page showed cannot be read; load it again", code="seen") from error

    def _read(self, text: str) -> SeenDay:
        crew_id, on, version = text.split("/")
        return SeenDay(crew_id=int(crew_id), on=date.fromisoformat(on), version=version)


class AssignForm(GiveForm):
    seen = SeenField(required=False)
    openings = forms.ModelMultipleChoiceField(
        Opening.objects.all(), error_messages={"required": "select at least one opening from the list"}
    )

    @property
    def chosen(self) -> set[str]:
        """The openings that were selected, as the browser sent them."""
        return set(self["openings"].value() or ())


class NextRoomForm(AssignForm):
    """Openings that go to the next day with room, of one crew or of any."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["crew"].required = self.fields["on"].required = False


class MoveForm(GiveForm):
    assignments = forms.ModelMultipleChoiceField(
        Assignment.objects.all(),
        required=False,
        label="Assigned openings",
        error_messages={"required": "select at least one assigned opening"},
    )
    whole_days = forms.ModelMultipleChoiceField(CrewDay.objects.all(), required=False)
    seen = SeenField(required=False)

    def clean(self) -> dict[str, Any]:
        """Ask for an opening or a whole day."""
        if not self.errors and not self.cleaned_data["assignments"] and not self.cleaned_data["whole_days"]:
            self.add_error("assignments", self.fields["assignments"].error_messages["required"])
        return self.cleaned_data

    @property
    def chosen(self) -> set[str]:
        """The assignments that were selected, as the browser sent them."""
        return set(self["assignments"].value() or ())


class DayForm(CrewAndDayForm):
    """A crew's day: off for a reason, or so many labor hours."""

    off_reason = forms.CharField(
        max_length=80, required=False, label="Reason for the day off", help_text="Leave blank if the crew works."
    )
    capacity_person_h = forms.DecimalField(
        max_digits=6,
        decimal_places=2,
        min_value=0,
        max_value=480,
        required=False,
        label="Labor hours",
        help_text="Leave blank for people × shift.",
        widget=forms.NumberInput(attrs={"step": "any", "inputmode": "decimal"}),
    )


class UnassignForm(forms.Form):
    assignments = forms.ModelMultipleChoiceField(
        Assignment.objects.all(),
        label="Assigned openings",
        error_messages={"required": "select at least one assigned opening"},
    )
    seen = SeenField(required=False)


class MendForm(forms.Form):
    """Which offer mends which crew day."""

    crew_day = forms.IntegerField()
    offer = forms.CharField(max_length=16)


class UndoForm(forms.Form):
    board_act = forms.IntegerField()


HOLD_KINDS = [(kind.value, kind.value) for kind in Hold.Kind]


class HoldForm(forms.Form):
    kind = forms.ChoiceField(choices=HOLD_KINDS, label="Kind of hold")
    reason = forms.CharField(
        max_length=300, label="Reason", help_text="What has to happen before the crew can install it."
    )


class HoldOneForm(HoldForm):
    """A hold where the opening is chosen too, among those that the page shows."""

    field_order = ("opening", "kind", "reason")
    opening = forms.IntegerField(widget=forms.Select)

    def __init__(self, data: Any, *, openings: Iterable[Opening] = ()) -> None:
        super().__init__(data)
        shown = [(opening.pk, f"{opening.job.code} {opening.mark}") for opening in openings]
        self.fields["opening"].widget.choices = [("", "choose an opening"), *shown]


class ReleaseForm(forms.Form):
    hold = forms.IntegerField()
    note = forms.CharField(max_length=300, required=False)


class AcceptForm(forms.Form):
    measurement = forms.IntegerField()


class StepForm(forms.Form):
    step = forms.CharField(max_length=40)
    lot = forms.CharField(max_length=60, required=False)
    note = forms.CharField(max_length=300, required=False)


class HoursForm(forms.Form):
    person = forms.CharField(max_length=80, label="Who", widget=forms.TextInput(attrs={"autocomplete": "off"}))
    on = DayField(within=PAST, label="Day")
    person_h = HoursField(label="Labor hours", help_text="Such as 8, 2.5, 2 h 15 min or 45 min.")


class MeasurementForm(forms.Form):
    """What tape and level said; its fields are those of `Readings`. Nothing is filled in beforehand."""

    measured = forms.ChoiceField(
        choices=[(measured.value, measured.value) for measured in Measured], required=False, label="Measured"
    )

    def __init__(self, *args: Any, units: Units = US, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._units = units
        for name in READING_NAMES:
            is_side = name in SIDE_NAMES
            self.fields[name] = TapeField(label=TITLES[name].capitalize(), required=is_side, is_small=not is_side)

    def clean(self) -> dict[str, Any]:
        """Leave out what was not measured, and say at its field what no opening can have."""
        values = {name: entered for name, entered in self.cleaned_data.items() if entered not in (None, "")}
        if not self.errors:
            measured = Measured(values.get("measured", Measured.ROUGH_OPENING))
            try:
                require_no_slips(Readings(**values | {"measured": measured}), units=self._units)
            except BadLength as error:
                for fault in error.faults:
                    self.add_error(fault.field, ValidationError(fault.detail, code=error.code))
        return values
