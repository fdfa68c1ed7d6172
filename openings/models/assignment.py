"""Which crew has which opening on which day, and what that makes of the opening."""

from __future__ import annotations

from typing import Any, ClassVar, Self

from django.conf import settings
from django.db import models
from django.db.models import Case, OuterRef, Q, QuerySet, Subquery, Value, When
from django.db.models.lookups import IsNull

from jobs.changed import changed_at
from openings.models.board_act import BoardAct
from openings.models.hold import Hold
from openings.models.record import InstallRecord
from openings.models.state import State

LIVE = Q(withdrawn_at__isnull=True)
TO_DO = LIVE & Q(opening__is_finished=False)


class AssignmentQuerySet(models.QuerySet["Assignment"]):
    """Assignments, by whether they hold."""

    def live(self) -> Self:
        """Return the assignments that nobody withdrew."""
        return self.filter(LIVE)

    def to_do(self) -> Self:
        """Return the live assignments of openings that are not finished."""
        return self.filter(TO_DO)

    def with_state(self) -> Self:
        """Annotate `state` of the opening, one of `State`."""
        return self.annotate(state=state_of("opening__"))


class Assignment(models.Model):
    """An opening given to a crew for a day. Withdrawn ones stay as history."""

    opening = models.ForeignKey("openings.Opening", on_delete=models.PROTECT, related_name="assignments")
    crew_day = models.ForeignKey("jobs.CrewDay", on_delete=models.PROTECT, related_name="+")
    person_h = models.DecimalField(
        max_digits=6, decimal_places=2, help_text="Planned person-hours when it was assigned."
    )
    assigned_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    assigned_at = models.DateTimeField(auto_now_add=True)
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    short_crew_reason = models.CharField(
        max_length=300, blank=True, help_text="Why it goes all the same to a crew of fewer people than its lift takes."
    )
    short_crew_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    given_in = models.ForeignKey(
        BoardAct, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="given"
    )
    taken_in = models.ForeignKey(
        BoardAct, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="taken"
    )
    updated_at = changed_at()

    state: str
    """One of `State`, of the opening, where `with_state` annotated it."""

    objects = AssignmentQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["id"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["opening"],
                condition=LIVE,
                name="opening_assigned_once_at_a_time",
                violation_error_code="unique",
                violation_error_message="This opening is already assigned.",
            ),
            models.CheckConstraint(condition=Q(person_h__gt=0), name="assignment_takes_time"),
            models.CheckConstraint(
                condition=Q(short_crew_reason="", short_crew_by__isnull=True)
                | (~Q(short_crew_reason="") & Q(short_crew_by__isnull=False)),
                name="short_crew_has_a_reason_and_a_person",
            ),
        ]
        indexes: ClassVar = [
            models.Index(
                fields=["crew_day"],
                condition=LIVE,
                name="live_assignments_by_crew_day",
            )
        ]

    def __str__(self) -> str:
        return f"{self.opening} → {self.crew_day}"


def states(path: str = "") -> list[tuple[str, Q]]:
    """Return the states of an opening but the last, `ready`, each with what makes it so; the first that holds counts.

    Args:
        path: where the opening stands seen from the query's model, such as `opening__`.
    """
    me = OuterRef(f"{path}pk")
    return [
        (State.VOID, Q(**{f"{path}is_void": True})),
        (State.DONE, Q(**{f"{path}is_finished": True})),
        (State.HELD, _has(Hold.objects.open(), me)),
        (State.STARTED, _has(InstallRecord.objects.all(), me)),
        (State.ASSIGNED, _has(Assignment.objects.live(), me)),
    ]


def _has(rows: QuerySet[Any], opening: OuterRef) -> Q:
    """Return whether an opening has one of the rows, looked up by an index for each opening that is asked about.

    Of EXISTS the database would rather read every row once, and most are of openings that are finished.
    """
    return Q(IsNull(Subquery(rows.filter(opening=opening).order_by().values("opening")[:1]), False))


def state_of(path: str = "") -> Case:
    """Return where an opening stands, one of `State`, as an expression; `path` as of `states`."""
    return Case(*(When(so, then=Value(state)) for state, so in states(path)), default=Value(State.READY))
