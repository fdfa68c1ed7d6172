"""Window schedules as they arrived, what each changed, and how their senders lay them out."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import Q

from jobs.changed import changed_at


class WindowSchedule(models.Model):
    """One file of a job's window schedule, kept byte for byte, and the revision that it made.

    `rows` are the rows as they were read, and `difference` the lines of what was done with them, so that a
    revision can be looked at later however the reader has changed since.
    """

    job = models.ForeignKey("jobs.Job", on_delete=models.PROTECT, related_name="+")
    revision = models.PositiveIntegerField()
    filename = models.CharField(max_length=200)
    content = models.BinaryField()
    sha256 = models.CharField(max_length=64)
    columns = models.JSONField(default=dict, blank=True, help_text="What each heading was understood to mean.")
    layout = models.JSONField(default=dict, blank=True, help_text="Tables and columns as they were read.")
    notes = models.JSONField(default=list, blank=True, help_text="What was passed over or filled in, in words.")
    rows = models.BinaryField(default=bytes, blank=True, help_text="The rows as they were read: JSON, deflated.")
    difference = models.BinaryField(default=bytes, blank=True, help_text="What was done and what was left: the same.")
    counts = models.JSONField(default=dict, blank=True, help_text="How many openings it added, changed, …")
    uploaded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    uploaded_at = models.DateTimeField(auto_now_add=True)
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["job", "-revision"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["job", "revision"], name="schedule_revision_once_per_job"),
            models.CheckConstraint(condition=Q(revision__gte=1), name="schedule_revisions_start_at_1"),
        ]
        indexes: ClassVar = [models.Index(fields=["job", "sha256"], name="schedules_by_file")]

    def __str__(self) -> str:
        return f"{self.filename} (revision {self.revision})"


class SenderLayout(models.Model):
    """How one sender lays out schedules, as somebody settled it for a job; read again with the next file alike."""

    job = models.ForeignKey("jobs.Job", on_delete=models.PROTECT, related_name="+")
    fingerprint = models.CharField(max_length=64, help_text="The same for files with the same headings.")
    layout = models.JSONField(help_text="Tables and columns as they were settled.")
    settled_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    settled_at = models.DateTimeField(auto_now=True)
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["job", "-settled_at"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["job", "fingerprint"], name="layout_once_per_job_and_sender"),
            models.CheckConstraint(condition=~Q(fingerprint=""), name="layout_says_of_which_headings"),
        ]

    def __str__(self) -> str:
        return f"{self.job}: headings {self.fingerprint[:8]}"


class ScheduleDraft(models.Model):
    """A file that was sent and is not taken yet: what is settled about it, and what reading it said.

    Its row, not the queue, says where it stands.
    """

    class State(models.TextChoices):
        WAITING = "waiting"
        READING = "reading"
        READ = "read"
        TAKING = "taking"
        REFUSED = "refused"
        TAKEN = "taken"

    job = models.ForeignKey("jobs.Job", on_delete=models.PROTECT, related_name="+")
    filename = models.CharField(max_length=200)
    content = models.BinaryField()
    sha256 = models.CharField(max_length=64)
    detail = models.CharField(max_length=80, blank=True, help_text="Detail for rows that name none.")
    mapping = models.JSONField(default=dict, blank=True, help_text="What somebody settled about its columns.")
    choice = models.JSONField(default=dict, blank=True, help_text="What is to be applied, once that was chosen.")
    state = models.CharField(max_length=8, choices=State, default=State.WAITING)
    doing = models.CharField(max_length=80, blank=True, help_text="What the worker is at.")
    done_pct = models.PositiveSmallIntegerField(default=0, validators=[MaxValueValidator(100)])
    problem = models.JSONField(default=dict, blank=True, help_text="Why it was refused: a sentence and every fault.")
    outcome = models.BinaryField(default=bytes, blank=True, help_text="What reading it said: JSON, deflated.")
    sent_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    sent_at = models.DateTimeField(auto_now_add=True)
    asked_at = models.DateTimeField(null=True, blank=True, help_text="When a worker was last asked to go on.")
    attempts = models.PositiveSmallIntegerField(
        default=0, help_text="How often reading or taking it was begun and did not come to an end."
    )
    schedule = models.OneToOneField(
        WindowSchedule, null=True, blank=True, on_delete=models.PROTECT, related_name="draft"
    )
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["-sent_at", "-id"]
        constraints: ClassVar = [
            models.CheckConstraint(condition=Q(done_pct__lte=100), name="draft_is_at_most_all_done"),
            models.CheckConstraint(
                condition=Q(state="taken", schedule__isnull=False) | (~Q(state="taken") & Q(schedule__isnull=True)),
                name="taken_draft_is_a_schedule",
            ),
            models.CheckConstraint(condition=~Q(state="refused") | ~Q(problem={}), name="refused_draft_says_why"),
        ]

    def __str__(self) -> str:
        return f"{self.filename} ({self.state})"
