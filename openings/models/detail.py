"""How the units of a job are installed."""

from __future__ import annotations

from dataclasses import fields
from typing import ClassVar

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from openings.calc.facts import DetailFacts, HeadFlashing, Mounting
from openings.errors import BadDetail
from openings.models.fields import inches


class InstallationDetail(models.Model):
    """One installation detail of a job; its columns are the fields of `DetailFacts`, documented there."""

    job = models.ForeignKey("jobs.Job", on_delete=models.PROTECT, related_name="+")
    name = models.CharField(max_length=80)
    is_default = models.BooleanField(
        default=False, help_text="Taken for schedule rows that name no detail; one per job at most."
    )
    mounting = models.CharField(max_length=10, choices=[(m.value, m.value) for m in Mounting])
    barrier_before_window = models.BooleanField()
    jamb_flashing_over_flange = models.BooleanField(default=False)
    strip_width_in = inches(12)
    has_pan = models.BooleanField(default=True)
    pan_turn_up_in = inches(6)
    has_corner_pieces = models.BooleanField(default=True)
    has_head_membrane = models.BooleanField(default=True)
    head_membrane_lap_in = inches(6)
    head_flashing = models.CharField(
        max_length=16, choices=[(h.value, h.value) for h in HeadFlashing], default=HeadFlashing.NONE.value
    )
    casing_width_in = inches(0)
    joint_bead_in = inches("0.25")
    setting_bead_in = inches("0.5")
    flange_bead_in = inches("0.375")
    has_air_seal = models.BooleanField(default=True)
    sealant_waste_pct = models.DecimalField(
        max_digits=5, decimal_places=2, default=10, validators=[MinValueValidator(0), MaxValueValidator(100)]
    )
    has_straps = models.BooleanField(default=False)
    strap_spacing_in = inches(16)
    strap_corner_in = inches(8)
    jamb_screws_per_strap = models.PositiveSmallIntegerField(default=2, validators=[MaxValueValidator(12)])
    framing_screws_per_strap = models.PositiveSmallIntegerField(default=2, validators=[MaxValueValidator(12)])
    flange_fastener_spacing_in = inches(16)
    flange_fastener_corner_in = inches(4)
    sill_shim_spacing_in = inches(16)
    jamb_shim_spacing_in = inches(24)
    shim_end_in = inches("0.5")
    ro_clearance_width_in = inches("0.5")
    ro_clearance_height_in = inches("0.5")

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
        ]

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        try:
            self.as_facts()
        except BadDetail as error:
            raise ValidationError(error.detail, code=error.code) from error

    def as_facts(self) -> DetailFacts:
        """Return the calc value.

        Raises:
            BadDetail: the answers contradict one another.
        """
        values = {field.name: getattr(self, field.name) for field in fields(DetailFacts)}
        return DetailFacts(
            **values | {"mounting": Mounting(self.mounting), "head_flashing": HeadFlashing(self.head_flashing)}
        )
