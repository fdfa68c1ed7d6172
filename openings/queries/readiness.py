"""When openings can be planned, and what they wait for."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from django.core.paginator import Page
from django.db.models import Count, Exists, Max, OuterRef, Q

from jobs.models import Job, SiteForecast
from jobs.paging import LongPaginator
from jobs.queries import job_of, today_at, weather_limits
from openings.calc.readiness import (
    FloorLeft,
    Follows,
    Found,
    Obstacle,
    Readiness,
    RuleFacts,
    bad_weather,
    floor_obstacle,
    found_by_rules,
    hold_obstacle,
    readiness_of,
)
from openings.models import (
    Assignment,
    FieldMeasurement,
    Hold,
    InstallRecord,
    Opening,
    ReadyRules,
    TradeBefore,
    Unit,
)
from openings.queries.job import OPENINGS_A_PAGE
from openings.queries.opening import opening_list


def readiness(
    openings: Iterable[Opening], *, together: bool = False, any_weather: bool = False
) -> dict[int, Readiness]:
    """Return by opening when it can be planned and what it waits for. Five queries at most, however many openings.

    What is finished waits for nothing.

    Args:
        openings: with their jobs joined.
        together: they are planned in one act, so none waits for a floor before it as far as that is among them.
        any_weather: bad weather is told of jobs too that do not go by their forecasts.
    """
    asked = list(openings)
    jobs = {opening.job_id: opening.job for opening in asked}
    holds = _open_holds(asked)
    rules = {row.job_id: row for row in ReadyRules.objects.filter(job__in=jobs)}
    bad_days = _bad_days(jobs if any_weather else [pk for pk, row in rules.items() if row.weather])
    ordered = [pk for pk, row in rules.items() if row.floor_order]
    left = _left_by_floor(ordered, but={opening.pk for opening in asked} if together else ())
    found = {}
    for opening in asked:
        today = today_at(jobs[opening.job_id])
        waits = [hold_obstacle(hold.kind, hold.reason, hold.expected_on, today=today) for hold in holds[opening.pk]]
        if opening.job_id in left and not opening.is_finished:
            waits += _of_floor(opening.floor, rules[opening.job_id].floor_order, left[opening.job_id])
        found[opening.pk] = readiness_of(waits, today=today, bad_days=bad_days.get(opening.job_id))
    return found


def readiness_of_opening(opening_id: int) -> Readiness:
    """Return when one opening can be planned and what it waits for. Six queries at most."""
    return readiness(Opening.objects.select_related("job").filter(pk=opening_id))[opening_id]


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningReadiness:
    """An opening, when it can be planned, and what it waits for."""

    opening: Opening
    readiness: Readiness


@dataclass(frozen=True, slots=True, kw_only=True)
class JobReadiness:
    """A page of the openings of a job that are not finished, in the order of the job."""

    job: Job
    page: Page[Opening]
    openings: tuple[OpeningReadiness, ...]


def job_readiness(job_id: int, *, page: int) -> JobReadiness:
    """Return when the openings of a job can be planned that are not finished. Eight queries, however many openings.

    Raises:
        NotFound: there is no such job.
    """
    job = job_of(job_id)
    openings = opening_list().unfinished().filter(job=job)
    shown = LongPaginator(openings, OPENINGS_A_PAGE).get_page(page)
    on_page = list(shown)
    found = readiness(on_page)
    return JobReadiness(
        job=job,
        page=shown,
        openings=tuple(OpeningReadiness(opening=one, readiness=found[one.pk]) for one in on_page),
    )


def openings_where(*, job_id: int | None = None, floor: str | None = None, delivery_id: int | None = None) -> list[int]:
    """Return the ids of the openings that are not finished, of a floor of a job or of a delivery. One query."""
    found = Opening.objects.unfinished()
    if job_id is not None:
        found = found.filter(job=job_id)
    if floor is not None:
        found = found.filter(floor=floor)
    if delivery_id is not None:
        found = found.filter(pk__in=Unit.objects.current().filter(delivery=delivery_id).values("opening"))
    return list(found.order_by("pk").values_list("pk", flat=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class TooEarly:
    """An opening that is assigned to a day on which it is not expected to be ready."""

    assignment: Assignment
    readiness: Readiness

    @property
    def why(self) -> tuple[str, ...]:
        """What it still waits for on that day, as clauses."""
        return self.readiness.why_not_on(self.assignment.crew_day.on)


def assigned_too_early(*, job_id: int | None = None, crew_id: int | None = None) -> list[TooEarly]:
    """Return the openings to do that are assigned to a day on which they are not expected to be ready; the first first.

    Days that are past are left out: what is left there is stranded. A forecast beyond the shop's limits is told even
    of a job that is not held to it. Eight queries at most, however many openings.
    """
    joined = Assignment.objects.to_do().select_related("opening__job", "crew_day__crew")
    if job_id is not None:
        joined = joined.filter(opening__job=job_id)
    if crew_id is not None:
        joined = joined.filter(crew_day__crew=crew_id)
    assignments = [one for one in joined if one.crew_day.on >= today_at(one.opening.job)]
    found = readiness((one.opening for one in assignments), any_weather=True)
    early = [TooEarly(assignment=one, readiness=found[one.opening_id]) for one in assignments]
    return sorted((one for one in early if one.why), key=lambda one: (one.assignment.crew_day.on, one.assignment.pk))


def follows_any_rule(job_id: int) -> bool:
    """Return whether anything of a job's openings is found by a rule. One query."""
    rows = (ReadyRules.objects.filter(job=OuterRef("pk")), TradeBefore.objects.filter(job=OuterRef("pk")))
    of_units = Unit.objects.filter(opening__job=OuterRef("pk"))
    asked = Q(Exists(rows[0])) | Q(Exists(rows[1])) | Q(Exists(of_units))
    return Job.objects.filter(asked, pk=job_id).exists()


