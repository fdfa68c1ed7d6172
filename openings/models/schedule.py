"""Window schedules as they arrived."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models
from django.db.models import Q


class WindowSchedule(models.Model):
    """One file of a job's window schedule, kept byte for byte."""

    job = models.ForeignKey("jobs.Job", on_delete=models.PROTECT, related_name="+")
    revision = models.PositiveIntegerField()
    filename = models.CharField(max_length=200)
    content = models.BinaryField()
    sha256 = models.CharField(max_length=64)
    columns = models.JSONField(default=dict, blank=True, help_text="What each heading was understood to mean.")
    notes = models.JSONField(default=list, blank=True, help_text="What was passed over or filled in, in words.")
    uploaded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    uploaded_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering: ClassVar = ["job", "-revision"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["job", "revision"], name="schedule_revision_once_per_job"),
            models.UniqueConstraint(fields=["job", "sha256"], name="schedule_file_once_per_job"),
            models.CheckConstraint(condition=Q(revision__gte=1), name="schedule_revisions_start_at_1"),
        ]

    def __str__(self) -> str:
        return f"{self.filename} (revision {self.revision})"
