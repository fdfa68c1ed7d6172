"""How far each job is: openings, hours against plan, and when it will end."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from functools import partial

from django.db.models import Count, Sum
from django.utils import timezone

from jobs.calc.calendar import earliest_today, local_date
from jobs.models import Crew, Job
from jobs.queries import DaysOff, days_off_of, is_worked, today_at
from openings.calc.progress import LONGEST_LOOK_BACK, Ending, Works, ending_of
from openings.models import Assignment, HourRecord, InstallRecord, Opening, State
from openings.models.record import OF_A_DONE_INSTALL
from openings.queries.opening import computable, planned_person_h
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
    def left_count(self) -> int:
        return self.openings_count - self.done_count

    @property
    def done_pct(self) -> int:
        return self.done_count * 100 // self.openings_count if self.openings_count else 0


def job_progress(job_id: int | None = None) -> list[JobProgress]:
    """Return the progress of every job, or of one. Nine queries, however many jobs, openings and crews."""
    jobs = Job.objects.all() if job_id is None else Job.objects.filter(pk=job_id)
    progress = {job.pk: JobProgress(job=job) for job in jobs}
    _count_openings(progress)
    _count_hours(progress)
    crews_by_job: dict[int, set[int]] = defaultdict(set)
    _count_days(progress, crews_by_job)
    assigned = _assigned_by_day(progress, crews_by_job)
    worked = _worked_by_crew({crew for crews in crews_by_job.values() for crew in crews})
    for job_id, one in progress.items():
        one.ending = ending_of(
            openings=one.openings_count,
            left=one.left_count,
            void=one.states[State.VOID],
            done_by_day=one.done_by_day,
            today=today_at(one.job),
            assigned_by_day=assigned[job_id],
            works=_any_of([worked[crew] for crew in crews_by_job[job_id]]),
        )
    return list(progress.values())


def _any_of(worked: list[Works]) -> Works:
    return lambda on: any(works(on) for works in worked)


def _worked_by_crew(crews: Collection[int]) -> dict[int, Works]:
    """Return by crew whether it works on a date. Three queries."""
    days_off = days_off_of(crews, since=earliest_today(timezone.now()) - timedelta(days=LONGEST_LOOK_BACK))
    return {crew.pk: partial(_works, crew, days_off[crew.pk]) for crew in Crew.objects.filter(pk__in=crews)}


def _works(crew: Crew, days_off: DaysOff, on: date) -> bool:
    return is_worked(crew, on, days_off)


def _assigned_by_day(progress: dict[int, JobProgress], crews_by_job: dict[int, set[int]]) -> dict[int, Counter[date]]:
    """Return by job how many openings that are not done are assigned to each date; whose crew is off has none."""
    to_do = Assignment.objects.to_do().filter(opening__job__in=progress, opening__is_void=False)
    worked = to_do.filter(crew_day__off_reason="")
    assigned: dict[int, Counter[date]] = defaultdict(Counter)
    counted = worked.order_by().values_list("opening__job", "crew_day__crew", "crew_day__on").annotate(n=Count("pk"))
    for job_id, crew_id, on, count in counted:
        crews_by_job[job_id].add(crew_id)
        assigned[job_id][on] += count
    return assigned


def _count_openings(progress: dict[int, JobProgress]) -> None:
    openings = Opening.objects.filter(job__in=progress).with_state().prefetch_related("detail")
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
        .annotate(all=Sum("person_h"), done=Sum("person_h", filter=OF_A_DONE_INSTALL, default=Decimal(0)))
        .order_by()
    )
    for job_id, recorded_h, done_h in recorded:
        progress[job_id].recorded_person_h = recorded_h
        progress[job_id].recorded_person_h_done = done_h


def _count_days(progress: dict[int, JobProgress], crews_by_job: dict[int, set[int]]) -> None:
    days: dict[int, Counter[date]] = defaultdict(Counter)
    done = InstallRecord.objects.done().filter(opening__job__in=progress, opening__is_void=False)
    for job_id, crew_id, done_at in done.values_list("opening__job", "crew", "done_at"):
        if done_at is None:
            continue  # none is: they are done
        crews_by_job[job_id].add(crew_id)
        days[job_id][local_date(done_at, time_zone=progress[job_id].job.time_zone)] += 1
    for job_id, counts in days.items():
        progress[job_id].done_by_day = dict(sorted(counts.items()))
