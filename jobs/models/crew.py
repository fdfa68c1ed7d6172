"""A truck and who rides in it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import ClassVar, Self

from django.contrib.postgres.fields import ArrayField
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from jobs.calc.calendar import works_on
from jobs.calc.experience import Experience
from jobs.calc.say import weekdays as say_weekdays
from jobs.changed import changed_at


def check_weekdays(weekdays: str) -> None:
    """Raise ValidationError unless `weekdays` is a rising run of ISO weekday digits, such as 12345."""
    if not weekdays or "".join(sorted(set(weekdays))) != weekdays or not set(weekdays) <= set("1234567"):
        raise ValidationError(
            "%(weekdays)s is not a list of weekdays; write the digits 1 (Monday) to 7 in order, such as 12345",
            params={"weekdays": weekdays},
            code="weekdays",
        )


class CrewQuerySet(models.QuerySet["Crew"]):
    def in_service(self) -> Self:
        """Keep those that take work: not retired."""
        return self.filter(retired_at=None)


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
    payload_lb = models.DecimalField(
        max_digits=8,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(80_000)],
        help_text="What the truck may carry, from the label on its door frame.",
    )
    skills = ArrayField(
        models.CharField(max_length=40),
        default=list,
        blank=True,
        size=20,
        help_text="What the crew is trained for, such as lead-safe work or boom lift.",
    )
    retired_at = models.DateTimeField(
        null=True, blank=True, editable=False, help_text="When it was retired: it takes no more work."
    )
    updated_at = changed_at()

    objects = CrewQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["name"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                Lower("truck"),
                condition=Q(retired_at=None),
                name="truck_once_among_crews_in_service",
                violation_error_code="unique",
                violation_error_message="Another crew in service has this truck: give each crew a truck of its own.",
            ),
            models.CheckConstraint(condition=Q(payload_lb=None) | Q(payload_lb__gt=0), name="crew_payload_is_positive"),
            models.CheckConstraint(condition=Q(people_count__gte=1), name="crew_has_people"),
            models.CheckConstraint(condition=Q(shift_h__gt=0, shift_h__lte=24), name="crew_shift_fits_in_a_day"),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def capacity_person_h(self) -> Decimal:
        """Person-hours of one ordinary working day."""
        return self.people_count * self.shift_h

    @property
    def is_retired(self) -> bool:
        return self.retired_at is not None

    @property
    def weekdays_said(self) -> str:
        """The days it works in words, such as Mon to Fri."""
        return say_weekdays(int(digit) for digit in self.weekdays)

    def capacity_in(self, shift_h: Decimal | None) -> Decimal:
        """Return the person-hours of a day on which nobody works longer than `shift_h`, where that is given."""
        return self.people_count * (self.shift_h if shift_h is None else min(self.shift_h, shift_h))

    def works_on(self, on: date, *, off: frozenset[date], extra: frozenset[date] = frozenset()) -> bool:
        return works_on(on, weekdays={int(digit) for digit in self.weekdays}, off=off, extra=extra)
