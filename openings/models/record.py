"""What was done at the wall, and what came back."""

from __future__ import annotations

from typing import ClassVar, Self

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q

from jobs.calc.horizon import PAST
from jobs.calc.say import plural
from jobs.changed import changed_at
from jobs.dates import DayColumn
from openings.calc.hours import LEAST_H, MOST_H, say_hours
from openings.calc.lay_titles import title_of
from openings.calc.step_code import StepCode

IS_DONE = Q(done_at__isnull=False)
OF_A_DONE_INSTALL = Q(record__done_at__isnull=False)
"""What is true of steps and hours whose install is done."""


class InstallRecordQuerySet(models.QuerySet["InstallRecord"]):
    """Install records, by whether the work is over."""

    def done(self) -> Self:
        """Return the installs that somebody closed."""
        return self.filter(IS_DONE)


class InstallRecord(models.Model):
    """The install of one opening, from its start until it is done."""

    opening = models.OneToOneField("openings.Opening", on_delete=models.PROTECT, related_name="install_record")
    crew = models.ForeignKey("jobs.Crew", on_delete=models.PROTECT, related_name="+")
    started_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    started_at = models.DateTimeField()
    done_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    done_at = models.DateTimeField(null=True, blank=True)
    updated_at = changed_at()

    objects = InstallRecordQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["-started_at", "-id"]
        indexes: ClassVar = [models.Index(fields=["started_at", "id"], name="install_records_in_order")]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(done_at__isnull=True, done_by__isnull=True)
                | Q(done_at__isnull=False, done_by__isnull=False),
                name="install_done_says_who_and_when",
            ),
            models.CheckConstraint(
                condition=Q(done_at__isnull=True) | Q(done_at__gte=F("started_at")),
                name="install_is_not_done_before_it_started",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.opening}: {'done' if self.done_at else 'started'}"


class StepRecord(models.Model):
    """One step of the lay order, recorded once."""

    record = models.ForeignKey(InstallRecord, on_delete=models.CASCADE, related_name="steps")
    step = models.CharField(max_length=40)
    recorded_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()
    note = models.CharField(max_length=300, blank=True)
    lot = models.CharField(max_length=60, blank=True, help_text="Lot number of what was used, from the package.")

    class Meta:
        ordering: ClassVar = ["recorded_at", "id"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["record", "step"],
                name="step_recorded_once_per_install",
                violation_error_code="unique",
                violation_error_message="This step is already recorded.",
            )
        ]

    def __str__(self) -> str:
        return self.step

    @property
    def title(self) -> str:
        """What was done, as the lay order of the opening's detail says it."""
        return title_of(StepCode(self.step), self.record.opening.detail.as_facts())


class HourRecord(models.Model):
    """The hours of one person on one opening and date."""

    record = models.ForeignKey(InstallRecord, on_delete=models.CASCADE, related_name="hours")
    person = models.CharField(max_length=80)
    on = DayColumn(within=PAST)
    person_h = models.DecimalField(
        max_digits=7,
        decimal_places=5,
        validators=[MinValueValidator(LEAST_H), MaxValueValidator(MOST_H)],
        help_text="Hours; five places keep every minute.",
    )

    class Meta:
        ordering: ClassVar = ["on", "id"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["record", "person", "on"], name="hours_once_per_person_and_date_of_an_install"
            ),
            models.CheckConstraint(condition=Q(person_h__gt=0, person_h__lte=24), name="hours_fit_in_a_day"),
        ]

    def __str__(self) -> str:
        return f"{self.person}: {say_hours(self.person_h)} {plural('labor hour', self.person_h)}"


class Callback(models.Model):
    """Something wrong with a finished opening, reported later."""

    opening = models.ForeignKey("openings.Opening", on_delete=models.PROTECT, related_name="callbacks")
    reported_on = DayColumn(within=PAST)
    complaint = models.CharField(max_length=500)
    resolved_on = DayColumn(within=PAST, null=True, blank=True)
    resolution = models.CharField(max_length=500, blank=True)
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["-reported_on", "-id"]
        indexes: ClassVar = [models.Index(fields=["reported_on", "id"], name="callbacks_in_order")]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(resolved_on__isnull=True) | Q(resolved_on__gte=F("reported_on")),
                name="callback_is_not_resolved_before_it_is_reported",
                violation_error_message="It is resolved before it was reported.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.opening}: {self.complaint}"
