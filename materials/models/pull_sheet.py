"""What the warehouse puts on a crew's truck for a day."""

from __future__ import annotations

from decimal import Decimal
from typing import ClassVar, Self

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Exists, F, OuterRef, Q

from jobs.changed import changed_at
from materials.calc.product import Measure
from materials.models.product import PART_CHOICES, Product, length
from materials.models.remnant import Remnant
from openings.calc.units import US


class PullSheetQuerySet(models.QuerySet["PullSheet"]):
    """Pull sheets, by whether the warehouse goes by them. One is superseded once a newer revision is written."""

    def written(self) -> Self:
        """Return the sheets that a worker has written, superseded ones too."""
        return self.filter(state=PullSheet.State.WRITTEN)

    def newest(self) -> Self:
        """Return the newest revision of each crew day, written or not."""
        return self.exclude(Exists(_newer()))

    def newest_written(self) -> Self:
        """Return the newest written revision of each crew day."""
        return self.written().exclude(_newer_is_written())

    def superseded(self) -> Self:
        """Return the written revisions that are superseded."""
        return self.written().filter(_newer_is_written())

    def with_superseded(self) -> Self:
        """Annotate `is_superseded`."""
        return self.annotate(is_superseded=_newer_is_written())


class PullSheet(models.Model):
    """One revision of the sheet of one crew day. Its row, not the queue, says where it stands."""

    class State(models.TextChoices):
        PENDING = "pending"
        WRITTEN = "written"
        FAILED = "failed"

    crew_day = models.ForeignKey("jobs.CrewDay", on_delete=models.PROTECT, related_name="+")
    revision = models.PositiveIntegerField(default=1)
    state = models.CharField(max_length=8, choices=State, default=State.PENDING)
    requested_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    requested_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, help_text="When a worker was last asked to write it.")
    written_at = models.DateTimeField(null=True)
    failure = models.CharField(max_length=500, blank=True)
    openings = models.ManyToManyField("openings.Opening", related_name="+")
    basis = models.JSONField(
        null=True, blank=True, help_text="The figures that the sheet is compared by; empty where they were not kept."
    )
    rests_on = models.CharField(
        max_length=32, blank=True, help_text="Digest of the rows with which it was last found to say what is so."
    )
    looked_at = models.DateTimeField(null=True, blank=True, help_text="When that was.")
    changes = models.JSONField(default=list, help_text="What differs from the revision before, in words.")
    cautions = models.JSONField(
        null=True, blank=True, help_text="What the sheet warns of, in words; empty where it was not kept."
    )
    load_list = models.JSONField(
        null=True, blank=True, help_text="Tools and small supplies, no stock; empty where they were not kept."
    )
    held = models.JSONField(
        null=True, blank=True, help_text="How strips are held, in words; empty where it was not kept."
    )
    workbook = models.BinaryField(null=True)
    updated_at = changed_at()

    is_superseded: bool
    """Where `with_superseded` annotated it."""

    objects = PullSheetQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["-crew_day__on", "crew_day__crew__name", "-revision"]
        indexes: ClassVar = [
            models.Index(fields=["state"], name="pull_sheets_by_state"),
            models.Index(fields=["requested_at", "id"], name="pull_sheets_in_order"),
        ]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["crew_day", "revision"], name="pull_sheet_revision_once_per_crew_day"),
            models.UniqueConstraint(
                fields=["crew_day"], condition=Q(state="pending"), name="one_pending_pull_sheet_per_crew_day"
            ),
            models.CheckConstraint(
                condition=~Q(state="written") | Q(workbook__isnull=False, written_at__isnull=False),
                name="pull_sheet_has_workbook_once_written",
            ),
            models.CheckConstraint(condition=~Q(state="failed") | ~Q(failure=""), name="failed_pull_sheet_says_why"),
        ]

    def __str__(self) -> str:
        return f"{self.number} revision {self.revision}"

    @property
    def number(self) -> str:
        """The same for every revision of one crew day."""
        return f"P{self.crew_day_id:05d}"

    @property
    def filename(self) -> str:
        return f"pull-sheet-{self.number}-r{self.revision}.xlsx"

    @property
    def missing_products(self) -> list[str]:
        """The parts that no product on the sheet serves."""
        return [line.parts for line in self.lines.all() if line.product_id is None]

    @property
    def is_complete(self) -> bool:
        """Whether every line has a product and is loaded in full, and nothing that is not needed any more is on it."""
        lines = self.lines.all()
        return bool(lines) and all(line.is_loaded for line in lines)


def _newer() -> PullSheetQuerySet:
    return PullSheet.objects.filter(crew_day=OuterRef("crew_day"), revision__gt=OuterRef("revision"))


def _newer_is_written() -> Exists:
    return Exists(_newer().written())


