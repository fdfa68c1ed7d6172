"""The weather that is expected."""

from __future__ import annotations

from decimal import Decimal
from typing import ClassVar

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from jobs.calc.horizon import PLAN
from jobs.calc.say import day as say_day
from jobs.changed import changed_at
from jobs.dates import DayColumn
from jobs.models.job import Job


class SiteForecast(models.Model):
    """The weather expected on a site on one date."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="forecasts")
    on = DayColumn(within=PLAN)
    low_f = models.DecimalField(max_digits=5, decimal_places=1)
    high_f = models.DecimalField(max_digits=5, decimal_places=1)
    wind_mph = models.DecimalField(
        max_digits=5, decimal_places=1, default=Decimal(0), validators=[MinValueValidator(0)]
    )
    rain_in = models.DecimalField(max_digits=8, decimal_places=5, default=Decimal(0), validators=[MinValueValidator(0)])
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["on", "job__code"]
        indexes: ClassVar = [models.Index(fields=["on"], name="forecasts_by_date")]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["job", "on"], name="forecast_once_per_job_and_date"),
            models.CheckConstraint(
                condition=Q(low_f__lte=F("high_f")),
                name="forecast_low_is_not_above_high",
                violation_error_message="The low temperature is above the high one.",
            ),
            models.CheckConstraint(
                condition=Q(wind_mph__gte=0, rain_in__gte=0), name="forecast_wind_and_rain_are_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.job.code} on {say_day(self.on, timezone.now().date())}: {self.low_f} to {self.high_f} °F"
