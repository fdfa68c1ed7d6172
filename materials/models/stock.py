"""Where things lie and how they got there."""

from __future__ import annotations

from decimal import Decimal
from typing import ClassVar

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q

from jobs.calc.horizon import EXPIRY, PAST
from jobs.changed import changed_at
from jobs.dates import DayColumn
from materials.models.product import Product


class Place(models.Model):
    """Somewhere stock can lie, come from or end."""

    class Kind(models.TextChoices):
        SUPPLIER = "supplier"
        WAREHOUSE = "warehouse"
        TRUCK = "truck"
        OPENING = "opening"
        SCRAP = "scrap"

    kind = models.CharField(max_length=10, choices=Kind)
    name = models.CharField(max_length=80, unique=True)
    crew = models.OneToOneField("jobs.Crew", null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    opening = models.OneToOneField(
        "openings.Opening", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["kind", "name"]
        indexes: ClassVar = [models.Index(fields=["kind", "name"], name="places_in_order")]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(kind="truck", crew__isnull=False) | (~Q(kind="truck") & Q(crew__isnull=True)),
                name="place_is_a_truck_if_it_has_a_crew",
                violation_error_message="A truck belongs to a crew, and no other place does.",
            ),
            models.CheckConstraint(
                condition=Q(kind="opening", opening__isnull=False) | (~Q(kind="opening") & Q(opening__isnull=True)),
                name="place_is_an_opening_if_it_names_one",
                violation_error_message="A place of kind opening names its opening, and no other place does.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def holds_stock(self) -> bool:
        """Whether what lies here is counted and cannot fall below nothing."""
        return self.kind in (Place.Kind.WAREHOUSE, Place.Kind.TRUCK)


class Lot(models.Model):
    """One batch of a product, by the number on its package."""

    product = models.ForeignKey(Product, on_delete=models.PROTECT, related_name="lots")
    code = models.CharField(max_length=60)
    received_on = DayColumn(within=PAST)
    expires_on = DayColumn(within=EXPIRY, null=True, blank=True)
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["product", "received_on", "code"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["product", "code"], name="lot_code_once_per_product"),
            models.CheckConstraint(
                condition=Q(expires_on__isnull=True) | Q(expires_on__gte=F("received_on")),
                name="lot_does_not_expire_before_it_arrives",
                violation_error_message="It expires before it was received.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.product} {self.code}"


class Movement(models.Model):
    """Packages moved from one place to another. Entries are added, never changed."""

    product = models.ForeignKey(Product, on_delete=models.PROTECT, related_name="movements")
    lot = models.ForeignKey(Lot, null=True, blank=True, on_delete=models.PROTECT, related_name="movements")
    source = models.ForeignKey(Place, on_delete=models.PROTECT, related_name="departures")
    destination = models.ForeignKey(Place, on_delete=models.PROTECT, related_name="arrivals")
    packages = models.DecimalField(max_digits=10, decimal_places=3, validators=[MinValueValidator(Decimal("0.001"))])
    reason = models.CharField(max_length=200, blank=True)
    moved_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    moved_at = models.DateTimeField(auto_now_add=True)
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["-moved_at", "-id"]
        indexes: ClassVar = [models.Index(fields=["moved_at", "id"], name="movements_in_order")]
        constraints: ClassVar = [
            models.CheckConstraint(condition=Q(packages__gt=0), name="movement_moves_something"),
            models.CheckConstraint(
                condition=~Q(source=F("destination")),
                name="movement_goes_somewhere_else",
                violation_error_message="Source and destination are the same place.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.packages} × {self.product}: {self.source} → {self.destination}"
