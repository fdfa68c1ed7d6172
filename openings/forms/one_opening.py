"""What is typed of one opening, and of its copies."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, ClassVar

from django import forms
from django.core.exceptions import ValidationError

from openings.calc.sides import sides_of
from openings.calc.starting_details import STARTING_DETAILS
from openings.errors import BadDetail, BadLength
from openings.forms.entry import EntryForm
from openings.models import InstallationDetail, Opening
from openings.models.opening import MOST_COPIES
from openings.plans.row_facts import SIDES

HOW = "check “The weight is right” and save again"
"""How the weight of an opening is confirmed on a page."""

_START = "start:"


class DetailChoice(forms.TypedChoiceField):
    """A detail of the job, or a starting point of which the job gets a copy; its value is the row or the name."""

    def offer(self, details: Iterable[InstallationDetail]) -> None:
        """Offer these details, and the starting points whose name none of them has."""
        own = {str(detail.pk): detail for detail in details}
        names = {detail.name for detail in own.values()}
        starts = [(f"{_START}{name}", name) for name in STARTING_DETAILS if name not in names]
        groups = [("Details of this job", [(pk, detail.name) for pk, detail in own.items()])] if own else []
        self.coerce = lambda text: own.get(text) or text.removeprefix(_START)
        self.choices = [("", "choose a detail"), *groups, ("Starting points, copied to the job", starts)]


class OpeningForm(EntryForm):
    """One opening and its unit. A size that is left out follows from the other by the clearance of the detail."""

    model = Opening
    columns: ClassVar = {
        "Mark and place": ("mark", "schedule_mark", "floor", "detail"),
        "Size": SIDES,
        "Unit": ("operation", "frame_material", "lites_in", "weight_lb", "weight_confirmed", "design_pressure_psf"),
        "Access and remarks": ("access", "storeys_up", "sill_above_floor_in", "remarks"),
        "For the code checks": (
            "sill_above_grade_in", "clear_width_in", "clear_height_in", "clear_sill_above_floor_in", "pane_width_in",
            "pane_height_in", "is_egress", "is_grade_floor", "is_near_door", "is_near_walkway", "is_wet_area",
        ),
    }  # fmt: skip
    folded = ("For the code checks",)
    signed = ("sill_above_grade_in",)
    labels: ClassVar = {
        "lites_in": "Glass, each lite", "is_egress": "Emergency escape opening", "is_near_door": "Pane near a door",
        "is_near_walkway": "Walking surface near the pane", "is_wet_area": "Wet area", "floor": "Floor or place",
    }  # fmt: skip
    helps: ClassVar = {
        "schedule_mark": "The kind of window on the schedule, such as W3.",
        "ro_width_in": "Such as 3' 0 1/2\", 36 1/2 or 927 mm. Give the rough opening, the unit or both.",
        "operation": "Such as casement, double hung or fixed.",
        "lites_in": "Outside first, such as 1/8 + 1/8.",
        "storeys_up": "Above the floor where the truck unloads.",
        "sill_above_floor_in": "Rough sill above what the crew stands on.",
        "sill_above_grade_in": "To what is below outside; with a minus in a well.",
        "is_near_door": "Within 24 in of the edge of a door.",
        "is_near_walkway": "Within 36 in.",
    }
    detail = DetailChoice()
    weight_confirmed = forms.BooleanField(
        required=False,
        label="The weight is right",
        help_text="Though glass and frame of that size weigh otherwise; your name is kept with it.",
    )

    def __init__(self, data: Any = None, *, details: Iterable[InstallationDetail], **options: Any) -> None:
        row = options.get("row")
        told = {"detail": str(row.detail_id)} if row else {}
        super().__init__(data, **options | {"initial": told | options.get("initial", {})})
        if row and row.weight_confirmed_by:
            by = f"Confirmed by {row.weight_confirmed_by}, until weight, size, glass or frame changes."
            self.fields["weight_confirmed"].help_text = by
        self.fields["detail"].offer(details)  # type: ignore[attr-defined]  # the field above
        for name in {"schedule_mark", *SIDES}.intersection(self.fields):
            self.fields[name].required = False

    def clean(self) -> dict[str, Any]:
        """Fill in the sides and the schedule mark that follow from what was given."""
        values = self.cleaned_data
        values["schedule_mark"] = values.get("schedule_mark") or values.get("mark", "")
        detail = values.get("detail")
        if detail and values.keys() >= set(SIDES):
            try:
                facts = STARTING_DETAILS[detail] if isinstance(detail, str) else detail.as_facts()
                values |= sides_of(**{side: values[side] for side in SIDES}, detail=facts)
            except (BadLength, BadDetail) as error:
                for fault in error.faults:
                    self.add_error(fault.field if fault.field in self.fields else None, ValidationError(fault.detail))
        return values


class NewOpeningForm(OpeningForm):
    """Openings of one kind to add; their marks are numbered as those of a schedule are."""

    columns: ClassVar = {
        **OpeningForm.columns,
        "Mark and place": ("mark", "count", "floor", "detail"),
    }
    helps: ClassVar = {**OpeningForm.helps, "mark": "Such as W3. Several are numbered: W3-01, W3-02, …"}
    count = forms.IntegerField(min_value=1, max_value=MOST_COPIES, initial=1, label="How many")


class CopyForm(forms.Form):
    count = forms.IntegerField(min_value=1, max_value=MOST_COPIES, initial=1, label="How many copies")
    first_mark = forms.CharField(
        max_length=50,
        required=False,
        label="First mark",
        help_text="The others count on from it. Left out, they follow the highest number of this mark.",
    )
    floor = forms.CharField(max_length=200, required=False, label="Floor or place")


class VoidForm(forms.Form):
    why = forms.CharField(max_length=200, required=False, label="Why", help_text="Shown with your name.")
