"""Who signs in."""

from __future__ import annotations

from typing import ClassVar

from django.contrib.auth.models import AbstractUser
from django.db import models
from django.db.models import Q

from jobs.changed import changed_at
from jobs.models.crew import Crew


class Person(AbstractUser):
    """Somebody who signs in, with one role."""

    class Role(models.TextChoices):
        SCHEDULER = "scheduler", "Office scheduler"
        WAREHOUSE = "warehouse", "Warehouse"
        CREW_LEAD = "crew_lead", "Crew lead"
        OWNER = "owner", "Owner"

    role = models.CharField(max_length=12, choices=Role, default=Role.SCHEDULER)
    crew = models.ForeignKey(Crew, null=True, blank=True, on_delete=models.PROTECT, related_name="leads")
    updated_at = changed_at()

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

    @property
    def is_owner(self) -> bool:
        return self.role == Person.Role.OWNER
