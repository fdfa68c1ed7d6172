"""How far each job is: openings, hours against plan, and when it will end."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from zoneinfo import ZoneInfo

from django.db.models import Count, Q, Sum

from jobs.models import Job
from jobs.queries import today_at
from openings.calc.progress import Ending, ending_of
from openings.models import Assignment, HourRecord, InstallRecord, Opening
from openings.queries.opening import State, computable, planned_person_h, with_state
from openings.queries.rate import labor_rates


@dataclass(slots=True, kw_only=True)
class JobProgress:
    """One job: openings by state, person-hours planned and recorded, what was done by day, and the ending."""

    job: Job
    states: Counter[str] = field(default_factory=Counter)
    planned_person_h: Decimal = Decimal(0)
    planned_person_h_done: Decimal = Decimal(0)
    recorded_person_h: Decimal = Decimal(0)
    recorded_person_h_done: Decimal = Decimal(0)
    done_by_day: dict[date, int] = field(default_factory=dict)
    ending: Ending | None = None

    @property
    def openings_count(self) -> int:
        """Openings that count: all but the void ones."""
        return sum(count for state, count in self.states.items() if state != State.VOID)

    @property
    def done_by_day_text(self) -> dict[str, int]:
        """`done_by_day` with its dates as ISO 8601 text, as JSON keys are."""
        return {day.isoformat(): count for day, count in self.done_by_day.items()}

    @property
    def done_count(self) -> int:
        return self.states[State.DONE]

    @property
    def done_pct(self) -> int:
        return self.done_count * 100 // self.openings_count if self.openings_count else 0


def job_progress(job_id: int | None = None) -> list[JobProgress]:
    """Return the progress of every job, or of one. Seven queries, however many jobs and openings."""
    jobs = Job.objects.all() if job_id is None else Job.objects.filter(pk=job_id)
    progress = {job.pk: JobProgress(job=job) for job in jobs}
    _count_openings(progress)
    _count_hours(progress)
    _count_days(progress)
    assigned = _assigned_by_day(progress)
    for job_id, one in progress.items():
        one.ending = ending_of(
            left=one.openings_count - one.done_count,
            done_by_day=one.done_by_day,
            today=today_at(one.job),
            assigned_by_day=assigned[job_id],
            works=lambda day: day.isoweekday() <= 5,
        )
    return list(progress.values())


def _assigned_by_day(progress: dict[int, JobProgress]) -> dict[int, dict[date, int]]:
    live = Assignment.objects.filter(opening__job__in=progress, withdrawn_at__isnull=True)
    open_ones = live.filter(opening__install_record__done_at__isnull=True)
    assigned: dict[int, dict[date, int]] = defaultdict(dict)
    counted = open_ones.order_by().values_list("opening__job", "crew_day__on").annotate(n=Count("pk"))
    for job_id, on, count in counted:
        assigned[job_id][on] = count
    return assigned


def _count_openings(progress: dict[int, JobProgress]) -> None:
    openings = with_state(Opening.objects.filter(job__in=progress).prefetch_related("detail"))
    rates = labor_rates()
    for item in computable(openings):
        one, state = progress[item.opening.job_id], item.opening.state
        one.states[state] += 1
        if state == State.VOID:
            continue
        person_h = planned_person_h(item.facts, item.detail, rates, item.conditions)
        one.planned_person_h += person_h
        if state == State.DONE:
            one.planned_person_h_done += person_h


def _count_hours(progress: dict[int, JobProgress]) -> None:
    recorded = (
        HourRecord.objects.filter(record__opening__job__in=progress)
        .values_list("record__opening__job")
        .annotate(
            all=Sum("person_h"), done=Sum("person_h", filter=Q(record__done_at__isnull=False), default=Decimal(0))
        )
        .order_by()
    )
    for job_id, recorded_h, done_h in recorded:
        progress[job_id].recorded_person_h = recorded_h
        progress[job_id].recorded_person_h_done = done_h


def _count_days(progress: dict[int, JobProgress]) -> None:
    days: dict[int, Counter[date]] = defaultdict(Counter)
    done = InstallRecord.objects.filter(opening__job__in=progress, done_at__isnull=False)
    for job_id, done_at in done.values_list("opening__job", "done_at"):
        days[job_id][done_at.astimezone(ZoneInfo(progress[job_id].job.time_zone)).date()] += 1
    for job_id, counts in days.items():
        progress[job_id].done_by_day = dict(sorted(counts.items()))
