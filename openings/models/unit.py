"""The units that go into openings, and the deliveries that bring them."""

from __future__ import annotations

from datetime import date
from typing import ClassVar, Self

from django.conf import settings
from django.db import models
from django.db.models import Q, Value
from django.db.models.functions import Coalesce

from jobs.calc.horizon import PAST, PLAN
from jobs.changed import changed_at
from jobs.dates import DayColumn
from openings.calc.readiness import Condition, UnitFacts
from openings.models.fields import one_of

CURRENT = Q(replaced_at__isnull=True)
RECEIVED = Q(received_at__isnull=False)


class DeliveryQuerySet(models.QuerySet["Delivery"]):
    """Deliveries, by whether they have come."""

    def awaited(self) -> Self:
        """Return the deliveries that have not come."""
        return self.exclude(RECEIVED)

    def received(self) -> Self:
        """Return the deliveries that have come."""
        return self.filter(RECEIVED)

    def late(self, today: date) -> Self:
        """Return the deliveries that should have come before today."""
        return self.awaited().filter(expected_on__lt=today)


class Delivery(models.Model):
    """What a supplier brings to a job at one time."""

    job = models.ForeignKey("jobs.Job", on_delete=models.PROTECT, related_name="+")
    supplier = models.CharField(max_length=120, help_text="Who brings it.")
    reference = models.CharField(max_length=60, blank=True, help_text="The supplier's number, as on their papers.")
    expected_on = DayColumn(within=PLAN, null=True, blank=True, help_text="The day it was promised for.")
    received_at = models.DateTimeField(null=True, blank=True, editable=False)
    received_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="+"
    )
    note = models.CharField(max_length=300, blank=True)
    updated_at = changed_at()

    objects = DeliveryQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "deliveries"
        ordering: ClassVar = ["expected_on", "id"]
        constraints: ClassVar = [
            models.CheckConstraint(condition=~Q(supplier=""), name="delivery_names_its_supplier"),
            models.CheckConstraint(
                condition=Q(received_at__isnull=True, received_by__isnull=True)
                | Q(received_at__isnull=False, received_by__isnull=False),
                name="delivery_received_says_who_and_when",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.supplier} {self.reference}".strip()


class UnitQuerySet(models.QuerySet["Unit"]):
    """Units, by where they stand."""

    def current(self) -> Self:
        """Return the units that no other one replaces."""
        return self.filter(CURRENT)

    def awaited(self) -> Self:
        """Return the current units that have not come."""
        return self.current().exclude(RECEIVED)

    def with_due(self) -> Self:
        """Annotate `due_on`: when a unit is to come, by its delivery where it has one."""
        due = Coalesce("delivery__expected_on", "expected_on", Value(None, output_field=models.DateField()))
        return self.annotate(due_on=due)

    def late(self, today: date) -> Self:
        """Return the units that should have come before today, with `due_on`."""
        return self.awaited().with_due().filter(due_on__lt=today)


class Unit(models.Model):
    """One window, ordered for one opening. One that is damaged or wrong and ordered again stays as history."""

    opening = models.ForeignKey("openings.Opening", on_delete=models.PROTECT, related_name="units")
    ordered_on = DayColumn(within=PAST)
    order_ref = models.CharField(max_length=60, blank=True, help_text="Number of the order, as the supplier has it.")
    expected_on = DayColumn(
        within=PLAN, null=True, blank=True, help_text="When it is to come, where no delivery is named that brings it."
    )
    delivery = models.ForeignKey(Delivery, null=True, blank=True, on_delete=models.PROTECT, related_name="units")
    received_at = models.DateTimeField(null=True, blank=True, editable=False)
    received_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="+"
    )
    condition = one_of(Condition, blank=True, help_text="As it was received, or found since.")
    stands_at = models.CharField(max_length=120, blank=True, help_text="Where it stands, such as garage, north wall.")
    note = models.CharField(max_length=300, blank=True, help_text="What is damaged, or what is wrong.")
    replaced_at = models.DateTimeField(null=True, blank=True, editable=False)
    updated_at = changed_at()

    due_on: date | None
    """When it is to come, where `with_due` annotated it."""

    objects = UnitQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["opening__job", "opening__position", "id"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["opening"],
                condition=CURRENT,
                name="one_current_unit_per_opening",
                violation_error_code="unique",
                violation_error_message="A unit is ordered for this opening already.",
            ),
            models.CheckConstraint(
                condition=Q(received_at__isnull=True, received_by__isnull=True, condition="")
                | (Q(received_at__isnull=False, received_by__isnull=False) & ~Q(condition="")),
                name="unit_received_says_who_when_and_how_it_is",
                violation_error_message="Say how a unit is once it is received, and not before.",
            ),
            models.CheckConstraint(
                condition=Q(delivery__isnull=True) | Q(expected_on__isnull=True),
                name="unit_comes_on_the_day_of_its_delivery",
                violation_error_message="A unit comes on the day of its delivery: leave its own day blank.",
            ),
            models.CheckConstraint(
                condition=Q(condition__in=["", Condition.WHOLE.value]) | ~Q(note=""),
                name="unit_that_is_not_whole_says_why",
                violation_error_message="Write in the note what is damaged or wrong.",
            ),
        ]

    def __str__(self) -> str:
        return f"unit of {self.opening}"

    @property
    def is_received(self) -> bool:
        """Whether it has come."""
        return self.received_at is not None

    def as_facts(self) -> UnitFacts:
        """Return the calc value; the delivery is joined."""
        return UnitFacts(
            expected_on=self.delivery.expected_on if self.delivery else self.expected_on,
            condition=Condition(self.condition) if self.condition else None,
            note=self.note,
            is_left_behind=bool(not self.received_at and self.delivery and self.delivery.received_at),
        )
