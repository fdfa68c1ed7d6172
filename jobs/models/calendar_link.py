"""Addresses from which a calendar elsewhere reads the days of a crew or a job."""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.db import models
from django.db.models import Q
from django.utils import timezone

from jobs.changed import changed_at
from jobs.models.crew import Crew
from jobs.models.job import Job
from jobs.models.person import Person


class CalendarLinkQuerySet(models.QuerySet["CalendarLink"]):
    """Links, by whether they lead somewhere."""

    def followed(self) -> CalendarLinkQuerySet:
        """Return the links that nobody revoked."""
        return self.filter(revoked_at=None)


class CalendarLink(models.Model):
    """A link that nobody guesses. Of its token only the hash is kept, so it is shown once."""

    label = models.CharField(max_length=80, help_text="Who reads it, such as the builder’s site manager.")
    crew = models.ForeignKey(Crew, null=True, blank=True, on_delete=models.CASCADE, related_name="+")
    job = models.ForeignKey(Job, null=True, blank=True, on_delete=models.CASCADE, related_name="+")
    token_sha256 = models.CharField(max_length=64, unique=True, editable=False)
    namespace = models.UUIDField(
        default=uuid.uuid4, editable=False, help_text="What the UIDs of its entries are made with."
    )
    made_by = models.ForeignKey(Person, null=True, blank=True, on_delete=models.SET_NULL, related_name="+")
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    revoked_at = models.DateTimeField(null=True, blank=True)
    read_at = models.DateTimeField(null=True, blank=True, help_text="When a calendar last read it, to the hour.")
    updated_at = changed_at()

    objects = CalendarLinkQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["id"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(crew__isnull=False, job__isnull=True) | Q(crew__isnull=True, job__isnull=False),
                name="calendar_is_of_a_crew_or_a_job",
                violation_error_message="A calendar link is for one crew or for one job: choose one of them.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.of} for {self.label}"

    @property
    def of(self) -> Crew | Job | None:
        """Whose days it shows."""
        return self.crew or self.job

    @property
    def is_revoked(self) -> bool:
        return self.revoked_at is not None
