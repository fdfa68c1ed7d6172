"""The firm itself, and the days on which all of it works otherwise."""

from __future__ import annotations

from datetime import time
from decimal import Decimal
from typing import ClassVar, Self

from django.core.validators import MaxValueValidator, MinValueValidator, ProhibitNullCharactersValidator
from django.db import models
from django.db.models import Q
from django.utils import timezone

from jobs.calc.horizon import PLAN
from jobs.calc.say import day as say_day
from jobs.calc.travel import DriveAssumptions
from jobs.calc.us_states import US_STATES
from jobs.changed import changed_at
from jobs.dates import DayColumn
from jobs.models.coordinates import latitude, longitude, on_earth
from jobs.models.job import check_time_zone
from jobs.models.person import Person


class Company(models.Model):
    """The contractor that runs this service, and what its new jobs and crews begin with; one row."""

    THE_ONE = 1

    name = models.CharField(max_length=120)
    us_state = models.CharField(
        max_length=2, choices=list(US_STATES.items()), help_text="Its public holidays are those of this state."
    )
    time_zone = models.CharField(max_length=60, default="America/Denver", validators=[check_time_zone])
    default_cutoff = models.TimeField(
        default=time(14, 0), help_text="The cut-off of a new job, at which its pull sheets are made."
    )
    default_shift_h = models.DecimalField(
        max_digits=4,
        decimal_places=2,
        default=Decimal(8),
        validators=[MinValueValidator(Decimal("0.25")), MaxValueValidator(Decimal(24))],
        help_text="Hours one person of a new crew works on a working day.",
    )
    road_factor = models.DecimalField(
        max_digits=4,
        decimal_places=2,
        default=DriveAssumptions.road_factor,
        validators=[MinValueValidator(Decimal(1)), MaxValueValidator(Decimal(5))],
        help_text="How much longer the road is than the straight line, where nobody entered the minutes of a drive.",
    )
    drive_mph = models.DecimalField(
        max_digits=4,
        decimal_places=1,
        default=DriveAssumptions.mph,
        validators=[MinValueValidator(Decimal(5)), MaxValueValidator(Decimal(75))],
        help_text="How fast a loaded truck gets along, town and highway together.",
    )
    yard_address = models.TextField(max_length=300, blank=True, validators=[ProhibitNullCharactersValidator()])
    yard_latitude = latitude()
    yard_longitude = longitude()

    class Meta:
        verbose_name_plural = "company"
        constraints: ClassVar = [
            models.CheckConstraint(condition=Q(pk=1), name="company_stands_once"),
            models.CheckConstraint(
                condition=Q(default_shift_h__gt=0, default_shift_h__lte=24), name="company_shift_fits_in_a_day"
            ),
            models.CheckConstraint(
                condition=Q(road_factor__gte=1, road_factor__lte=5), name="company_road_is_not_shorter_than_the_line"
            ),
            models.CheckConstraint(condition=Q(drive_mph__gte=5, drive_mph__lte=75), name="company_trucks_get_along"),
            on_earth("yard_latitude", "yard_longitude", name="company_yard_is_on_earth"),
        ]

    def __str__(self) -> str:
        return self.name


class CompanyDayQuerySet(models.QuerySet["CompanyDay"]):
    def off(self) -> Self:
        """Keep the days off."""
        return self.filter(shift_h=0)


class CompanyDay(models.Model):
    """One date on which every crew works otherwise than on its weekdays, as a person confirmed it.

    What a crew's own day says goes before it.
    """

    on = DayColumn(within=PLAN, unique=True)
    name = models.CharField(max_length=80, help_text="Why, such as Thanksgiving Day.")
    shift_h = models.DecimalField(
        max_digits=4,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(24))],
        help_text="Hours one person works at most that day; 0 is a day off, nothing is a day worked as usual.",
    )
    confirmed_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    updated_at = changed_at()

    objects = CompanyDayQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["on"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(shift_h=None) | Q(shift_h__gte=0, shift_h__lte=24), name="company_day_fits_in_a_day"
            ),
            models.CheckConstraint(condition=~Q(name=""), name="company_day_says_why"),
        ]

    def __str__(self) -> str:
        return f"{self.name} on {say_day(self.on, timezone.now().date())}"

    @property
    def is_off(self) -> bool:
        return self.shift_h == 0
