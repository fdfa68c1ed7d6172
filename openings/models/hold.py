"""What says that an opening is not ready."""

from __future__ import annotations

from typing import ClassVar, Self

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.calc.horizon import PLAN
from jobs.changed import changed_at
from jobs.dates import DayColumn
from openings.calc.readiness import Rule
from openings.models.fields import one_of

OPEN = Q(released_at__isnull=True)

LONGEST_REASON = 300
"""Letters of why an opening is on hold."""


class HoldQuerySet(models.QuerySet["Hold"]):
    """Holds, by whether they still stop anybody."""

    def open(self) -> Self:
        """Return the holds that nobody released."""
        return self.filter(OPEN)

    def of_rules(self) -> Self:
        """Return the holds that a rule placed, and that go by themselves."""
        return self.exclude(rule="")


class Hold(models.Model):
    """The one way to say that an opening is not ready."""

    class Kind(models.TextChoices):
        NOT_MEASURED = "not measured"
        OUT_OF_TOLERANCE = "out of tolerance"
        UNIT_NOT_ON_SITE = "unit not on site"
        MATERIAL_SHORT = "material short"
        MATERIALS_NOT_COMPATIBLE = "materials not compatible"
        WEATHER = "weather"
        ACCESS = "access"
        SCHEDULE_CHANGED = "schedule changed"
        OTHER_TRADE = "other trade"
        PERMIT = "permit"
        LEAD_PAINT = "lead paint"
        OTHER = "other"

    opening = models.ForeignKey("openings.Opening", on_delete=models.PROTECT, related_name="holds")
    kind = models.CharField(max_length=30, choices=Kind)
    reason = models.CharField(max_length=LONGEST_REASON)
    expected_on = DayColumn(within=PLAN, null=True, blank=True, help_text="The day on which it is expected to be gone.")
    rule = one_of(
        Rule,
        blank=True,
        default="",
        editable=False,
        help_text="The rule that found it and releases it; blank of a person's.",
    )
    placed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    placed_at = models.DateTimeField(auto_now_add=True)
    released_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    released_at = models.DateTimeField(null=True, blank=True)
    release_note = models.CharField(max_length=300, blank=True)
    updated_at = changed_at()

    objects = HoldQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["-placed_at", "-id"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["opening", "kind"],
                condition=OPEN,
                name="one_open_hold_of_a_kind_per_opening",
                violation_error_code="unique",
                violation_error_message="This opening already has an open hold of this kind.",
            ),
            models.CheckConstraint(condition=~Q(reason=""), name="hold_has_a_reason"),
            models.CheckConstraint(
                condition=Q(released_at__isnull=True, released_by__isnull=True)
                | (Q(released_at__isnull=False) & (Q(released_by__isnull=False) | ~Q(rule=""))),
                name="hold_release_says_who_and_when",
            ),
        ]
        indexes: ClassVar = [
            models.Index(fields=["placed_at", "id"], name="holds_in_order"),
            models.Index(fields=["placed_at", "id"], condition=OPEN, name="open_holds_in_order"),
        ]

    def __str__(self) -> str:
        return f"{self.opening}: {self.kind}"
