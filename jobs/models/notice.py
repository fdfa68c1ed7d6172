"""Who is told what, and the mail that tells it."""

from __future__ import annotations

from typing import ClassVar

from django.db import models
from django.db.models import Q
from django.utils import timezone

from jobs.calc.notice import SAID, EventKind, How
from jobs.models.event import Event
from jobs.models.person import Person

WAITING = Q(sent_at__isnull=True, gave_up_at__isnull=True)


class NoticeChoice(models.Model):
    """How somebody wants to be told of one kind of event; who has chosen nothing is told by role."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    kind = models.CharField(max_length=20, choices=[(kind.value, SAID[kind]) for kind in EventKind])
    how = models.CharField(max_length=12, choices=[(how.value, how.value) for how in How])

    class Meta:
        ordering: ClassVar = ["id"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["person", "kind"], name="notice_chosen_once_per_person_and_kind"),
        ]

    def __str__(self) -> str:
        return f"{self.person}: {self.get_kind_display()} {self.how}"


class LetterQuerySet(models.QuerySet["Letter"]):
    """Letters, by whether they have left."""

    def waiting(self) -> LetterQuerySet:
        """Return the letters that no server has taken yet."""
        return self.filter(WAITING)


class Letter(models.Model):
    """An e-mail, kept until a mail server has taken it."""

    address = models.EmailField()
    subject = models.CharField(max_length=200)
    text = models.TextField()
    person = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.CASCADE, related_name="+", help_text="Whose notices it tells."
    )
    written_at = models.DateTimeField(default=timezone.now)
    try_at = models.DateTimeField(default=timezone.now, help_text="When it is tried next.")
    tries = models.PositiveSmallIntegerField(default=0)
    failure = models.CharField(max_length=300, blank=True, help_text="Why the last try did not succeed.")
    sent_at = models.DateTimeField(null=True, blank=True)
    gave_up_at = models.DateTimeField(null=True, blank=True)
    shown_at = models.DateTimeField(
        null=True, blank=True, help_text="When it was written to the log, where no mail server is set up."
    )

    objects = LetterQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["id"]
        indexes: ClassVar = [
            models.Index(fields=["try_at"], condition=WAITING, name="letters_waiting_by_next_try"),
            models.Index(fields=["person", "written_at"], name="letters_by_person"),
        ]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(sent_at__isnull=True) | Q(gave_up_at__isnull=True), name="letter_sent_is_not_given_up"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.subject} to {self.address}"


class Notice(models.Model):
    """An event as told to one person: on the page of their notices, and in a letter once it is due."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    event = models.ForeignKey(Event, on_delete=models.CASCADE, related_name="+")
    due_at = models.DateTimeField(help_text="When it is mailed, with all else that is due then.")
    letter = models.ForeignKey(Letter, null=True, blank=True, on_delete=models.SET_NULL, related_name="notices")

    class Meta:
        ordering: ClassVar = ["-id"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["person", "event"], name="notice_once_per_person_and_event"),
        ]
        indexes: ClassVar = [
            models.Index(fields=["due_at"], condition=Q(letter__isnull=True), name="notices_not_mailed_by_when_due"),
        ]

    def __str__(self) -> str:
        return f"{self.event} for {self.person}"
