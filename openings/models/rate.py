"""The shop's own labor rates."""

from __future__ import annotations

from decimal import Decimal
from typing import ClassVar

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from jobs.calc.say import field_name, plural
from openings.calc.figures import plain
from openings.calc.labor_rates import MOST_PERSON_H, RATE_NAMES


class LaborRate(models.Model):
    """One rate that the shop knows better than the starting rates do."""

    name = models.CharField(max_length=20, unique=True, choices=[(name, name) for name in RATE_NAMES])
    person_h = models.DecimalField(
        max_digits=8,
        decimal_places=5,
        validators=[MinValueValidator(Decimal("0.00001")), MaxValueValidator(MOST_PERSON_H)],
        help_text="Person-hours for one unit of the task.",
    )
    source = models.CharField(max_length=200, help_text="Where it comes from, such as the shop's own records.")

    class Meta:
        ordering: ClassVar = ["name"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(person_h__gt=0, person_h__lte=MOST_PERSON_H), name="labor_rate_takes_some_time"
            ),
            models.CheckConstraint(condition=~Q(source=""), name="labor_rate_says_where_it_comes_from"),
        ]

    def __str__(self) -> str:
        return f"{field_name(self.name)}: {plain(self.person_h)} {plural('labor hour', self.person_h)}"
