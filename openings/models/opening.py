"""Openings and the units that go into them."""

from __future__ import annotations

from decimal import Decimal
from typing import ClassVar, Self

from django.conf import settings
from django.contrib.postgres.fields import ArrayField
from django.contrib.postgres.indexes import OpClass
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, FilteredRelation, Q, Value
from django.db.models.functions import Upper

from jobs.changed import changed_at
from openings.calc.as_built import RoughOpening
from openings.calc.code_advice import SiteFacts
from openings.calc.facts import MAX_DESIGN_PRESSURE_PSF, MAX_LITES, MAX_STOREYS_UP, OpeningFacts
from openings.calc.geometry import require_detail
from openings.calc.labor import Conditions
from openings.calc.labor_rates import Access
from openings.calc.terms import FrameMaterial
from openings.calc.unit_parts import PART_OF, require_parts_within
from openings.errors import BadDetail, BadLength
from openings.models.assignment import state_of, states
from openings.models.detail import InstallationDetail
from openings.models.fields import by_field, inches, number, one_of, side
from openings.models.schedule import WindowSchedule
from openings.models.state import State

SITE_COLUMNS = (
    "sill_above_floor_in", "sill_above_grade_in", "clear_width_in", "clear_height_in", "clear_sill_above_floor_in",
    "pane_width_in", "pane_height_in", "is_egress", "is_grade_floor", "is_near_door", "is_near_walkway", "is_wet_area",
)  # fmt: skip
"""The columns of an opening that only the advice on codes asks about, named as in `SiteFacts`."""

WEIGHED_BY = ("weight_lb", "unit_width_in", "unit_height_in", "lites_in", "frame_material")
"""What a confirmed weight was confirmed of: where one of them changes, it is confirmed no more."""


MOST_COPIES = 200
"""So many openings are copied at once; more come from a window schedule (our choice)."""


class OpeningQuerySet(models.QuerySet["Opening"]):
    """Openings, by where they stand."""

    def not_void(self) -> Self:
        """Return the openings that count."""
        return self.filter(is_void=False)

    def void(self) -> Self:
        """Return the openings that do not count."""
        return self.filter(is_void=True)

    def finished(self) -> Self:
        """Return the openings that are done or void."""
        return self.filter(is_finished=True)

    def unfinished(self) -> Self:
        """Return the openings of which something is left to do: few, however many lie behind."""
        return self.filter(is_finished=False)

    def with_state(self) -> Self:
        """Annotate `state`, one of `State`."""
        return self.annotate(state=state_of())

    def with_one_state(self, state: str) -> Self:
        """Annotate `state` as the same of all."""
        return self.annotate(state=Value(state))

    def in_state(self, state: str) -> Self:
        """Return the openings in one state of `State.ALL`, found without working out the state of the others."""
        found = self
        for before, so in states():
            if before == state:
                return found.filter(so)
            found = found.filter(~so)
        return found

    def with_live(self) -> Self:
        """Join the live assignment as `live`, where there is one."""
        condition = Q(assignments__withdrawn_at__isnull=True)
        return self.annotate(live=FilteredRelation("assignments", condition=condition))

    def ready(self) -> Self:
        """Return the openings that can be assigned: those of a closed job cannot."""
        return self.in_state(State.READY).filter(job__closed_at=None)


