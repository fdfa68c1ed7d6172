"""What a crew can do on a date."""

from __future__ import annotations

from decimal import Decimal
from typing import ClassVar

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils import timezone

from jobs.calc.horizon import PLAN
from jobs.calc.say import day as say_day
from jobs.changed import changed_at
from jobs.dates import DayColumn
from jobs.models.crew import Crew


class CrewDay(models.Model):
    """One crew on one date: what it can do, or why it is off."""

    crew = models.ForeignKey(Crew, on_delete=models.PROTECT, related_name="days")
    on = DayColumn(within=PLAN, db_index=True)
    capacity_person_h = models.DecimalField(
        max_digits=6,
        decimal_places=2,
        validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(480))],
    )
    off_reason = models.CharField(max_length=80, blank=True, help_text="Why the crew does not work this day.")
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["on", "crew__name"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["crew", "on"], name="crew_day_once_per_crew_and_date"),
            models.CheckConstraint(condition=Q(capacity_person_h__gte=0), name="crew_day_capacity_is_not_negative"),
            models.CheckConstraint(
                condition=Q(off_reason="") | Q(capacity_person_h=0),
                name="crew_day_off_has_no_capacity",
                violation_error_message="A day off has no capacity: give 0 labor hours or no reason for being off.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.crew} on {say_day(self.on, timezone.now().date())}"

    @property
    def is_off(self) -> bool:
        return self.off_reason != ""