class PullSheetLine(models.Model):
    """One product of a sheet: exactly what the openings draw, the spare beside it, and the packages that hold both.

    A line that draws nothing stands for what an earlier revision had loaded, until it is brought back, or for a part
    of which it cannot be told how much is needed, as no product serves it.
    """

    sheet = models.ForeignKey(PullSheet, on_delete=models.CASCADE, related_name="lines")
    product = models.ForeignKey(
        Product,
        null=True,
        on_delete=models.PROTECT,
        related_name="+",
        help_text="Empty where none serves the part.",
    )
    parts = models.CharField(max_length=300)
    lacks = models.TextField(blank=True, help_text="Why no product stands here, in words.")
    quantity = models.DecimalField(max_digits=12, decimal_places=5, validators=[MinValueValidator(0)])
    measure = models.CharField(max_length=5, choices=[(m.value, m.value) for m in Measure])
    spare = models.DecimalField(
        max_digits=12, decimal_places=5, default=Decimal(0), validators=[MinValueValidator(0)],
        help_text="Taken beyond that, in the same measure.",
    )  # fmt: skip
    spare_reason = models.CharField(max_length=300, blank=True, help_text="How the spare came about, in words.")
    packages = models.PositiveIntegerField(help_text="What holds both.")
    rolls_lower_bound = models.PositiveIntegerField(
        null=True, blank=True, help_text="No plan takes fewer new packages than this; empty where nothing is cut."
    )
    loaded_packages = models.PositiveIntegerField(null=True)

    class Meta:
        ordering: ClassVar = ["sheet", "id"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["sheet", "product"], name="product_once_per_pull_sheet"),
            models.CheckConstraint(
                condition=Q(quantity__gt=0) | Q(loaded_packages__isnull=False) | Q(product__isnull=True),
                name="pull_sheet_line_draws_something_or_is_loaded",
            ),
            models.CheckConstraint(
                condition=Q(product__isnull=False) | Q(loaded_packages__isnull=True),
                name="nothing_is_loaded_without_a_product",
            ),
            models.CheckConstraint(condition=Q(spare__gte=0), name="pull_sheet_line_spare_is_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.packages} × {self.product or self.parts}"

    @property
    def is_loaded(self) -> bool:
        """Whether somebody entered that all of it is on the truck; without a product nothing is.

        A line that draws nothing is done with once what an earlier revision had loaded is brought back.
        """
        if self.product_id is None or self.loaded_packages is None or self.is_to_come_back:
            return False
        return self.loaded_packages >= self.packages

    @property
    def is_to_come_back(self) -> bool:
        """Whether it draws nothing any more and is still on the truck."""
        return not self.quantity and bool(self.loaded_packages)


class PlannedRoll(models.Model):
    """One roll or remnant of a sheet, and, once the truck is back, what came back of it.

    One from which nothing is cut is spare: it stays closed until it is wanted.
    """

    sheet = models.ForeignKey(PullSheet, on_delete=models.CASCADE, related_name="rolls")
    product = models.ForeignKey(Product, on_delete=models.PROTECT, related_name="+")
    number = models.PositiveIntegerField(help_text="Within the product: remnants first, then new rolls.")
    remnant = models.ForeignKey(
        Remnant, null=True, blank=True, on_delete=models.PROTECT, related_name="+", help_text="Empty for a new roll."
    )
    length_in = length(help_text="Before the first cut.")
    left_in = models.DecimalField(
        max_digits=10, decimal_places=5, validators=[MinValueValidator(0)], help_text="As planned, after the last cut."
    )
    came_back_in = models.DecimalField(
        max_digits=10, decimal_places=5, null=True, blank=True, validators=[MinValueValidator(0)],
        help_text="What came back of it in one piece; 0 where nothing worth keeping did.",
    )  # fmt: skip

    class Meta:
        ordering: ClassVar = ["sheet", "product", "number"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["sheet", "product", "number"], name="roll_number_once_per_pull_sheet"),
            models.UniqueConstraint(fields=["sheet", "remnant"], name="remnant_once_per_pull_sheet"),
            models.CheckConstraint(
                condition=Q(left_in__gte=0)
                & (Q(left_in__lt=F("length_in")) | Q(left_in=F("length_in"), remnant__isnull=True)),
                name="roll_is_cut_or_spare_and_not_overdrawn",
            ),
            models.CheckConstraint(
                condition=Q(came_back_in__isnull=True) | (Q(came_back_in__gte=0) & Q(came_back_in__lte=F("length_in"))),
                name="no_more_comes_back_than_went",
                violation_error_message="No more can come back of a roll than was on it.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.remnant or f'{self.product.package} {self.number}'} of {self.sheet}"

    @property
    def is_spare(self) -> bool:
        """Whether nothing is planned to be cut from it."""
        return self.left_in == self.length_in


class Settlement(models.Model):
    """What somebody entered as come back of a roll. The newest entry holds; those before it stay as history."""

    roll = models.ForeignKey(PlannedRoll, on_delete=models.CASCADE, related_name="settlements")
    came_back_in = models.DecimalField(max_digits=10, decimal_places=5, validators=[MinValueValidator(0)])
    entered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    entered_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering: ClassVar = ["-id"]
        constraints: ClassVar = [
            models.CheckConstraint(condition=Q(came_back_in__gte=0), name="what_came_back_is_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{US.say(self.came_back_in)} of {self.roll}"


class RollCut(models.Model):
    """One cut of one roll, in the order in which the roll is cut."""

    roll = models.ForeignKey(PlannedRoll, on_delete=models.CASCADE, related_name="cuts")
    place_in_roll = models.PositiveIntegerField()
    opening = models.ForeignKey("openings.Opening", on_delete=models.PROTECT, related_name="+")
    part = models.CharField(max_length=30, choices=PART_CHOICES)
    length_in = models.DecimalField(max_digits=9, decimal_places=5)

    class Meta:
        ordering: ClassVar = ["roll", "place_in_roll"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["roll", "place_in_roll"], name="one_cut_at_a_place_of_a_roll"),
            models.CheckConstraint(condition=Q(length_in__gt=0), name="cut_has_length"),
        ]

    def __str__(self) -> str:
        return f"{US.say(self.length_in)} for {self.opening}"
