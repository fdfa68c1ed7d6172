"""Programs elsewhere that are called when something happens."""

from __future__ import annotations

from typing import ClassVar

from django.contrib.postgres.fields import ArrayField
from django.db import models
from django.db.models import Q
from django.utils import timezone

from jobs.calc.notice import SAID, EventKind
from jobs.changed import changed_at
from jobs.models.event import Event
from jobs.models.person import Person

UNDER_WAY = Q(sent_at__isnull=True, gave_up_at__isnull=True)


class WebhookQuerySet(models.QuerySet["Webhook"]):
    """Webhooks, by whether they are called."""

    def called(self) -> WebhookQuerySet:
        """Return the webhooks that nobody stopped."""
        return self.filter(stopped_at=None)


class Webhook(models.Model):
    """An address that is called with each event of the kinds it asks for, signed with its secret."""

    name = models.CharField(max_length=60, unique=True, help_text="What is called, such as payroll.")
    address = models.URLField(max_length=500)
    secret = models.CharField(max_length=64, editable=False)
    kinds = ArrayField(
        models.CharField(max_length=20, choices=[(kind.value, SAID[kind]) for kind in EventKind]),
        default=list,
        blank=True,
        help_text="The kinds of events that it is called with; none named: all.",
    )
    added_by = models.ForeignKey(Person, null=True, blank=True, on_delete=models.SET_NULL, related_name="+")
    added_at = models.DateTimeField(default=timezone.now, editable=False)
    stopped_at = models.DateTimeField(null=True, blank=True, help_text="Since when it is called no more.")
    updated_at = changed_at()

    objects = WebhookQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["name"]

    def __str__(self) -> str:
        return self.name

    @property
    def is_stopped(self) -> bool:
        return self.stopped_at is not None


class WebhookTryQuerySet(models.QuerySet["WebhookTry"]):
    """Calls of webhooks, by how they stand."""

    def under_way(self) -> WebhookTryQuerySet:
        """Return the calls that were neither taken nor given up."""
        return self.filter(UNDER_WAY)


class WebhookTry(models.Model):
    """One event for one webhook: how often it was called with it, what it answered, and when it is called again."""

    webhook = models.ForeignKey(Webhook, on_delete=models.CASCADE, related_name="tries")
    event = models.ForeignKey(Event, on_delete=models.CASCADE, related_name="+")
    tries = models.PositiveSmallIntegerField(default=0)
    try_at = models.DateTimeField(default=timezone.now, help_text="When it is called next.")
    tried_at = models.DateTimeField(null=True, blank=True)
    status = models.PositiveSmallIntegerField(null=True, blank=True, help_text="The status of the last answer.")
    failure = models.CharField(max_length=300, blank=True, help_text="Why the last call did not succeed.")
    sent_at = models.DateTimeField(null=True, blank=True)
    gave_up_at = models.DateTimeField(null=True, blank=True)

    objects = WebhookTryQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["-id"]
        verbose_name_plural = "webhook tries"
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["webhook", "event"], name="event_is_sent_once_per_webhook"),
            models.CheckConstraint(
                condition=Q(sent_at__isnull=True) | Q(gave_up_at__isnull=True), name="webhook_try_sent_is_not_given_up"
            ),
        ]
        indexes: ClassVar = [
            models.Index(fields=["try_at"], condition=UNDER_WAY, name="webhook_tries_by_next_try"),
        ]

    def __str__(self) -> str:
        return f"{self.event} for {self.webhook}"
