"""The sites."""

from __future__ import annotations

from datetime import time
from typing import ClassVar, Self
from zoneinfo import available_timezones

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator, ProhibitNullCharactersValidator
from django.db import models
from django.db.models import F, Q

from jobs.calc.horizon import PLAN
from jobs.changed import changed_at
from jobs.dates import DayColumn
from jobs.models.coordinates import latitude, longitude, on_earth


def check_time_zone(name: str) -> None:
    """Raise ValidationError unless `name` is a zone of the IANA time zone database."""
    if name not in available_timezones():
        raise ValidationError(
            "%(name)s is not a time zone; write one like America/Denver",
            params={"name": name},
            code="time-zone",
        )


class JobQuerySet(models.QuerySet["Job"]):
    def open(self) -> Self:
        """Keep those on which work is planned: neither closed nor archived."""
        return self.filter(closed_at=None)

    def in_sight(self) -> Self:
        """Keep those that lists show unasked: not archived."""
        return self.filter(archived_at=None)

    def archived(self) -> Self:
        """Keep those that were archived."""
        return self.filter(archived_at__isnull=False)


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
    contact_name = models.CharField(max_length=80, blank=True, help_text="Whom to ask for on the site.")
    contact_phone = models.CharField(max_length=40, blank=True)
    gate_note = models.CharField(max_length=300, blank=True, help_text="How a crew gets in: gate, code, parking.")
    promised_on = DayColumn(within=PLAN, null=True, blank=True, help_text="The day the customer was promised.")
    latitude = latitude()
    longitude = longitude()
    closed_at = models.DateTimeField(
        null=True, blank=True, editable=False, help_text="When the job was closed: nothing of it is assigned any more."
    )
    archived_at = models.DateTimeField(
        null=True, blank=True, editable=False, help_text="When it was archived: lists leave it out."
    )
    updated_at = changed_at()

    objects = JobQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["code"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(promised_on=None) | Q(starts_on=None) | Q(promised_on__gte=F("starts_on")),
                name="job_is_not_promised_before_it_starts",
                violation_error_message="The day promised is before the job starts: give a later day promised, or an "
                "earlier start.",
            ),
            models.CheckConstraint(
                condition=Q(archived_at=None) | Q(closed_at__isnull=False), name="job_is_archived_only_once_closed"
            ),
            on_earth("latitude", "longitude", name="job_is_on_earth"),
        ]

    def __str__(self) -> str:
        return f"{self.code} · {self.name}"
