"""The install record of an opening, kept step by step."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from django.db.models import QuerySet
from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.calc.horizon import PAST
from jobs.calc.say import counted, plural
from jobs.calc.say import day as say_day
from jobs.dates import require_within
from jobs.errors import Conflict, Fault, NotFound
from jobs.models import CrewDay, Person
from jobs.queries import today_at
from jobs.services import add, change, require_crew
from openings.calc.lay_order import first_missing, steps_for
from openings.errors import OtherDay, StepOutOfOrder
from openings.models import HourRecord, InstallRecord, Opening, StepRecord
from openings.services.lock import lock_opening


@transaction.atomic
def start_install(*, opening_id: int, by: Person, other_day: bool = False) -> InstallRecord:
    """Start the install of an opening by the crew that it is assigned to.

    Args:
        other_day: it is begun though it is assigned to another day. It stays assigned to that day, whose sheet
            leaves out the material of the steps recorded before.

    Raises:
        NotFound: there is no such opening.
        Conflict: it is void, started already, on hold or not assigned.
        NotAllowed: a crew lead of another crew asks.
        OtherDay: it is assigned to another day than today where the job is, and `other_day` is False.
    """
    opening = lock_opening(opening_id)
    crew_day = _day_to_start(opening, by)
    if not other_day:
        _require_today(opening, crew_day)
    return add(InstallRecord(opening=opening, crew=crew_day.crew, started_by=by, started_at=timezone.now()))


def starting(*, opening_id: int, by: Person) -> tuple[Opening, CrewDay]:
    """Return an opening whose install can be started, and the crew day that it is assigned to. Four queries.

    Raises:
        NotFound, Conflict, NotAllowed: as `start_install`.
    """
    opening = Opening.objects.select_related("job").filter(pk=opening_id).first()
    if opening is None:
        raise NotFound(f"there is no opening {opening_id}")
    return opening, _day_to_start(opening, by)


@transaction.atomic
def record_step(*, record_id: int, step: str, by: Person, note: str = "", lot: str = "") -> StepRecord:
    """Record one install step.

    Raises:
        NotFound: there is no such record.
        NotAllowed: a crew lead of another crew asks.
        StepUnknown: the lay order of this opening has no such step.
        StepOutOfOrder: a step that it lies over is not recorded yet; the error names it.
        Conflict: the install is done, or the opening is on hold.
        ValidationError: the step is recorded already.
    """
    record = _lock_open_record(record_id, by)
    _require_no_hold(record.opening)
    done = set(record.steps.values_list("step", flat=True))
    steps = steps_for(record.opening.detail.as_facts())
    missing = first_missing(step, done=done, steps=steps)
    if missing:
        title = next(one.title for one in steps if one.code == step)
        raise StepOutOfOrder(
            f"“{title}” comes after “{missing.title}”. Record that first",
            about=[about(record.opening), about(record)],
        )
    return add(StepRecord(record=record, step=step, recorded_by=by, recorded_at=timezone.now(), note=note, lot=lot))


@transaction.atomic
def record_hours(*, record_id: int, person: str, on: date, person_h: Decimal, by: Person) -> HourRecord:
    """Record the hours of one person on one date.

    Raises:
        NotFound, NotAllowed, Conflict: as `record_step`.
        DayOutOfReach: the date has not come where the job is, or lies too far back.
        Conflict: this person's hours on that date are recorded already.
    """
    record = _lock_open_record(record_id, by)
    require_within(PAST, on, today=today_at(record.opening.job))
    if earlier := record.hours.filter(person=person, on=on).first():
        raise Conflict(f"the hours on {say_day(on)} are recorded already, {earlier}", about=[about(earlier)])
    return add(HourRecord(record=record, person=person, on=on, person_h=person_h))


def closing(*, record_id: int, by: Person) -> InstallRecord:
    """Return a record that can be closed, its hours read. Nothing is written.

    Raises:
        NotFound, NotAllowed, StepOutOfOrder, Conflict: as `finish_install`.
    """
    record = _open_record(InstallRecord.objects.prefetch_related("hours"), record_id, by)
    _require_complete(record)
    return record


@transaction.atomic
def finish_install(*, record_id: int, by: Person) -> InstallRecord:
    """Close an install whose steps are all recorded.

    Raises:
        NotFound, NotAllowed, Conflict: as `record_step`.
        StepOutOfOrder: a step is missing; the error names the first.
        Conflict: no hours are recorded.
    """
    record = _lock_open_record(record_id, by)
    _require_complete(record)
    Opening.objects.filter(pk=record.opening_id).update(is_finished=True)
    return change(record, done_by=by, done_at=timezone.now())


def _require_complete(record: InstallRecord) -> None:
    _require_no_hold(record.opening)
    done = set(record.steps.values_list("step", flat=True))
    missing = [step for step in steps_for(record.opening.detail.as_facts()) if step.code not in done]
    if missing:
        raise StepOutOfOrder(
            f"“{missing[0].title}” is not recorded yet; "
            f"{counted(len(missing), 'step')} {plural('is', len(missing))} missing",
            about=[about(record.opening), about(record)],
        )
    if not record.hours.exists():
        sentence = "no labor hours are recorded; enter who worked how long, then mark it complete"
        raise Conflict(sentence, about=[about(record.opening), about(record)])


def _require_no_hold(opening: Opening) -> None:
    hold = opening.holds.open().first()
    if hold:
        raise Conflict(f"{opening} is on hold: {hold.kind} ({hold.reason})", about=[about(opening), about(hold)])


def _day_to_start(opening: Opening, by: Person) -> CrewDay:
    if opening.is_void:
        raise Conflict(f"{opening} is void", about=[about(opening)])
    if record := InstallRecord.objects.filter(opening=opening).first():
        raise Conflict(f"the install of {opening} was already started", about=[about(opening), about(record)])
    _require_no_hold(opening)
    assignment = opening.assignments.live().select_related("crew_day__crew").first()
    if assignment is None:
        raise Conflict(f"{opening} is not assigned to a crew; assign it first", about=[about(opening)])
    require_crew(by, assignment.crew_day.crew_id)
    return assignment.crew_day


def _require_today(opening: Opening, crew_day: CrewDay) -> None:
    today = today_at(opening.job)
    if crew_day.on != today:
        planned = f"{opening} is assigned to {crew_day.crew} for {say_day(crew_day.on)}, and today is {say_day(today)}"
        confirm = "confirm that it is started on another day than planned"
        fault = Fault(field="other_day", value="false", detail=confirm)
        sentence = f"{planned}; {confirm}, or have it moved first"
        raise OtherDay(sentence, faults=[fault], about=[about(opening), about(crew_day)])


def _lock_open_record(record_id: int, by: Person) -> InstallRecord:
    """Return an install that is not done, locked after its opening."""
    opening_id = InstallRecord.objects.filter(pk=record_id).values_list("opening", flat=True).first()
    if opening_id is None:
        raise NotFound(f"there is no install record {record_id}")
    lock_opening(opening_id)
    return _open_record(InstallRecord.objects.select_for_update(of=("self",)), record_id, by)


def _open_record(records: QuerySet[InstallRecord], record_id: int, by: Person) -> InstallRecord:
    """Return an install that is not done, for the crew that has its opening now."""
    record = records.select_related("opening__detail", "opening__job").filter(pk=record_id).first()
    if record is None:
        raise NotFound(f"there is no install record {record_id}")
    live = record.opening.assignments.live().values_list("crew_day__crew", flat=True)
    require_crew(by, live.first() or record.crew_id)
    if record.done_at:
        sentence = f"the install of {record.opening} is complete; nothing can be added to it"
        raise Conflict(sentence, about=[about(record.opening), about(record)])
    return record
