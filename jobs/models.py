"""Who works where and when."""

from __future__ import annotations

from datetime import date, time
from decimal import Decimal
from typing import ClassVar
from zoneinfo import available_timezones

from django.contrib.auth.models import AbstractUser
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator, ProhibitNullCharactersValidator
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from jobs.calc.calendar import works_on
from jobs.calc.experience import Experience
from jobs.calc.horizon import PLAN
from jobs.calc.say import day as say_day
from jobs.calc.weather import WeatherLimits
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


def check_weekdays(weekdays: str) -> None:
    """Raise ValidationError unless `weekdays` is a rising run of ISO weekday digits, such as 12345."""
    if not weekdays or "".join(sorted(set(weekdays))) != weekdays or not set(weekdays) <= set("1234567"):
        raise ValidationError(
            "%(weekdays)s is not a list of weekdays; write the digits 1 (Monday) to 7 in order, such as 12345",
            params={"weekdays": weekdays},
            code="weekdays",
        )


class Crew(models.Model):
    """A truck and the people who ride in it."""

    name = models.CharField(max_length=60, unique=True)
    truck = models.CharField(max_length=60)
    people_count = models.PositiveSmallIntegerField(validators=[MinValueValidator(1), MaxValueValidator(20)])
    shift_h = models.DecimalField(
        max_digits=4,
        decimal_places=2,
        default=Decimal(8),
        validators=[MinValueValidator(Decimal("0.25")), MaxValueValidator(Decimal(24))],
        help_text="Hours one person works on a working day.",
    )
    weekdays = models.CharField(
        max_length=7,
        default="12345",
        validators=[check_weekdays],
        help_text="ISO 8601 weekday digits worked, 1 is Monday.",
    )
    experience = models.CharField(
        max_length=12,
        choices=[(experience.value, experience.value) for experience in Experience],
        default=Experience.PROFESSIONAL.value,
        help_text="How used the crew is to this work; hours are planned by it.",
    )
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["name"]
        constraints: ClassVar = [
            models.CheckConstraint(condition=Q(people_count__gte=1), name="crew_has_people"),
            models.CheckConstraint(condition=Q(shift_h__gt=0, shift_h__lte=24), name="crew_shift_fits_in_a_day"),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def capacity_person_h(self) -> Decimal:
        """Person-hours of one ordinary working day."""
        return self.people_count * self.shift_h

    def works_on(self, on: date, *, off: frozenset[date], extra: frozenset[date] = frozenset()) -> bool:
        return works_on(on, weekdays={int(digit) for digit in self.weekdays}, off=off, extra=extra)


class Person(AbstractUser):
    """Somebody who signs in, with one role."""

    class Role(models.TextChoices):
        SCHEDULER = "scheduler", "Office scheduler"
        WAREHOUSE = "warehouse", "Warehouse"
        CREW_LEAD = "crew_lead", "Crew lead"
        OWNER = "owner", "Owner"

    role = models.CharField(max_length=12, choices=Role, default=Role.SCHEDULER)
    crew = models.ForeignKey(Crew, null=True, blank=True, on_delete=models.PROTECT, related_name="leads")

    class Meta(AbstractUser.Meta):
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=~Q(role="crew_lead") | Q(crew__isnull=False),
                name="crew_lead_belongs_to_a_crew",
                violation_error_message="A crew lead belongs to a crew: choose one.",
            ),
        ]

    def __str__(self) -> str:
        return self.get_full_name() or self.username


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


class ShopWeatherLimits(models.Model):
    """The weather from which on this shop sets no windows, as it says itself; one row, where it says anything."""

    THE_ONE = 1

    most_wind_mph = models.DecimalField(max_digits=5, decimal_places=1, validators=[MinValueValidator(0)])
    wind_source = models.CharField(max_length=200, help_text="Who says so, such as the shop's safety plan.")
    most_rain_in = models.DecimalField(max_digits=8, decimal_places=5, validators=[MinValueValidator(0)])
    rain_source = models.CharField(max_length=200, help_text="Who says so, such as a maker's instructions.")

    class Meta:
        verbose_name_plural = "shop weather limits"
        constraints: ClassVar = [
            models.CheckConstraint(condition=Q(pk=1), name="weather_limits_stand_once"),
            models.CheckConstraint(
                condition=Q(most_wind_mph__gte=0, most_rain_in__gte=0), name="weather_limits_are_not_negative"
            ),
            models.CheckConstraint(
                condition=~Q(wind_source="") & ~Q(rain_source=""), name="weather_limits_say_where_they_come_from"
            ),
        ]

    def __str__(self) -> str:
        return f"wind {self.most_wind_mph} mph, rain {self.most_rain_in} in. a day"

    def as_limits(self) -> WeatherLimits:
        """Return the calc value."""
        return WeatherLimits(
            most_wind_mph=self.most_wind_mph,
            wind_source=self.wind_source,
            most_rain_in=self.most_rain_in,
            rain_source=self.rain_source,
        )


class FirstAnswer(models.Model):
    """The answer to what somebody sent with an `Idempotency-Key`: sent again, it is answered by this."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    key = models.CharField(max_length=255)
    asked = models.CharField(max_length=64, help_text="SHA-256 of the method, the address and the body.")
    status = models.PositiveSmallIntegerField()
    headers = models.JSONField(default=dict, blank=True)
    body = models.BinaryField(default=bytes, blank=True)
    answered_at = models.DateTimeField(auto_now_add=True, db_index=True)

    class Meta:
        ordering: ClassVar = ["id"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["person", "key"], name="key_is_answered_once_per_person"),
        ]

    def __str__(self) -> str:
        return f"{self.status} to {self.key}"
