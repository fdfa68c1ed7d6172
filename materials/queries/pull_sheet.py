"""Pull sheets, what they are made from, and the staging board."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, TypedDict, cast

from django.db.models import Count, Exists, F, OuterRef, Prefetch, Q, QuerySet

from jobs.calc.calendar import local_date
from jobs.calc.horizon import PLAN
from jobs.models import CrewDay
from jobs.queries import today_on_sites
from materials.models import PlannedRoll, PullSheet, PullSheetLine, Remnant, RollCut
from openings.models import Assignment, Hold, StepRecord
from openings.models.assignment import LIVE, TO_DO

if TYPE_CHECKING:
    from django_stubs_ext import WithAnnotations

    class _Bound(TypedDict):
        is_loaded: bool
        is_surplus: bool
        is_back: bool

    class _Revised(TypedDict):
        is_revised: bool

    class _AskedFor(TypedDict):
        is_asked_for: bool

    class _Listed(TypedDict):
        is_held: bool
        begun: int | None
        done_at: datetime | None

    IssuedSheet = WithAnnotations[PullSheet, _Revised]
    DayToWrite = WithAnnotations[CrewDay, _AskedFor]
    ListedAssignment = WithAnnotations[Assignment, _Listed]


def sheet_list() -> QuerySet[PullSheet]:
    """Return sheets without their workbooks, crew joined, lines with products. Two queries.

    `is_superseded` says that a newer revision is written.
    """
    lines = PullSheetLine.objects.select_related("product")
    sheets = PullSheet.objects.with_superseded().defer("workbook")
    return sheets.select_related("crew_day__crew").prefetch_related(Prefetch("lines", lines))


def superseded_on(on: date) -> QuerySet[PullSheet]:
    """Return the superseded revisions of a day, the oldest first. One query."""
    return PullSheet.objects.superseded().defer("workbook").filter(crew_day__on=on).order_by("revision")


def sheets_listing(opening_id: int) -> QuerySet[PullSheet]:
    """Return the written sheets that list an opening, the newest day first, crew joined. One query.

    `is_superseded` as of `sheet_list`.
    """
    sheets = PullSheet.objects.written().with_superseded().defer("workbook")
    return sheets.filter(openings=opening_id).select_related("crew_day__crew")


@dataclass(frozen=True, slots=True, kw_only=True)
class Issued:
    """The newest written sheet of a crew day, as it binds its openings.

    Args:
        is_on_truck: something of it is loaded, and the truck is not back.
        is_to_bring_back: more is loaded than it needs.
    """

    number: str
    opening_ids: frozenset[int]
    is_on_truck: bool
    is_to_bring_back: bool


def issued_on(crew_day_id: int) -> Issued | None:
    """Return the newest written sheet of a crew day as it binds its openings, None before there is one. Two queries."""
    lines = PullSheetLine.objects.filter(sheet=OuterRef("pk"), loaded_packages__gt=0)
    back = PlannedRoll.objects.filter(sheet=OuterRef("pk"), came_back_in__isnull=False)
    found = PullSheet.objects.newest_written().defer("workbook").filter(crew_day=crew_day_id)
    bound = found.annotate(
        is_loaded=Exists(lines),
        is_surplus=Exists(lines.filter(loaded_packages__gt=F("packages"))),
        is_back=Exists(back),
    )
    sheet = cast("WithAnnotations[PullSheet, _Bound] | None", bound.first())
    if sheet is None:
        return None
    is_on_truck = sheet.is_loaded and not sheet.is_back
    return Issued(
        number=sheet.number,
        opening_ids=frozenset(sheet.openings.order_by().values_list("pk", flat=True)),
        is_on_truck=is_on_truck,
        is_to_bring_back=is_on_truck and sheet.is_surplus,
    )


def pull_sheet_counts() -> dict[str, int]:
    """Return how many pull sheets stand in each state. One query."""
    counted = PullSheet.objects.order_by().values_list("state").annotate(n=Count("pk"))
    return dict.fromkeys(PullSheet.State.values, 0) | dict(counted)


def crew_days_assigned(*, since: date) -> QuerySet[CrewDay]:
    """Return the crew days from `since` on that have an opening or a sheet, crew joined. One query."""
    live = Assignment.objects.live().filter(crew_day=OuterRef("pk"))
    sheets = PullSheet.objects.filter(crew_day=OuterRef("pk"))
    return CrewDay.objects.filter(Exists(live) | Exists(sheets), on__gte=since).select_related("crew")


def issued_for(crew_days: Collection[int]) -> QuerySet[IssuedSheet]:
    """Return the newest written sheet of each of the crew days, as far as it is compared by its digest. One query.

    `is_revised` says that a newer revision is pending.
    """
    pending = PullSheet.objects.filter(crew_day=OuterRef("crew_day"), state=PullSheet.State.PENDING)
    found = PullSheet.objects.newest_written().filter(crew_day__in=crew_days).annotate(is_revised=Exists(pending))
    return cast("QuerySet[IssuedSheet]", found.only("crew_day", "rests_on", "looked_at").order_by("pk"))


def to_be_written(on: date) -> QuerySet[DayToWrite]:
    """Return the crew days of a date, none of them off, whose sheet is still to be written, crew joined. One query.

    `is_asked_for` says that one is pending, of those with openings and no written sheet too.
    """
    sheets = PullSheet.objects.filter(crew_day=OuterRef("pk"))
    return (
        crew_days_assigned(since=on)
        .filter(on=on, off_reason="")
        .annotate(is_asked_for=Exists(sheets.filter(state=PullSheet.State.PENDING)))
        .filter(Q(is_asked_for=True) | ~Exists(sheets.written()))
    )


def idle_days_with_remnants(*, before: date) -> QuerySet[CrewDay]:
    """Return the crew days before a date that count on remnants and set nothing: off, or emptied. One query."""
    live = Assignment.objects.live().filter(crew_day=OuterRef("pk"))
    reserved = Remnant.objects.filter(reserved_for=OuterRef("pk"))
    past = CrewDay.objects.filter(Exists(reserved), on__lt=before)
    return past.filter(~Q(off_reason="") | ~Exists(live)).select_related("crew")


def ready_for(crew_days: Collection[int]) -> tuple[list[ListedAssignment], list[ListedAssignment]]:
    """Return the assignments that sheets of the days list, in order, and the live ones whose opening is on hold.

    To be set are the live ones. A done opening stays where a written sheet of its day lists it, since what it took is
    on the truck; so does one that was begun and is carried on elsewhere, whose assignment is withdrawn, or waits for
    that since the crew is off. One that was done before its day, and other done ones, are in neither list. A crew that
    is off sets nothing more. One query.
    """
    held = Hold.objects.open().filter(opening=OuterRef("opening"))
    listed = PullSheet.objects.written().filter(crew_day=OuterRef("crew_day"), openings=OuterRef("opening"))
    to_do = TO_DO & Q(crew_day__off_reason="")
    is_done = LIVE & ~TO_DO
    found = (
        Assignment.objects.filter(crew_day__in=crew_days, opening__is_void=False)
        .filter(to_do | (is_done | _carried_away() | _stopped_by_a_day_off()) & Exists(listed))
        .annotate(
            is_held=Exists(held),
            begun=F("opening__install_record"),
            done_at=F("opening__install_record__done_at"),
        )
        .select_related("opening__job", "opening__detail", "crew_day", "short_crew_by")
        .order_by("crew_day", "opening__job__code", "opening__position", "pk")
    )
    listed_on = cast("QuerySet[ListedAssignment]", found)
    of_the_day = [a for a in listed_on if a.withdrawn_at or not _is_done_before(a)]
    return (
        [a for a in of_the_day if is_stopped(a) or not a.is_held],
        [a for a in of_the_day if a.is_held and not is_stopped(a)],
    )


def is_stopped(assignment: ListedAssignment) -> bool:
    """Return whether nothing more is set of an opening that `ready_for` lists: the crew is off, or another has it."""
    return assignment.withdrawn_at is not None or (assignment.crew_day.is_off and assignment.done_at is None)


def _stopped_by_a_day_off() -> Q:
    """Return what is true of an assignment to a day off under which steps were recorded, while nobody carries it on."""
    steps = StepRecord.objects.filter(record__opening=OuterRef("opening"), recorded_at__gte=OuterRef("assigned_at"))
    return TO_DO & ~Q(crew_day__off_reason="") & Q(Exists(steps))


def _carried_away() -> Q:
    """Return what is true of the last assignment to a day under which steps were recorded, if it is withdrawn."""
    here = Assignment.objects.filter(opening=OuterRef("opening"), crew_day=OuterRef("crew_day"))
    steps = StepRecord.objects.filter(
        record__opening=OuterRef("opening"),
        recorded_at__gte=OuterRef("assigned_at"),
        recorded_at__lt=OuterRef("withdrawn_at"),
    )
    is_last = ~Exists(here.filter(pk__gt=OuterRef("pk")))
    return ~LIVE & Q(Exists(steps)) & Q(is_last)


def _is_done_before(assignment: ListedAssignment) -> bool:
    """Return whether an opening was done ahead of the day that it is assigned to."""
    if assignment.done_at is None:
        return False
    return local_date(assignment.done_at, time_zone=assignment.opening.job.time_zone) < assignment.crew_day.on


def next_staging_day() -> date:
    """Return the first day after today that has a written sheet, today where only that has one, else tomorrow.

    Sheets beyond the horizon are left out. Two queries.
    """
    today = today_on_sites()
    within = (today, PLAN.last(today))
    days = PullSheet.objects.written().filter(crew_day__on__range=within)
    found = days.order_by("crew_day__on").values_list("crew_day__on", flat=True).distinct()
    return next((on for on in found if on > today), found.first() or today + timedelta(days=1))


def with_rolls(sheets: QuerySet[PullSheet]) -> QuerySet[PullSheet]:
    """Add the rolls of each sheet with product and remnant, and their cuts with opening and job. Two queries more."""
    cuts = RollCut.objects.select_related("opening__job")
    rolls = PlannedRoll.objects.select_related("product", "remnant__place").prefetch_related(Prefetch("cuts", cuts))
    return sheets.prefetch_related(Prefetch("rolls", rolls))


def gone_since(on: date) -> dict[int, list[str]]:
    """Return by newest written sheet of a day the openings on it that were taken off that day since. One query.

    What is loaded for them comes back; a day that is not past gets a revision that says so.
    """
    of_day = Assignment.objects.filter(opening=OuterRef("opening"), crew_day=OuterRef("pullsheet__crew_day"))
    listed = PullSheet.openings.through.objects.filter(
        ~Exists(of_day.live()),
        Exists(of_day.filter(withdrawn_at__gt=OuterRef("pullsheet__written_at"))),
        pullsheet__in=PullSheet.objects.newest_written().filter(crew_day__on=on).values("pk"),
    )
    gone: dict[int, list[str]] = {}
    rows = listed.order_by("opening__job__code", "opening__position", "opening")
    for sheet_id, job, mark in rows.values_list("pullsheet", "opening__job__code", "opening__mark"):
        gone.setdefault(sheet_id, []).append(f"{mark} of {job}")
    return gone
