"""What is typed of one installation detail, and what a new one begins with."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, ClassVar

from django import forms

from openings.calc.starting_details import STARTING_DETAILS
from openings.forms.entry import EntryForm
from openings.models import InstallationDetail
from openings.models.detail import SMALL_LENGTHS

_START = "start:"


class DetailForm(EntryForm):
    """Every answer of a detail."""

    model = InstallationDetail
    columns: ClassVar = {
        "Unit and wall": (
            "name", "is_default", "mounting", "barrier_before_window", "jamb_flashing_over_flange", "casing_width_in",
            "is_behind_stucco",
        ),
        "Flashing": ("strip_width_in", "jamb_strip_short_in", "end_lap_in", "has_corner_pieces"),
        "Pan": (
            "has_pan", "pan_turn_up_in", "pan_front_lap_in", "back_dam_in", "sill_slope_deg", "sill_depth_in",
            "water_test_pct",
        ),
        "Head": (
            "has_head_membrane", "head_membrane_lap_in", "head_membrane_width_in", "has_head_strip", "head_flashing",
            "drip_cap_past_in",
        ),
        "Sealant": (
            "setting_bead_in", "setting_bead_shape", "flange_bead_in", "flange_bead_shape", "joint_bead_in",
            "joint_bead_shape", "sill_bead", "sill_drain_gap_in", "has_air_seal", "joint_temp_range_f",
            "sealant_waste_pct",
        ),
        "Flange fasteners": ("flange_fastener_spacing_in", "flange_fastener_corner_in"),
        "Straps and framing": (
            "has_straps", "strap_spacing_in", "strap_corner_in", "strap_allowable_lb", "jamb_screws_per_strap",
            "framing_screws_per_strap", "fastener_is_nail", "fastener_diameter_in", "fastener_penetration_in",
            "fastener_allowable_lb", "framing_specific_gravity", "load_duration_factor",
        ),
        "Shims and clearance": (
            "sill_shim_spacing_in", "jamb_shim_spacing_in", "shim_end_in", "has_shims_at_straps",
            "lock_hinge_shim_points", "ro_clearance_width_in", "ro_clearance_height_in", "most_clearance_width_in",
            "most_clearance_height_in",
        ),
    }  # fmt: skip
    small = SMALL_LENGTHS
    labels: ClassVar = {
        "barrier_before_window": "WRB before the window", "is_default": "For schedule rows that name no detail",
        "jamb_flashing_over_flange": "Jamb flashing over the flange", "is_behind_stucco": "Behind stucco",
        "fastener_is_nail": "Fastened with nails", "ro_clearance_width_in": "Clearance asked for, width",
        "ro_clearance_height_in": "Clearance asked for, height", "most_clearance_width_in": "Most clearance, width",
        "most_clearance_height_in": "Most clearance, height", "has_shims_at_straps": "Shims behind the straps",
        "pan_front_lap_in": "Pan over the front of the sill", "joint_temp_range_f": "Temperature range of joints",
    }  # fmt: skip
    helps: ClassVar = {
        "strip_width_in": 'Such as 9" or 230 mm.',
        "fastener_diameter_in": "Counts where the chosen product says none.",
        "fastener_allowable_lb": "Of the product approval; left out, it is figured from the fastener.",
        "lock_hinge_shim_points": "What the manufacturer asks for at locks and hinges.",
    }


class NewDetailForm(forms.Form):
    """A detail to add: its name, and the starting point or the detail of any job with which it begins."""

    begin = forms.TypedChoiceField(label="Begin with")
    name = forms.CharField(
        max_length=80, required=False, label="Name", help_text="Left out, it is called as what it begins with."
    )

    def __init__(self, data: Any = None, *, details: Iterable[InstallationDetail]) -> None:
        """Offer the starting points and these details, whose jobs are joined."""
        super().__init__(data)
        by_job: dict[str, list[tuple[str, str]]] = {}
        for detail in details:
            by_job.setdefault(f"{detail.job.code} · {detail.job.name}", []).append((str(detail.pk), detail.name))
        self._known = {str(detail.pk): detail for detail in details}
        starts = [(f"{_START}{name}", name) for name in STARTING_DETAILS]
        self.fields["begin"].choices = [("Starting points", starts), *by_job.items()]  # type: ignore[attr-defined]

    @property
    def asked(self) -> dict[str, Any]:
        """Return what `add_detail` takes of it; the form must be valid."""
        begin, name = self.cleaned_data["begin"], self.cleaned_data["name"]
        if begin.startswith(_START):
            start = begin.removeprefix(_START)
            return {"name": name or start, "starting_point": start}
        copied = self._known[begin]
        return {"name": name or copied.name, "copy_of": copied}