def found_by_opening(opening_ids: Collection[int]) -> dict[int, tuple[Found, ...]]:
    """Return by opening what the rules find of it; nothing of what is finished. Six queries."""
    openings = list(Opening.objects.unfinished().filter(pk__in=opening_ids).select_related("job"))
    jobs = {opening.job_id for opening in openings}
    follows = {row.job_id: row.as_follows() for row in ReadyRules.objects.filter(job__in=jobs)}
    before = defaultdict(list)
    for row in TradeBefore.objects.filter(job__in=jobs):
        before[row.job_id].append(row.as_before())
    current = Unit.objects.current().filter(opening__in=opening_ids).select_related("delivery")
    units = {unit.opening_id: unit.as_facts() for unit in current}
    begun = set(InstallRecord.objects.filter(opening__in=opening_ids).values_list("opening", flat=True))
    measured = set(FieldMeasurement.objects.filter(opening__in=opening_ids).values_list("opening", flat=True))
    return {
        opening.pk: found_by_rules(
            RuleFacts(
                follows=follows.get(opening.job_id, Follows()),
                unit=units.get(opening.pk),
                before=before[opening.job_id],
                floor=opening.floor,
                built_year=opening.job.built_year,
                is_measured=opening.pk in measured,
                is_begun=opening.pk in begun,
            )
        )
        for opening in openings
    }


def _open_holds(openings: Collection[Opening]) -> Mapping[int, list[Hold]]:
    holds = defaultdict(list)
    for hold in Hold.objects.open().filter(opening__in=[opening.pk for opening in openings]).order_by("pk"):
        holds[hold.opening_id].append(hold)
    return holds


def _bad_days(job_ids: Collection[int]) -> dict[int, dict[date, str]]:
    """Return by job the days of which the forecast is beyond the shop's limits, and how. Two queries, or none."""
    if not job_ids:
        return {}
    limits = weather_limits()
    found: dict[int, dict[date, str]] = defaultdict(dict)
    for forecast in SiteForecast.objects.filter(job__in=job_ids):
        if said := bad_weather(wind_mph=forecast.wind_mph, rain_in=forecast.rain_in, limits=limits):
            found[forecast.job_id][forecast.on] = said
    return found


def _left_by_floor(job_ids: Collection[int], *, but: Collection[int]) -> dict[int, dict[str, FloorLeft]]:
    """Return by job and floor what is left there. One query, or none."""
    if not job_ids:
        return {}
    found: dict[int, dict[str, FloorLeft]] = {job_id: {} for job_id in job_ids}
    left = Opening.objects.unfinished().with_live().filter(job__in=job_ids).exclude(pk__in=but)
    counted = (
        left.order_by()
        .values_list("job", "floor")
        .annotate(
            left=Count("pk"), unassigned=Count("pk", filter=Q(live__isnull=True)), last_on=Max("live__crew_day__on")
        )
    )
    for job_id, floor, count, unassigned, last_on in counted:
        found[job_id][floor] = FloorLeft(left=count, unassigned=unassigned, last_on=last_on)
    return found


def _of_floor(floor: str, order: list[str], left: Mapping[str, FloorLeft]) -> list[Obstacle]:
    obstacle = floor_obstacle(floor, order, left)
    return [obstacle] if obstacle else []
