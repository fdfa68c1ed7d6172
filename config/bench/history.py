"""Years of invented work, written by SQL: a few openings still to be set, and as many finished ones as asked for."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

from django.db import connection
from django.db.models import Model
from django.utils import timezone

from config.bench.sample import GAP_IN, a_catalogue, a_job
from jobs.models import Crew, CrewDay, Person, SiteForecast
from materials.models import (
    Lot,
    Movement,
    Place,
    PlannedRoll,
    Product,
    PullSheet,
    PullSheetLine,
    Remnant,
    RollCut,
)
from openings.calc.step_code import StepCode
from openings.models import (
    Assignment,
    Callback,
    FieldMeasurement,
    Hold,
    HourRecord,
    InstallationDetail,
    InstallRecord,
    Opening,
    StepRecord,
    WindowSchedule,
)

MOST_TO_DO = 2_000
"""Openings that are not finished: as many as a dozen crews have before them, whatever lies behind them."""

CREWS, OPENINGS_OF_A_JOB, OPENINGS_OF_A_DAY, DAYS_AHEAD = 12, 250, 20, 5


def fill(openings: int) -> None:
    """Write so many openings, numbered from 1, with all that is recorded of them; the last ones are still to be set.

    One row of each thing is made as always, and the others from it. The database checks no foreign keys meanwhile,
    which would take hours, and lets only its superuser do that. Its counts of rows are brought up to date at the end.
    """
    kept = _one_of_each()
    with connection.cursor() as cursor:
        cursor.execute("SET session_replication_role = replica")
    _multiply(kept, openings)
    with connection.cursor() as cursor:
        cursor.execute("SET session_replication_role = origin")
        cursor.execute("VACUUM ANALYZE")


def _one_of_each() -> dict[str, Model]:
    now, today = timezone.now(), timezone.localdate()
    crews = [Crew.objects.create(name=f"Crew {n:02}", truck=f"Truck {n:02}", people_count=3) for n in range(CREWS)]
    by = Person.objects.create(username="office", role=Person.Role.SCHEDULER)
    job = a_job("job-00000")
    schedule = WindowSchedule.objects.create(job=job, revision=1, filename="windows.csv", content=b"Mark", sha256="0")
    detail = InstallationDetail.objects.filter(job=job)[:1].get()
    side_in = Decimal(48)
    unit = {"ro_width_in": side_in, "ro_height_in": side_in, "unit_width_in": side_in - GAP_IN}
    opening = Opening.objects.create(
        job=job, schedule=schedule, detail=detail, mark="W1", schedule_mark="W1", position=1, floor="Level 1",
        unit_height_in=side_in - GAP_IN, **unit,
    )  # fmt: skip
    day = CrewDay.objects.create(crew=crews[0], on=today + timedelta(days=DAYS_AHEAD + 1), capacity_person_h=48)
    record = InstallRecord.objects.create(opening=opening, crew=crews[0], started_by=by, started_at=now)
    sides_in = dict.fromkeys([f"width_{at}_in" for at in ("top", "middle", "bottom")], side_in)
    sides_in |= dict.fromkeys([f"height_{at}_in" for at in ("left", "middle", "right")], side_in)
    sides_in |= dict.fromkeys(["diagonal_rising_in", "diagonal_falling_in"], Decimal("67.88225"))
    a_catalogue()
    strip = Product.objects.filter(measure="in")[:1].get()
    warehouse = Place.objects.create(kind=Place.Kind.WAREHOUSE, name="Warehouse")
    supplier = Place.objects.create(kind=Place.Kind.SUPPLIER, name="Supplier")
    lot = Lot.objects.create(product=strip, code="L1", received_on=today)
    sheet = PullSheet.objects.create(
        crew_day=day, state=PullSheet.State.WRITTEN, requested_at=now, written_at=now, basis="b", workbook=b"a workbook"
    )
    sheet.openings.add(opening)
    roll = PlannedRoll.objects.create(sheet=sheet, product=strip, number=1, length_in=900, left_in=100, came_back_in=0)
    return {
        "by": by,
        "job": job,
        "forecast": SiteForecast.objects.create(job=job, on=today, low_f=40, high_f=60),
        "schedule": schedule,
        "detail": detail,
        "opening": opening,
        "day": day,
        "assignment": Assignment.objects.create(opening=opening, crew_day=day, person_h=3, assigned_by=by),
        "record": record,
        "step": StepRecord.objects.create(record=record, step=StepCode.FASTEN, recorded_by=by, recorded_at=now),
        "hours": HourRecord.objects.create(record=record, person="A. Setter", on=today, person_h=3),
        "measurement": FieldMeasurement.objects.create(
            opening=opening, measured_by=by, is_within_tolerance=True, **sides_in
        ),
        "hold": Hold.objects.create(opening=opening, kind=Hold.Kind.ACCESS, reason="stairs", placed_by=by),
        "callback": Callback.objects.create(opening=opening, reported_on=today, complaint="rattles"),
        "sheet": sheet,
        "line": PullSheetLine.objects.create(
            sheet=sheet, product=strip, parts="sill strip", quantity=800, measure="in", packages=1
        ),
        "listed": PullSheet.openings.through.objects.get(),
        "roll": roll,
        "cut": RollCut.objects.create(roll=roll, place_in_roll=1, opening=opening, part="sill strip", length_in=56),
        "remnant": Remnant.objects.create(product=strip, length_in=100, place=warehouse),
        "lot": lot,
        "movement": Movement.objects.create(
            product=strip, lot=lot, source=supplier, destination=warehouse, packages=1, moved_by=by
        ),
    }


def _multiply(kept: dict[str, Model], openings: int) -> None:
    """Write the rows: opening `n` is number `n` of its table, and so are a day's sheet and its roll."""
    by, to_do = kept["by"].pk, min(MOST_TO_DO, openings // 2)
    last = openings - to_do
    """The last opening that is finished."""
    jobs, days, ahead = openings // OPENINGS_OF_A_JOB, last // OPENINGS_OF_A_DAY, DAYS_AHEAD * CREWS
    finished, is_done, is_void = f"generate_series(2, {last}) n", f"n <= {last} AND n % 50 <> 0", "n % 50 = 0"
    done = f"{finished} WHERE {is_done}"
    job, day = f"1 + n / {OPENINGS_OF_A_JOB}", f"2 + n / {OPENINGS_OF_A_DAY}"
    ago = f"now() - (({last} - n) * interval '1 minute') * (3000.0 * 1440 / {openings})"
    date_of_day = f"CURRENT_DATE - 1 - ({days} + 2 - n) / {CREWS}"
    coming = f"2 + {days} + n % {ahead} + 1"

    _more(kept["job"], f"generate_series(2, {jobs + 1}) n", id="n", code="'job-' || lpad(n::text, 5, '0')")
    of_jobs = f"generate_series(2, {jobs + 1}) n"
    _more(kept["schedule"], of_jobs, id="n", job_id="n", sha256="n::text")
    _more(kept["detail"], of_jobs, id="1000 + n", job_id="n")
    _more(kept["forecast"], f"{of_jobs}, generate_series(0, 4) ahead", job_id="n", on="CURRENT_DATE + ahead")
    _more(
        kept["opening"], f"generate_series(2, {openings}) n", id="n", job_id=job, schedule_id=job, position="n",
        detail_id=f"CASE WHEN n < {OPENINGS_OF_A_JOB} THEN {kept['detail'].pk} ELSE 1000 + {job} END",
        mark="'W' || n", schedule_mark="'W' || n % 20", is_void=f"n <= {last} AND {is_void}",
        is_finished=f"n <= {last}", ro_width_in="48 + n % 20", unit_width_in="47.5 + n % 20",
    )  # fmt: skip
    _more(kept["day"], f"generate_series(2, {days + 2}) n", id="n", crew_id=f"1 + n % {CREWS}", on=date_of_day)
    _more(
        kept["day"], f"generate_series(1, {ahead}) n", id=f"{days + 2} + n", crew_id=f"1 + n % {CREWS}",
        on=f"CURRENT_DATE + (n - 1) / {CREWS}",
    )  # fmt: skip
    _more(kept["assignment"], done, opening_id="n", crew_day_id=day, assigned_at=ago)
    _more(kept["assignment"], f"{done} AND n % 20 = 1", opening_id="n", crew_day_id=day, withdrawn_at=ago)
    _more(
        kept["assignment"], f"generate_series({last + 1}, {last + to_do // 4}) n", opening_id="n", crew_day_id=coming,
        person_h="1",
    )  # fmt: skip
    closed = {"started_at": ago, "done_at": ago, "done_by_id": str(by)}
    _more(kept["record"], done, id="n", opening_id="n", crew_id=f"1 + n % {CREWS}", **closed)
    _more(kept["step"], done, record_id="n", recorded_at=ago)
    _more(kept["hours"], done, record_id="n", on=f"({ago})::date")
    _more(kept["measurement"], f"generate_series(2, {openings}) n", opening_id="n", measured_at=ago)
    _more(
        kept["hold"], f"{done} AND n % 4 = 1", opening_id="n", placed_at=ago, released_at=ago, released_by_id=str(by)
    )  # fmt: skip
    held = f"generate_series({last + to_do // 2}, {last + to_do // 2 + to_do // 8}) n"
    _more(kept["hold"], held, opening_id="n", placed_at="now()")
    _more(kept["callback"], f"{done} AND n % 50 = 7", opening_id="n", reported_on=f"({ago})::date")
    sheets = f"generate_series(2, {days + CREWS}) n"
    _more(kept["sheet"], sheets, id="n", crew_day_id="n")
    products = f"{sheets}, generate_series(1, 3) p"
    loaded = f"CASE WHEN n <= {days + 2} THEN 1 END"
    _more(kept["line"], products, sheet_id="n", product_id="p", loaded_packages=loaded)
    _more(kept["listed"], finished, pullsheet_id=day, opening_id="n")
    _more(kept["roll"], sheets, id="n", sheet_id="n")
    _more(kept["cut"], sheets, roll_id="n", opening_id=f"least({openings}, n * {OPENINGS_OF_A_DAY})")
    _more(kept["remnant"], f"generate_series(2, {days}) n WHERE n % 2 = 0", fate="'cut up'", gone_at="now()")
    _more(kept["lot"], f"generate_series(2, {openings // 1000 + 2}) n", code="'L' || n")
    _more(kept["movement"], f"generate_series(2, {openings // 10}) n", moved_at=ago)


def _more(one: Model, rows: str, **columns: str) -> None:
    """Write rows like `one` of its table, but for the columns given as SQL; `rows` is what they are made from."""
    named = connection.ops.quote_name
    all_names = [field.column for field in one._meta.concrete_fields if field.column]
    names = [name for name in all_names if name in columns or name != "id"]
    values = [columns.get(name, f"kept.{named(name)}") for name in names]
    table, is_one = named(one._meta.db_table), f"kept.id = {one.pk}"
    series, where, condition = rows.partition(" WHERE ")
    with connection.cursor() as cursor:
        cursor.execute(
            f"INSERT INTO {table} ({', '.join(map(named, names))}) SELECT {', '.join(values)} "  # noqa: S608 (our own)
            f"FROM {table} kept, {series} WHERE {is_one}{f' AND {condition}' if where else ''}"
        )
