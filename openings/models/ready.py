"""What a job's openings wait for besides their units: which rules it goes by, and what must be done before."""

from __future__ import annotations

from typing import ClassVar, Self

from django.contrib.postgres.fields import ArrayField
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q

from jobs.calc.horizon import PAST, PLAN
from jobs.changed import changed_at
from jobs.dates import DayColumn
from openings.calc.readiness import Before, BeforeKind, Follows
from openings.models.fields import one_of

MAX_FLOORS = 60


class ReadyRules(models.Model):
    """Which rules say of a job's openings that they are not ready; one row a job, where it goes by any."""

    job = models.OneToOneField("jobs.Job", on_delete=models.PROTECT, related_name="+")
    units = models.BooleanField(default=False, help_text="An opening without an ordered unit is not ready.")
    measured = models.BooleanField(default=False, help_text="An opening that nobody measured is not ready.")
    lead_paint = models.BooleanField(
        default=False, help_text="In a building from before 1978 nothing is ready until lead-safe work is prepared."
    )
    weather = models.BooleanField(default=False, help_text="Nothing is assigned to a day of forecast wind or rain.")
    floor_order = ArrayField(
        models.CharField(max_length=200),
        size=MAX_FLOORS,
        default=list,
        blank=True,
        help_text="Floors in the order in which they are set; blank where the order does not matter.",
    )
    updated_at = changed_at()

    class Meta:
        verbose_name = "ready rules"
        verbose_name_plural = "ready rules"
        ordering: ClassVar = ["id"]

    def __str__(self) -> str:
        return f"ready rules of {self.job.code}"

    def clean(self) -> None:
        floors = self.floor_order or []
        if twice := sorted({floor for floor in floors if floors.count(floor) > 1}):
            raise ValidationError({"floor_order": f"{', '.join(twice)} is listed more than once"})

    def as_follows(self) -> Follows:
        """Return the calc value."""
        return Follows(units=self.units, measured=self.measured, lead_paint=self.lead_paint)


class TradeBeforeQuerySet(models.QuerySet["TradeBefore"]):
    """What must be done before, by whether it is."""

    def awaited(self) -> Self:
        """Return what is not done yet."""
        return self.filter(done_on__isnull=True)


class TradeBefore(models.Model):
    """What must be done before the openings of a job, or of one of its floors, are set: a trade's work, a permit."""

    job = models.ForeignKey("jobs.Job", on_delete=models.PROTECT, related_name="+")
    kind = one_of(BeforeKind, default=BeforeKind.TRADE.value)
    name = models.CharField(max_length=120, help_text="What is to be done, such as framing inspection or WRB.")
    floor = models.CharField(max_length=200, blank=True, help_text="Blank where it concerns the whole job.")
    who = models.CharField(max_length=120, blank=True, help_text="Who does it or grants it.")
    expected_on = DayColumn(within=PLAN, null=True, blank=True, help_text="When it is to be done.")
    done_on = DayColumn(within=PAST, null=True, blank=True, help_text="When it was done.")
    updated_at = changed_at()

    objects = TradeBeforeQuerySet.as_manager()

    class Meta:
        verbose_name = "trade before"
        verbose_name_plural = "trades before"
        ordering: ClassVar = ["job", "floor", "id"]
        constraints: ClassVar = [
            models.CheckConstraint(condition=~Q(name=""), name="trade_before_has_a_name"),
            models.UniqueConstraint(
                fields=["job", "floor", "name"],
                name="trade_before_stands_once_per_floor",
                violation_error_code="unique",
                violation_error_message="This is entered already for the floor.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name}, {self.floor}" if self.floor else self.name

    def as_before(self) -> Before:
        """Return the calc value."""
        return Before(
            kind=BeforeKind(self.kind),
            name=str(self),
            floor=self.floor,
            expected_on=self.expected_on,
            is_done=self.done_on is not None,
        )
