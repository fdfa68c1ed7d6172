"""What is left of rolls, piece by piece."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q

from jobs.changed import changed_at
from materials.calc.product import Measure
from materials.models.product import Product, length
from materials.models.stock import Lot, Place
from openings.calc.units import US


class Remnant(models.Model):
    """One length left of a roll, where it lies, and the crew day that counts on it."""

    class Fate(models.TextChoices):
        CUT_UP = "cut up"
        SCRAPPED = "scrapped"
        MISTAKEN = "mistaken", "never there: entered by mistake"

    product = models.ForeignKey(Product, on_delete=models.PROTECT, related_name="remnants")
    lot = models.ForeignKey(Lot, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    length_in = length()
    place = models.ForeignKey(Place, on_delete=models.PROTECT, related_name="remnants")
    reserved_for = models.ForeignKey(
        "jobs.CrewDay", null=True, blank=True, on_delete=models.PROTECT, related_name="+",
        help_text="The crew day whose pull sheet cuts from it.",
    )  # fmt: skip
    left_of = models.OneToOneField(
        "materials.PlannedRoll", null=True, blank=True, on_delete=models.PROTECT, related_name="left",
        help_text="The roll of a pull sheet that it came back of; empty where it was found.",
    )  # fmt: skip
    fate = models.CharField(max_length=8, choices=Fate, blank=True, help_text="Empty while it lies there.")
    entered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    entered_at = models.DateTimeField(auto_now_add=True)
    gone_at = models.DateTimeField(null=True, blank=True)
    gone_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["product", "length_in", "id"]
        constraints: ClassVar = [
            models.CheckConstraint(condition=Q(length_in__gt=0), name="remnant_has_length"),
            models.CheckConstraint(
                condition=Q(fate="", gone_at__isnull=True) | (~Q(fate="") & Q(gone_at__isnull=False)),
                name="remnant_is_gone_by_a_fate",
            ),
            models.CheckConstraint(
                condition=Q(fate="") | Q(reserved_for__isnull=True), name="nobody_counts_on_a_remnant_that_is_gone"
            ),
        ]
        indexes: ClassVar = [
            models.Index(fields=["product", "place"], condition=Q(fate=""), name="remnants_that_lie_there"),
        ]

    def __str__(self) -> str:
        return f"remnant {self.code}"

    @property
    def code(self) -> str:
        """What is written on it."""
        return f"R{self.pk:05d}"

    def clean(self) -> None:
        if self.product_id and self.product.measure != Measure.LENGTH:
            raise ValidationError({"product": f"{self.product} does not come in lengths; it leaves no remnant"})
        if self.product_id and self.length_in is not None and self.length_in > self.product.package_quantity:
            held = f"a {self.product.package} of {self.product} holds {US.say(self.product.package_quantity)}"
            raise ValidationError({"length_in": f"{held}; a remnant cannot be longer"})
        if self.place_id and not self.place.holds_stock:
            raise ValidationError(
                {"place": f"{self.place} is neither a warehouse nor a truck, where remnants are kept"}
            )
        if self.lot and self.lot.product_id != self.product_id:
            raise ValidationError({"lot": f"lot {self.lot.code} is one of {self.lot.product}, not of {self.product}"})
