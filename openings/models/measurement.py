"""What was measured of an opening."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.changed import changed_at
from openings.calc.readings import DEVIATION_NAMES, READING_NAMES, TITLES, Measured, Readings
from openings.models.fields import deviation, diagonal, one_of, side
from openings.models.opening import Opening


class FieldMeasurement(models.Model):
    """What the tape and the level said of one rough opening, or of the unit set in it.

    A deviation that nobody measured is null. Rows from before that was so hold 0 where nothing was entered, which
    cannot be told from a 0 that was measured; they are kept as they are.
    """

    opening = models.ForeignKey(Opening, on_delete=models.PROTECT, related_name="measurements")
    width_top_in = side()
    width_middle_in = side()
    width_bottom_in = side()
    height_left_in = side()
    height_middle_in = side()
    height_right_in = side()
    diagonal_rising_in = diagonal()
    diagonal_falling_in = diagonal()
    sill_out_of_level_in = deviation()
    left_out_of_plumb_in = deviation()
    right_out_of_plumb_in = deviation()
    left_bow_in = deviation()
    right_bow_in = deviation()
    sill_crown_in = deviation()
    twist_in = deviation()
    measured = one_of(Measured, default=Measured.ROUGH_OPENING)
    is_within_tolerance = models.BooleanField(
        editable=False, help_text="No check failed; `not_measured` says what was not checked."
    )
    measured_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    measured_at = models.DateTimeField(auto_now_add=True)
    accepted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
        help_text="Who took it for the size of the opening as built.",
    )
    accepted_at = models.DateTimeField(null=True, blank=True)
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["-measured_at", "-id"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(accepted_by__isnull=True, accepted_at__isnull=True)
                | Q(accepted_by__isnull=False, accepted_at__isnull=False, measured=Measured.ROUGH_OPENING.value),
                name="accepted_measurement_says_who_and_when",
            ),
        ]
        indexes: ClassVar = [models.Index(fields=["measured_at", "id"], name="measurements_in_order")]

    def __str__(self) -> str:
        return f"{self.opening}: {self.verdict}"

    @property
    def not_measured(self) -> tuple[str, ...]:
        """What was asked for and not measured, as people call it."""
        asked = filter(Measured(self.measured).asks_for, DEVIATION_NAMES)
        return tuple(TITLES[name] for name in asked if getattr(self, name) is None)

    @property
    def verdict(self) -> str:
        """Whether it is within tolerance, and how much of that nobody measured."""
        if not self.is_within_tolerance:
            return "out of tolerance"
        missing = len(self.not_measured)
        return f"within tolerance as far as measured, {missing} not measured" if missing else "within tolerance"

    def as_readings(self) -> Readings:
        """Return the calc value."""
        readings_in = {name: getattr(self, name) for name in READING_NAMES}
        return Readings(**readings_in, measured=Measured(self.measured))