class Opening(models.Model):
    """One rough opening and the unit that goes into it; sizes in inches, seen from outside."""

    job = models.ForeignKey("jobs.Job", on_delete=models.PROTECT, related_name="+")
    schedule = models.ForeignKey(
        WindowSchedule, null=True, blank=True, on_delete=models.PROTECT, related_name="openings"
    )
    schedule_row = models.PositiveIntegerField(null=True, blank=True)
    mark = models.CharField(max_length=50, help_text="Such as W3-01.")
    schedule_mark = models.CharField(max_length=50, help_text="The mark as the schedule has it, such as W3.")
    position = models.PositiveIntegerField(default=0, help_text="Order within the job, as the schedule has it.")
    ro_width_in = side()
    ro_height_in = side()
    built_ro_width_in = side(
        null=True,
        blank=True,
        help_text="As built, once a measurement is accepted: it counts in place of the drawn one.",
    )
    built_ro_height_in = side(null=True, blank=True)
    built_from = models.OneToOneField(
        "openings.FieldMeasurement",
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
        help_text="The accepted measurement that gave the size as built.",
    )
    unit_width_in = side()
    unit_height_in = side()
    operation = models.CharField(max_length=200, blank=True, help_text="How it opens, such as casement or fixed.")
    floor = models.CharField(max_length=200, blank=True, help_text="Floor or other place in the building.")
    detail = models.ForeignKey(InstallationDetail, on_delete=models.PROTECT, related_name="openings")
    weight_lb = models.DecimalField(
        max_digits=7, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(Decimal("0.01"))]
    )
    weight_confirmed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
        help_text="Who said that the weight is right though glass and frame of that size weigh otherwise.",
    )
    frame_material = one_of(FrameMaterial, blank=True)
    lites_in = ArrayField(
        inches(), size=MAX_LITES, default=list, blank=True, help_text="Thickness of each lite of glass, outside first."
    )
    design_pressure_psf = number(most=MAX_DESIGN_PRESSURE_PSF, null=True, blank=True)
    access = one_of(Access, default=Access.CLEAR)
    storeys_up = models.PositiveSmallIntegerField(
        default=0,
        validators=[MaxValueValidator(MAX_STOREYS_UP)],
        help_text="Storeys above the floor where the truck unloads.",
    )
    sill_above_floor_in = inches(null=True, blank=True)
    sill_above_grade_in = models.DecimalField(
        max_digits=10,
        decimal_places=5,
        null=True,
        blank=True,
        help_text="To what lies below outside; negative in a well.",
    )
    clear_width_in = side(null=True, blank=True, help_text="Clear opening of the unit, for escape.")
    clear_height_in = side(null=True, blank=True)
    clear_sill_above_floor_in = inches(null=True, blank=True)
    pane_width_in = side(null=True, blank=True, help_text="The largest pane; the unit bounds it where not given.")
    pane_height_in = side(null=True, blank=True)
    is_egress = models.BooleanField(null=True, blank=True, help_text="Must serve for emergency escape.")
    is_grade_floor = models.BooleanField(null=True, blank=True)
    is_near_door = models.BooleanField(null=True, blank=True, help_text="A pane within 24 in of a door's edge.")
    is_near_walkway = models.BooleanField(null=True, blank=True, help_text="A walking surface within 36 in.")
    is_wet_area = models.BooleanField(null=True, blank=True)
    remarks = models.CharField(max_length=200, blank=True)
    changed_by_hand = ArrayField(
        models.CharField(max_length=40),
        default=list,
        db_default=[],
        blank=True,
        editable=False,
        help_text="Columns that somebody changed since the schedule gave them; a later revision says so.",
    )
    is_void = models.BooleanField(default=False)
    voided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        null=True,
        blank=True,
        editable=False,
        on_delete=models.PROTECT,
        related_name="+",
        help_text="Who made it void; nobody where a revision of the schedule did. No schedule restores it then.",
    )
    voided_at = models.DateTimeField(null=True, blank=True, editable=False)
    void_why = models.CharField(max_length=200, blank=True, default="", db_default="", editable=False)
    is_finished = models.BooleanField(
        default=False, editable=False, help_text="Void, or its install is done: nothing is left to do."
    )
    updated_at = changed_at()

    state: str
    """One of `State`, where `with_state` annotated it."""

    objects = OpeningQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["job", "position", "id"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["job", "mark"], name="opening_mark_once_per_job"),
            models.CheckConstraint(
                condition=Q(ro_width_in__gt=0, ro_height_in__gt=0, unit_width_in__gt=0, unit_height_in__gt=0),
                name="opening_has_positive_size",
            ),
            models.CheckConstraint(
                condition=Q(unit_width_in__lte=F("ro_width_in"), unit_height_in__lte=F("ro_height_in")),
                name="unit_is_not_larger_than_its_opening",
                violation_error_message="The unit is larger than its rough opening.",
            ),
            models.CheckConstraint(
                condition=Q(built_ro_width_in__isnull=True, built_ro_height_in__isnull=True, built_from__isnull=True)
                | Q(built_ro_width_in__isnull=False, built_ro_height_in__isnull=False, built_from__isnull=False),
                name="opening_as_built_has_both_sides_and_a_measurement",
            ),
            models.CheckConstraint(
                condition=Q(built_ro_width_in__isnull=True)
                | Q(unit_width_in__lte=F("built_ro_width_in"), unit_height_in__lte=F("built_ro_height_in")),
                name="unit_is_not_larger_than_its_opening_as_built",
                violation_error_message="The unit is larger than its rough opening as built.",
            ),
            models.CheckConstraint(
                condition=Q(weight_lb__isnull=True) | Q(weight_lb__gt=0), name="unit_weight_is_positive"
            ),
            models.CheckConstraint(
                condition=Q(weight_confirmed_by__isnull=True) | Q(weight_lb__isnull=False),
                name="confirmed_weight_is_given",
                violation_error_message="There is no weight to confirm.",
            ),
            models.CheckConstraint(
                condition=Q(design_pressure_psf__isnull=True) | Q(design_pressure_psf__gt=0),
                name="unit_design_pressure_is_positive",
            ),
            models.CheckConstraint(
                condition=(Q(clear_width_in__isnull=True) | Q(clear_width_in__lte=F("unit_width_in")))
                & (Q(clear_height_in__isnull=True) | Q(clear_height_in__lte=F("unit_height_in"))),
                name="clear_opening_is_not_larger_than_its_unit",
                violation_error_message="The clear opening is larger than its unit.",
            ),
            models.CheckConstraint(
                condition=(Q(pane_width_in__isnull=True) | Q(pane_width_in__lte=F("unit_width_in")))
                & (Q(pane_height_in__isnull=True) | Q(pane_height_in__lte=F("unit_height_in"))),
                name="pane_is_not_larger_than_its_unit",
                violation_error_message="The pane is larger than its unit.",
            ),
            models.CheckConstraint(condition=Q(is_void=False) | Q(is_finished=True), name="void_opening_is_finished"),
            models.CheckConstraint(
                condition=Q(is_void=True, voided_by__isnull=False, voided_at__isnull=False)
                | Q(voided_by__isnull=True, voided_at__isnull=True, void_why=""),
                name="opening_voided_by_hand_is_void",
            ),
        ]
        indexes: ClassVar = [
            models.Index(OpClass(Upper("mark"), name="text_pattern_ops"), name="openings_by_how_marks_begin"),
            models.Index(
                fields=["job", "position", "id"], include=["is_finished", "is_void"], name="openings_of_job_in_order"
            ),
            models.Index(
                fields=["job", "position", "id"], condition=Q(is_finished=False), name="unfinished_openings_in_order"
            ),
            models.Index(fields=["job", "position", "id"], condition=Q(is_void=True), name="void_openings_in_order"),
        ]

    def __str__(self) -> str:
        return self.mark

    def clean(self) -> None:
        sides = (self.ro_width_in, self.ro_height_in, self.unit_width_in, self.unit_height_in)
        if None in sides or self.detail_id is None:
            return  # the fields say so themselves
        try:
            require_detail(self.as_facts(), self.detail.as_facts())
            require_parts_within({name: getattr(self, name) for name in (*PART_OF, *PART_OF.values())})
        except BadDetail as error:
            raise ValidationError(f"detail {self.detail}: {error.detail}", code=error.code) from error
        except BadLength as error:
            raise by_field(error) from error

    def as_conditions(self) -> Conditions:
        """Return under which conditions the work is done, as far as the opening itself says."""
        return Conditions(storeys_up=self.storeys_up, access=Access(self.access))

    def as_site(self) -> SiteFacts:
        """Return what the advice on codes asks about; the job is joined for the year of the building."""
        values = {name: getattr(self, name) for name in SITE_COLUMNS}
        return SiteFacts(**values, built_year=self.job.built_year)

    @property
    def rough_opening(self) -> RoughOpening:
        """The size of the rough opening, drawn and as built."""
        drawn_in = (self.ro_width_in, self.ro_height_in)
        if self.built_ro_width_in is None or self.built_ro_height_in is None:
            return RoughOpening(drawn_in)
        return RoughOpening(drawn_in, (self.built_ro_width_in, self.built_ro_height_in))

    def as_facts(self) -> OpeningFacts:
        """Return the calc value; the rough opening as built where a measurement of it is accepted."""
        rough_opening = self.rough_opening
        width_in, height_in = rough_opening.in_force_in
        return OpeningFacts(
            ro_width_in=width_in,
            ro_height_in=height_in,
            drawn_ro_in=rough_opening.drawn_in if rough_opening.built_in else None,
            unit_width_in=self.unit_width_in,
            unit_height_in=self.unit_height_in,
            operation=self.operation,
            weight_lb=self.weight_lb,
            frame_material=FrameMaterial(self.frame_material) if self.frame_material else None,
            lites_in=tuple(self.lites_in),
            design_pressure_psf=self.design_pressure_psf,
            sill_above_floor_in=self.sill_above_floor_in,
        )
