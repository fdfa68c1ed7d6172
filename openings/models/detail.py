"""How the units of a job are installed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields, replace
from typing import Any, ClassVar

from django.contrib.postgres.fields import ArrayField
from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import F, Q

from jobs.changed import changed_at
from openings.calc.facts import DetailFacts
from openings.calc.lay_order import read_order, require_order
from openings.calc.terms import BeadShape, HeadFlashing, Mounting, SillBead
from openings.errors import BadDetail
from openings.models.fields import by_field, degrees, inches, number, one_of, percent, pounds
from openings.models.told import ToldFasteners

SMALL_LENGTHS = (
    "jamb_strip_short_in", "back_dam_in", "drip_cap_past_in", "joint_bead_in", "setting_bead_in", "flange_bead_in",
    "sill_drain_gap_in", "fastener_diameter_in", "fastener_penetration_in", "shim_end_in", "ro_clearance_width_in",
    "ro_clearance_height_in", "pan_front_lap_in", "most_clearance_width_in", "most_clearance_height_in",
)  # fmt: skip
"""Columns of a detail that never hold feet, so that 1/2 is half an inch."""


class InstallationDetail(ToldFasteners):
    """One installation detail of a job; its columns are the fields of `DetailFacts`, documented there.

    What is told of the fasteners that are staged goes before those that the detail assumes.
    """

    job = models.ForeignKey("jobs.Job", on_delete=models.PROTECT, related_name="+")
    name = models.CharField(max_length=80)
    is_default = models.BooleanField(
        default=False, help_text="Taken for schedule rows that name no detail; one per job at most."
    )
    mounting = one_of(Mounting)
    barrier_before_window = models.BooleanField()
    jamb_flashing_over_flange = models.BooleanField(default=False)
    strip_width_in = inches(12)
    jamb_strip_short_in = inches("0.5")
    end_lap_in = inches(4)
    has_pan = models.BooleanField(default=True)
    pan_turn_up_in = inches(6)
    pan_front_lap_in = inches(2)
    back_dam_in = inches("0.5")
    sill_slope_deg = degrees(0)
    sill_depth_in = inches("5.5")
    water_test_pct = percent(15)
    has_corner_pieces = models.BooleanField(default=True)
    has_head_membrane = models.BooleanField(default=True)
    head_membrane_lap_in = inches(6)
    head_membrane_width_in = inches(6)
    has_head_strip = models.BooleanField(default=True)
    head_flashing = one_of(HeadFlashing, default=HeadFlashing.NONE)
    drip_cap_past_in = inches("0.5")
    casing_width_in = inches(0)
    joint_bead_in = inches("0.25")
    joint_bead_shape = one_of(BeadShape, default=BeadShape.ROUND)
    setting_bead_in = inches("0.5")
    setting_bead_shape = one_of(BeadShape, default=BeadShape.ROUND)
    flange_bead_in = inches("0.375")
    flange_bead_shape = one_of(BeadShape, default=BeadShape.ROUND)
    sill_bead = one_of(SillBead, default=SillBead.OPEN)
    sill_drain_gap_in = inches("0.5")
    has_air_seal = models.BooleanField(default=True)
    joint_temp_range_f = number(130, most=400)
    sealant_waste_pct = percent(10)
    has_straps = models.BooleanField(default=False)
    strap_spacing_in = inches(16)
    strap_corner_in = inches(8)
    strap_allowable_lb = pounds("138.88889")
    jamb_screws_per_strap = models.PositiveSmallIntegerField(default=2, validators=[MaxValueValidator(12)])
    framing_screws_per_strap = models.PositiveSmallIntegerField(default=2, validators=[MaxValueValidator(12)])
    fastener_is_nail = models.BooleanField(default=False)
    fastener_diameter_in = inches("0.164")
    fastener_penetration_in = inches(1)
    fastener_allowable_lb = pounds(null=True, blank=True)
    framing_specific_gravity = number("0.42", most=2)
    load_duration_factor = number("1.6", most=2)
    flange_fastener_spacing_in = inches(16)
    flange_fastener_corner_in = inches(4)
    sill_shim_spacing_in = inches(16)
    jamb_shim_spacing_in = inches(24)
    shim_end_in = inches("0.5")
    has_shims_at_straps = models.BooleanField(default=True)
    lock_hinge_shim_points = models.PositiveSmallIntegerField(default=0, validators=[MaxValueValidator(40)])
    ro_clearance_width_in = inches("0.5")
    ro_clearance_height_in = inches("0.5")
    most_clearance_width_in = inches(1)
    most_clearance_height_in = inches(1)
    is_behind_stucco = models.BooleanField(default=False)
    own_order = ArrayField(
        models.CharField(max_length=20),
        default=list,
        blank=True,
        help_text="Install steps in the order of a firm or a maker; none, and they follow the usual one.",
    )
    leak_accepted_by = models.ForeignKey(
        "jobs.Person", on_delete=models.PROTECT, null=True, blank=True, related_name="+", editable=False
    )
    leak_accepted_at = models.DateTimeField(null=True, blank=True, editable=False)
    leak_accepted_why = models.CharField(max_length=300, blank=True, editable=False)
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["job", "name"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["job", "name"], name="detail_name_once_per_job"),
            models.UniqueConstraint(
                fields=["job"],
                condition=Q(is_default=True),
                name="job_has_one_default_detail",
                violation_error_code="unique",
            ),
            models.CheckConstraint(condition=Q(strip_width_in__gte=9), name="detail_strip_is_at_least_9_in_wide"),
            models.CheckConstraint(
                condition=Q(mounting="flange") | Q(jamb_flashing_over_flange=False),
                name="detail_flashing_over_a_flange_needs_one",
            ),
            models.CheckConstraint(
                condition=Q(has_pan=False) | ~Q(sill_bead="full"), name="detail_with_a_pan_drains_at_the_sill"
            ),
            models.CheckConstraint(
                condition=Q(has_pan=False) | Q(back_dam_in__gt=0) | Q(sill_slope_deg__gt=0),
                name="detail_pan_has_a_back_dam_or_slopes_out",
            ),
            models.CheckConstraint(
                condition=Q(most_clearance_width_in__gte=F("ro_clearance_width_in"))
                & Q(most_clearance_height_in__gte=F("ro_clearance_height_in")),
                name="detail_allows_the_clearance_it_asks_for",
            ),
            models.CheckConstraint(
                condition=Q(leak_accepted_by__isnull=True, leak_accepted_at__isnull=True, leak_accepted_why="")
                | (Q(leak_accepted_by__isnull=False, leak_accepted_at__isnull=False) & ~Q(leak_accepted_why="")),
                name="detail_leak_is_accepted_by_somebody_who_says_why",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        try:
            require_order(self.as_facts())
        except BadDetail as error:
            raise by_field(error) from error

    @property
    def is_leak_accepted(self) -> bool:
        """Return whether somebody takes it as it is, though it may let water in."""
        return self.leak_accepted_by_id is not None

    def as_facts(self) -> DetailFacts:
        """Return the calc value.

        Raises:
            BadDetail: the answers contradict one another.
        """
        return facts_of({field.name: getattr(self, field.name) for field in fields(DetailFacts)})


_READ: dict[str, Callable[[Any], object]] = {
    "mounting": Mounting, "head_flashing": HeadFlashing, "sill_bead": SillBead, "joint_bead_shape": BeadShape,
    "setting_bead_shape": BeadShape, "flange_bead_shape": BeadShape, "own_order": read_order,
}  # fmt: skip
"""How the columns are read that are not stored as their answer."""


def facts_of(values: Mapping[str, Any], *, start: DetailFacts | None = None) -> DetailFacts:
    """Return a detail from its columns as they are stored; what is not among them is as in `start`, or the usual.

    Raises:
        BadDetail: the answers contradict one another.
    """
    known: dict[str, Any] = {name: _READ[name](value) if name in _READ else value for name, value in values.items()}
    facts = replace(start, **known) if start else DetailFacts(**known)
    require_order(facts)
    return facts
