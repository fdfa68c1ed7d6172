"""What happened and is told outside of the pages: the outbox."""

from __future__ import annotations

from typing import ClassVar

from django.db import models
from django.db.models import Q
from django.utils import timezone

from jobs.calc.horizon import PLAN
from jobs.calc.notice import SAID, EventKind
from jobs.dates import DayColumn
from jobs.models.crew import Crew
from jobs.models.job import Job
from jobs.models.person import Person

NEW = Q(spread_at__isnull=True)


class EventQuerySet(models.QuerySet["Event"]):
    """Events, by whether anybody was told."""

    def new(self) -> EventQuerySet:
        """Return the events of which no notices and calls were made yet."""
        return self.filter(NEW)


class Event(models.Model):
    """Something that people or other programs want to know, written in the transaction that made it so."""

    kind = models.CharField(max_length=20, choices=[(kind.value, SAID[kind]) for kind in EventKind])
    told_at = models.DateTimeField(default=timezone.now, db_index=True)
    said = models.TextField(max_length=4000, help_text="What happened, in whole sentences.")
    job = models.ForeignKey(Job, null=True, blank=True, on_delete=models.CASCADE, related_name="+")
    crew = models.ForeignKey(Crew, null=True, blank=True, on_delete=models.CASCADE, related_name="+")
    on = DayColumn(within=PLAN, null=True, blank=True, help_text="The day that it is about.")
    about = models.JSONField(default=list, blank=True, help_text="The rows it is about: type, id and name of each.")
    by = models.ForeignKey(
        Person,
        null=True,
        blank=True,
        on_delete=models.SET_NULL,
        related_name="+",
        help_text="Who did it, and so needs no notice of it.",
    )
    spread_at = models.DateTimeField(
        null=True, blank=True, help_text="When notices and calls of webhooks were made of it."
    )

    objects = EventQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["id"]
        indexes: ClassVar = [
            models.Index(fields=["id"], condition=NEW, name="events_to_be_spread"),
            models.Index(fields=["crew", "on"], name="events_by_crew_day"),
        ]

    def __str__(self) -> str:
        return self.said


class EventKey(models.Model):
    """What an event was told of, so that it is told once: the clock finds the same again every minute."""

    event = models.ForeignKey(Event, on_delete=models.CASCADE, related_name="keys")
    key = models.CharField(max_length=200, unique=True)

    class Meta:
        ordering: ClassVar = ["id"]

    def __str__(self) -> str:
        return self.key
