"""Writing what a schedule adds and changes, in as many statements for two openings as for ten thousand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from django.db import connection
from psycopg import Copy
from psycopg.sql import SQL, Identifier

from openings.calc.labor_rates import Access
from openings.models import Opening, WindowSchedule
from openings.models.opening import WEIGHED_BY
from openings.plans.plan_schedule import PlannedOpening, SchedulePlan
from openings.plans.row_facts import SIDES
from openings.queries.existing import COMPARED, ExistingOpening
from openings.schedules import Change, DifferenceLine

_UNSAID: dict[str, Any] = {"frame_material": "", "lites_in": "{}", "access": Access.CLEAR.value, "storeys_up": 0}
"""What an opening has of which the file does not speak, in columns that hold something always."""

_OWN = (
    "job_id", "schedule_id", "schedule_row", "mark", "schedule_mark", "position", "is_void", "is_finished",
    "detail_id", "operation", "floor", "remarks", "weight_lb", "weight_confirmed_by_id", *SIDES,
)  # fmt: skip
_FACTS = tuple(name for name in COMPARED if name not in _OWN)
_CHANGING = ("schedule_id", "schedule_row", "detail_id", "weight_confirmed_by_id", "changed_by_hand", *COMPARED)


def copy_openings(
    schedule: WindowSchedule,
    added: Sequence[PlannedOpening],
    at: Sequence[int],
    *,
    details: Mapping[str, int],
    confirmers: Mapping[str, int | None],
) -> None:
    """Write new openings by COPY: a schedule may have tens of thousands.

    Args:
        at: the place of each in the order of the job.
        details: the ids of the job's details by name.
        confirmers: who confirmed the weight, by mark of the opening, where that was needed.
    """
    said = [name for name in _FACTS if name in _UNSAID or any(name in one.row.facts for one in added if one.row.facts)]
    unsaid = [_UNSAID.get(name) for name in said]
    with _copy(Opening._meta.db_table, (*_OWN, *said)) as copy:
        for opening, place in zip(added, at, strict=True):
            row, facts = opening.row, opening.facts
            copy.write_row(
                (
                    schedule.job_id, schedule.pk, row.row, opening.mark, row.mark, place, False, False,
                    details[opening.detail], row.operation, row.floor, row.remarks, row.weight_lb,
                    confirmers.get(opening.mark),
                    facts.ro_width_in, facts.ro_height_in, facts.unit_width_in, facts.unit_height_in,
                    *(_facts_of(row.facts, said) if row.facts else unsaid),
                )
            )  # fmt: skip


def change_openings(
    schedule: WindowSchedule,
    done: Sequence[DifferenceLine],
    existing: Mapping[int, ExistingOpening],
    *,
    details: Mapping[str, int],
    confirmers: Mapping[str, int | None],
) -> None:
    """Write what changed, and mark void what was removed."""
    removed = [line.opening_id for line in done if line.change is Change.REMOVED and line.opening_id is not None]
    if removed:
        Opening.objects.filter(pk__in=removed).update(is_void=True, is_finished=True)
    changed = {
        line.opening_id: line for line in done if line.change is not Change.REMOVED and line.opening_id is not None
    }
    if not changed:
        return
    rows = []
    for opening_id, line in changed.items():
        values = {**existing[opening_id].values, **line.new}
        texts = [_stored(values[name]) for name in COMPARED]
        is_weighed_anew = not set(WEIGHED_BY).isdisjoint(line.new)
        confirmed_by = confirmers.get(line.mark) if is_weighed_anew else existing[opening_id].weight_confirmed_by
        detail_id = details[str(values["detail"])]
        by_hand = tuple(name for name in existing[opening_id].changed_by_hand if name not in line.new)
        rows.append((opening_id, schedule.pk, line.row, detail_id, confirmed_by, _stored(by_hand), *texts))
    restored = [opening_id for opening_id, line in changed.items() if line.change is Change.RESTORED]
    Opening.objects.filter(pk__in=restored).update(is_void=False, is_finished=False)
    _update(_CHANGING, rows)


def places(plan: SchedulePlan, added: Sequence[PlannedOpening]) -> tuple[list[int], list[tuple[int, int]]]:
    """Return the place of each added opening in the order of the job, and those that move, by id.

    The job goes in the order of the file; openings that the file does not have follow. A file that has none of
    the openings of the job follows after all of them.
    """
    pairs = plan.matched.pairs
    met = {pair.existing.opening_id for pair in pairs if pair.existing}
    others = [opening_id for opening_id in plan.existing if opening_id not in met]
    place = 0 if met else max((one.position for one in plan.existing.values()), default=0)
    taken = {one.mark for one in added}
    of_added: dict[str, int] = {}
    of_met: dict[int, int] = {}
    for pair in pairs:
        if pair.existing:
            place += 1
            of_met[pair.existing.opening_id] = place
        elif pair.mark in taken:
            place += 1
            of_added[pair.mark] = place
    if met:
        of_met |= {opening_id: number for number, opening_id in enumerate(others, start=place + 1)}
    moved = [(pk, place) for pk, place in of_met.items() if plan.existing[pk].position != place]
    return [of_added[one.mark] for one in added], moved


def move_openings(moved: Sequence[tuple[int, int]]) -> None:
    """Write the places of openings in the order of their job, by id."""
    if moved:
        _update(("position",), moved)


def _facts_of(facts: Mapping[str, Any], said: Iterable[str]) -> list[Any]:
    return [_stored(facts.get(name, _UNSAID.get(name))) for name in said]


def _stored(value: Any) -> Any:
    """Return a value as COPY takes it: an array as PostgreSQL writes it, which costs a tenth of adapting a list."""
    return f"{{{','.join(map(str, value))}}}" if isinstance(value, tuple) else value


@contextmanager
def _copy(table: str, columns: Iterable[str]) -> Iterator[Copy]:
    statement = SQL("COPY {} ({}) FROM STDIN").format(Identifier(table), SQL(", ").join(map(Identifier, columns)))
    with connection.wrap_database_errors, connection.cursor() as cursor, cursor.copy(statement) as copy:
        yield copy


def _update(columns: Sequence[str], rows: Iterable[Sequence[Any]]) -> None:
    """Write the columns of openings by id: copied beside the table, then taken over in one statement."""
    named = {
        "table": Identifier(Opening._meta.db_table),
        "columns": SQL(", ").join(map(Identifier, columns)),
        "taken_over": SQL(", ").join(
            SQL("{} = revised.{}").format(Identifier(column), Identifier(column)) for column in columns
        ),
    }
    with connection.cursor() as cursor:
        cursor.execute(
            SQL("CREATE TEMPORARY TABLE revised AS SELECT id, {columns} FROM {table} WITH NO DATA").format(**named)
        )
        with _copy("revised", ("id", *columns)) as copy:
            for row in rows:
                copy.write_row(row)
        cursor.execute(
            SQL("UPDATE {table} SET {taken_over} FROM revised WHERE {table}.id = revised.id").format(**named)
        )
        cursor.execute("DROP TABLE revised")
