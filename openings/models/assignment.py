"""Which crew has which opening on which day."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models
from django.db.models import Q


class Assignment(models.Model):
    """An opening given to a crew for a day. Withdrawn ones stay as history."""

    opening = models.ForeignKey("openings.Opening", on_delete=models.PROTECT, related_name="assignments")
    crew_day = models.ForeignKey("jobs.CrewDay", on_delete=models.PROTECT, related_name="+")
    person_h = models.DecimalField(
        max_digits=6, decimal_places=2, help_text="Planned person-hours when it was assigned."
    )
    assigned_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    assigned_at = models.DateTimeField(auto_now_add=True)
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    short_crew_reason = models.CharField(
        max_length=300, blank=True, help_text="Why it goes all the same to a crew of fewer people than its lift takes."
    )
    short_crew_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        ordering: ClassVar = ["id"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["opening"],
                condition=Q(withdrawn_at__isnull=True),
                name="opening_assigned_once_at_a_time",
                violation_error_code="unique",
                violation_error_message="This opening is already assigned.",
            ),
            models.CheckConstraint(condition=Q(person_h__gt=0), name="assignment_takes_time"),
            models.CheckConstraint(
                condition=Q(short_crew_reason="", short_crew_by__isnull=True)
                | (~Q(short_crew_reason="") & Q(short_crew_by__isnull=False)),
                name="short_crew_has_a_reason_and_a_person",
            ),
        ]
        indexes: ClassVar = [
            models.Index(
                fields=["crew_day"],
                condition=Q(withdrawn_at__isnull=True),
                name="live_assignments_by_crew_day",
            )
        ]

    def __str__(self) -> str:
        return f"{self.opening} → {self.crew_day}"
