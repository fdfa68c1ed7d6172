"""The columns that verbs take by name, so that a name or a value that no column has is seen before anything runs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import TypedDict

from jobs.models import Crew, Job
from openings.models.detail import InstallationDetail
from openings.models.opening import Opening


class OpeningValues(TypedDict, total=False):
    """Columns of an opening that a person gives, but for its detail."""

    job: Job
    mark: str
    schedule_mark: str
    ro_width_in: Decimal
    ro_height_in: Decimal
    unit_width_in: Decimal
    unit_height_in: Decimal
    operation: str
    floor: str
    weight_lb: Decimal | None
    frame_material: str
    lites_in: Sequence[Decimal]
    design_pressure_psf: Decimal | None
    access: str
    storeys_up: int
    sill_above_floor_in: Decimal | None
    sill_above_grade_in: Decimal | None
    clear_width_in: Decimal | None
    clear_height_in: Decimal | None
    clear_sill_above_floor_in: Decimal | None
    pane_width_in: Decimal | None
    pane_height_in: Decimal | None
    is_egress: bool | None
    is_grade_floor: bool | None
    is_near_door: bool | None
    is_near_walkway: bool | None
    is_wet_area: bool | None
    remarks: str


class OpeningChanges(OpeningValues, total=False):
    """Columns of an opening that a person changes."""

    detail: InstallationDetail


class DetailAnswers(TypedDict, total=False):
    """Columns of an installation detail that say how units are installed."""

    is_default: bool
    mounting: str
    barrier_before_window: bool
    jamb_flashing_over_flange: bool
    strip_width_in: Decimal
    jamb_strip_short_in: Decimal
    end_lap_in: Decimal
    has_pan: bool
    pan_turn_up_in: Decimal
    pan_front_lap_in: Decimal
    back_dam_in: Decimal
    sill_slope_deg: Decimal
    sill_depth_in: Decimal
    water_test_pct: Decimal
    has_corner_pieces: bool
    has_head_membrane: bool
    head_membrane_lap_in: Decimal
    head_membrane_width_in: Decimal
    has_head_strip: bool
    head_flashing: str
    drip_cap_past_in: Decimal
    casing_width_in: Decimal
    joint_bead_in: Decimal
    joint_bead_shape: str
    setting_bead_in: Decimal
    setting_bead_shape: str
    flange_bead_in: Decimal
    flange_bead_shape: str
    sill_bead: str
    sill_drain_gap_in: Decimal
    has_air_seal: bool
    joint_temp_range_f: Decimal
    sealant_waste_pct: Decimal
    has_straps: bool
    strap_spacing_in: Decimal
    strap_corner_in: Decimal
    strap_allowable_lb: Decimal
    jamb_screws_per_strap: int
    framing_screws_per_strap: int
    fastener_is_nail: bool
    fastener_diameter_in: Decimal
    fastener_penetration_in: Decimal
    fastener_allowable_lb: Decimal | None
    framing_specific_gravity: Decimal
    load_duration_factor: Decimal
    flange_fastener_spacing_in: Decimal
    flange_fastener_corner_in: Decimal
    sill_shim_spacing_in: Decimal
    jamb_shim_spacing_in: Decimal
    shim_end_in: Decimal
    has_shims_at_straps: bool
    lock_hinge_shim_points: int
    ro_clearance_width_in: Decimal
    ro_clearance_height_in: Decimal
    most_clearance_width_in: Decimal
    most_clearance_height_in: Decimal
    is_behind_stucco: bool
    own_order: Sequence[str]


class DetailValues(DetailAnswers, total=False):
    """Columns of an installation detail."""

    job: Job
    name: str


class CallbackAnswers(TypedDict, total=False):
    """Columns of a callback that say what is wrong, and what became of it."""

    complaint: str
    resolved_on: date | None
    resolution: str


class CallbackValues(CallbackAnswers, total=False):
    """Columns of a callback."""

    opening: Opening
    reported_on: date


class CrewDayValues(TypedDict, total=False):
    """Columns of the day of a crew."""

    crew: Crew
    on: date
    capacity_person_h: Decimal
    off_reason: str
