"""The sites."""

from __future__ import annotations

from datetime import time
from typing import ClassVar
from zoneinfo import available_timezones

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator, ProhibitNullCharactersValidator
from django.db import models

from jobs.calc.horizon import PLAN
from jobs.changed import changed_at
from jobs.dates import DayColumn


def check_time_zone(name: str) -> None:
    """Raise ValidationError unless `name` is a zone of the IANA time zone database."""
    if name not in available_timezones():
        raise ValidationError(
            "%(name)s is not a time zone; write one like America/Denver",
            params={"name": name},
            code="time-zone",
        )


class Job(models.Model):
    """A site where openings are set."""

    code = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=120)
    address = models.TextField(max_length=300, validators=[ProhibitNullCharactersValidator()])
    time_zone = models.CharField(max_length=60, default="America/Denver", validators=[check_time_zone])
    cutoff = models.TimeField(
        default=time(14, 0),
        help_text="Local time on the working day before, at which the pull sheets are made.",
    )
    starts_on = DayColumn(within=PLAN, null=True, blank=True)
    built_year = models.PositiveSmallIntegerField(
        null=True,
        blank=True,
        validators=[MinValueValidator(1600), MaxValueValidator(2200)],
        help_text="Year the building was built; before 1978 the sheets carry the lead-paint caution.",
    )
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["code"]

    def __str__(self) -> str:
        return f"{self.code} · {self.name}"
