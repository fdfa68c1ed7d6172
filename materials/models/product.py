"""Products, which of them a detail uses, and what may touch what."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from decimal import Decimal
from enum import StrEnum
from typing import Any, ClassVar, Self

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q

from jobs.changed import changed_at
from materials.calc.compatibility import Verdict
from materials.calc.parts import MEASURES, Part
from materials.calc.product import Attachment, Measure, ProductFacts
from materials.calc.rolls import KEEP_IN
from materials.calc.served import why_not_sealed
from materials.errors import BadProduct
from openings.calc.terms import FastenerKind
from openings.models.fields import by_field, inches, one_of, pounds


def length(**options: Any) -> models.DecimalField[str | float | Decimal, Decimal]:
    """What is on a roll, in inches, as long as a package may be."""
    return models.DecimalField(
        max_digits=10, decimal_places=5, validators=[MinValueValidator(Decimal("0.00001"))], **options
    )


MOST_SPARE_PCT = 100
"""As much again as is needed (our choice): more is a slip of the pen."""

PART_CHOICES = [(part.value, part.value) for part in Part]


class Products(models.QuerySet["Product"]):
    """Products, and which of them are still chosen."""

    def in_service(self) -> Self:
        """Return those that nobody retired."""
        return self.filter(retired_at__isnull=True)


class Product(models.Model):
    """One thing on the shelf and how it is packed."""

    class Package(models.TextChoices):
        ROLL = "roll"
        CARTRIDGE = "cartridge"
        SAUSAGE = "sausage"
        BOX = "box"
        PIECE = "piece"
        CAN = "can"

    code = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=120)
    measure = models.CharField(max_length=5, choices=[(m.value, m.value) for m in Measure])
    package = models.CharField(max_length=10, choices=Package)
    package_quantity = models.DecimalField(
        max_digits=10,
        decimal_places=5,
        validators=[MinValueValidator(Decimal("0.1"))],
        help_text="What one package holds: inches, cubic inches or pieces, as `measure` says; 0.1 at least.",
    )
    width_in = models.DecimalField(
        max_digits=9,
        decimal_places=5,
        null=True,
        blank=True,
        validators=[MinValueValidator(Decimal("0.00001"))],
    )
    trim_in = models.DecimalField(
        max_digits=6, decimal_places=5, default=Decimal(0), validators=[MinValueValidator(0)],
        help_text="Lost at each cut.",
    )  # fmt: skip
    shortest_remnant_in = length(default=KEEP_IN, help_text="What is left is kept from this length on.")
    chemistry = models.CharField(max_length=60, blank=True, help_text="What it is made of, for what may touch it.")
    min_application_temp_f = models.DecimalField(max_digits=5, decimal_places=1, null=True, blank=True)
    max_application_temp_f = models.DecimalField(max_digits=5, decimal_places=1, null=True, blank=True)
    needs_primer = models.BooleanField(default=False, help_text="Primed before it is laid, as its maker asks.")
    primer_sqft_per_gal = models.DecimalField(
        max_digits=7, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(Decimal("0.01"))],
        help_text="Coverage, where this is a primer.",
    )  # fmt: skip
    exposure_limit_days = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="Days it may lie open to sun and weather."
    )
    shelf_life_days = models.PositiveSmallIntegerField(null=True, blank=True)
    movement_class_pct = models.DecimalField(
        max_digits=5, decimal_places=1, null=True, blank=True, validators=[MinValueValidator(Decimal("0.1"))],
        help_text="Movement that a sealant takes, ± per cent of the joint width (ASTM C920).",
    )  # fmt: skip
    serves_from_in = inches(
        null=True, blank=True,
        help_text="Least of what it serves: gap of a rod, bead or joint of a sealant, else the opening's width.",
    )  # fmt: skip
    serves_up_to_in = inches(null=True, blank=True)
    spare_pct = models.DecimalField(
        max_digits=5, decimal_places=2, default=Decimal(0),
        validators=[MinValueValidator(0), MaxValueValidator(MOST_SPARE_PCT)],
        help_text="Percent taken beyond the exact need, for the whole load. One of percent and pieces, or neither.",
    )  # fmt: skip
    spare_pieces = models.PositiveSmallIntegerField(
        default=0,
        help_text="Pieces taken beyond the exact need, once a truck and once an order: of lengths, cuts of the longest "
        "piece.",
    )
    attachment = models.CharField(
        max_length=24, blank=True, default="", choices=[(one.value, one.value) for one in Attachment],
        help_text="How a strip or membrane is held: self-adhered (AAMA 711) or mechanically attached (AAMA 712).",
    )  # fmt: skip
    fastener_kind = one_of(FastenerKind, blank=True, default="", help_text="Nail or screw, which hold differently.")
    fastener_diameter_in = inches(null=True, blank=True, help_text="Of the shank; given with the penetration.")
    fastener_penetration_in = inches(
        null=True, blank=True, help_text="How far it goes into the framing, beyond all that it passes through."
    )
    allowable_lb = pounds(
        null=True, blank=True, help_text="What one strap or fastener is rated for, as its product approval says."
    )
    retired_at = models.DateTimeField(
        null=True, blank=True, editable=False, help_text="Since when it is chosen no more; its stock and history stay."
    )
    updated_at = changed_at()

    objects = Products.as_manager()

    class Meta:
        ordering: ClassVar = ["code"]
        constraints: ClassVar = [
            models.CheckConstraint(condition=Q(package_quantity__gt=0), name="product_package_holds_something"),
            models.CheckConstraint(condition=Q(trim_in__gte=0), name="product_trim_is_not_negative"),
            models.CheckConstraint(condition=Q(shortest_remnant_in__gt=0), name="product_keeps_remnants_of_a_length"),
            models.CheckConstraint(
                condition=Q(width_in__isnull=True) | Q(width_in__gt=0), name="product_width_is_positive"
            ),
            models.CheckConstraint(
                condition=Q(serves_from_in__isnull=True)
                | Q(serves_up_to_in__isnull=True)
                | Q(serves_from_in__lte=F("serves_up_to_in")),
                name="product_serves_from_less_to_more",
                violation_error_message="The smallest size it serves is above the largest.",
            ),
            models.CheckConstraint(
                condition=Q(min_application_temp_f__isnull=True)
                | Q(max_application_temp_f__isnull=True)
                | Q(min_application_temp_f__lte=F("max_application_temp_f")),
                name="product_temperatures_rise",
                violation_error_message="The lowest temperature to apply it at is above the highest.",
            ),
            models.CheckConstraint(
                condition=Q(spare_pct__gte=0) & Q(spare_pct__lte=MOST_SPARE_PCT),
                name="product_spare_is_no_more_than_the_need",
            ),
            models.CheckConstraint(
                condition=Q(spare_pct=0) | Q(spare_pieces=0),
                name="product_spare_is_in_percent_or_in_pieces",
                violation_error_message="The spare is given in percent and in pieces; give one of the two.",
            ),
            models.CheckConstraint(
                condition=Q(spare_pieces=0) | ~Q(measure=Measure.VOLUME.value),
                name="product_spare_pieces_are_of_what_has_pieces",
                violation_error_message="What comes in cubic inches has no spare pieces; give percent.",
            ),
            models.CheckConstraint(
                condition=Q(fastener_diameter_in__isnull=True, fastener_penetration_in__isnull=True)
                | Q(fastener_diameter_in__gt=0, fastener_penetration_in__gt=0) & ~Q(fastener_kind=""),
                name="product_fastener_is_described_whole",
                violation_error_message="A fastener has its kind, its diameter and its penetration, or none of them.",
            ),
            models.CheckConstraint(
                condition=Q(allowable_lb__isnull=True) | Q(allowable_lb__gt=0), name="product_rating_is_positive"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        for use in self.uses.all() if self.pk else ():
            check_measure(use.part, self)
            check_attachment(use.part, self.name, self.attachment)
        if self.package_quantity is not None and self.trim_in is not None:
            try:
                self.as_facts()
            except BadProduct as error:
                raise by_field(error) from error

    def as_facts(self) -> ProductFacts:
        """Return the calc value.

        Raises:
            BadProduct: its figures contradict one another.
        """
        values = {field.name: getattr(self, field.name) for field in fields(ProductFacts)}
        return facts_of(values)


def facts_of(values: Mapping[str, Any]) -> ProductFacts:
    """Return a product from its columns as they are stored.

    Raises:
        BadProduct: its figures contradict one another.
    """
    read = {name: enum(values[name]) if values.get(name) else None for name, enum in _ENUMS.items()}
    return ProductFacts(**{**values, **read})


_ENUMS: dict[str, type[StrEnum]] = {"measure": Measure, "attachment": Attachment, "fastener_kind": FastenerKind}


def check_measure(part: str, product: Product) -> None:
    """Raise ValidationError where a part is drawn in another measure than the product is packed in."""
    if product.measure != MEASURES[Part(part)]:
        raise ValidationError(
            f"{part} is counted in {MEASURES[Part(part)].plainly}, but {product} is packed in "
            f"{Measure(product.measure).plainly}",
            code="measure",
        )


def check_attachment(part: str, name: str, attachment: str) -> None:
    """Raise ValidationError where a membrane must seal and the product is only fastened."""
    held = Attachment(attachment) if attachment in set(Attachment) else None
    if why := why_not_sealed(Part(part), name, held):
        raise ValidationError(why, code="attachment")


class DetailProduct(models.Model):
    """Which product serves a part: for one detail, or as the standard of the shop where `detail` is empty."""

    detail = models.ForeignKey(
        "openings.InstallationDetail", null=True, blank=True, on_delete=models.CASCADE, related_name="+"
    )
    part = models.CharField(max_length=30, choices=PART_CHOICES)
    product = models.ForeignKey(Product, on_delete=models.PROTECT, related_name="uses")
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["detail", "part", "product"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["detail", "part", "product"],
                nulls_distinct=False,
                name="product_serves_a_part_of_a_detail_once",
            ),
            models.UniqueConstraint(
                fields=["detail", "part"],
                condition=Q(detail__isnull=False),
                name="detail_part_has_one_product",
                violation_error_code="unique",
                violation_error_message="This detail already has a product for this part.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.part}: {self.product}"

    def clean(self) -> None:
        if self.product_id and self.part in MEASURES:
            check_measure(self.part, self.product)
            check_attachment(self.part, self.product.name, self.product.attachment)


class Compatibility(models.Model):
    """Whether two chemistries may touch. What is not listed is to be tested first."""

    chemistry = models.CharField(max_length=60)
    neighbor = models.CharField(max_length=60)
    verdict = models.CharField(max_length=14, choices=[(v.value, v.value) for v in Verdict])
    source = models.CharField(max_length=200, help_text="Document, maker's letter or test that says so.")
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["chemistry", "neighbor"]
        verbose_name_plural = "compatibilities"
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["chemistry", "neighbor"], name="compatibility_once_per_pair"),
            models.CheckConstraint(
                condition=Q(chemistry__lte=F("neighbor")),
                name="compatibility_pair_in_alphabetical_order",
                violation_error_message="Write the pair in alphabetical order, so that it stands once.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.chemistry} and {self.neighbor}: {self.verdict}"


class Evidence(models.Model):
    """A document on two products that touch; the newest on a pair says more than what their chemistries let expect."""

    product = models.ForeignKey(Product, on_delete=models.PROTECT, related_name="+")
    neighbor = models.ForeignKey(Product, on_delete=models.PROTECT, related_name="+")
    verdict = models.CharField(
        max_length=14,
        choices=[(v.value, v.value) for v in (Verdict.COMPATIBLE, Verdict.NOT_COMPATIBLE)],
    )
    document = models.CharField(max_length=200, help_text="Report, maker's letter or field test, and where it is kept.")
    recorded_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField(auto_now_add=True)
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["-recorded_at", "-id"]
        verbose_name_plural = "evidence"
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=~Q(product=F("neighbor")),
                name="evidence_is_on_two_products",
                violation_error_message="A product needs no evidence against itself.",
            ),
            models.CheckConstraint(condition=~Q(document=""), name="evidence_names_its_document"),
        ]

    def __str__(self) -> str:
        return f"{self.product} and {self.neighbor}: {self.verdict}, {self.document}"
