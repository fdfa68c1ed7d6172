"""How long the drive between two sites takes, as somebody knows it."""

from __future__ import annotations

from typing import ClassVar

from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import F, Q

from jobs.changed import changed_at
from jobs.models.job import Job

LONGEST_DRIVE_MIN = 600


class SiteDrive(models.Model):
    """The minutes from one site to another, or from the yard; the same both ways, so each pair stands once."""

    site = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="drives")
    other = models.ForeignKey(
        Job,
        null=True,
        blank=True,
        on_delete=models.CASCADE,
        related_name="+",
        help_text="The other site; nothing is the yard.",
    )
    minutes = models.PositiveSmallIntegerField(validators=[MaxValueValidator(LONGEST_DRIVE_MIN)])
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["site__code", "other__code"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["site", "other"],
                nulls_distinct=False,
                name="drive_once_per_pair_of_sites",
                violation_error_code="unique",
                violation_error_message="The drive between these two is entered already; change it.",
            ),
            models.CheckConstraint(
                condition=Q(other=None) | Q(site__lt=F("other")),
                name="drive_goes_from_the_older_site",
                violation_error_message="A drive leads to another site.",
            ),
            models.CheckConstraint(condition=Q(minutes__lte=LONGEST_DRIVE_MIN), name="drive_takes_at_most_ten_hours"),
        ]

    def __str__(self) -> str:
        return f"{self.site.code} to {self.other.code if self.other else 'the yard'}: {self.minutes} min"
