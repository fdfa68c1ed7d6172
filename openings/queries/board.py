"""Who is where: the crew board. One statement, because this page is opened all day."""

from __future__ import annotations

import json
from datetime import date, timedelta
from functools import lru_cache
from typing import Any

from django.db import connection

from openings.calc.figures import FIVE_PLACES, places_of
from openings.calc.units import CONVERSIONS, US, Units
from openings.models import Assignment

COLUMNS = (
    "assignment", "crew_day", "opening", "mark", "job", "floor", "ro_width_in", "ro_height_in", "built_ro_width_in",
    "built_ro_height_in", "person_h", "state",
)  # fmt: skip
"""What stands in a row of the board, in order."""

_OF_ASSIGNMENTS = (
    "pk", "crew_day", "opening", "opening__mark", "opening__job", "opening__floor", "opening__ro_width_in",
    "opening__ro_height_in", "opening__built_ro_width_in", "opening__built_ro_height_in", "person_h", "state",
)  # fmt: skip
"""The same, as it is read of an assignment with its state."""

LENGTHS = ("ro_width_in", "ro_height_in", "built_ro_width_in", "built_ro_height_in")
METRIC_LENGTHS = {name: f"{name.removesuffix('in')}mm" for name in LENGTHS}
"""What the lengths among them are called in metric."""

_BOARD = """
WITH span AS (
  SELECT d.id, d.crew_id, d."on", d.capacity_person_h, d.off_reason, c.name AS crew_name
  FROM jobs_crewday d JOIN jobs_crew c ON c.id = d.crew_id
  WHERE d."on" BETWEEN %(first)s AND %(last)s
), line (
  id, crew_day_id, opening_id, mark, job_id, floor, ro_width_in, ro_height_in, built_ro_width_in, built_ro_height_in,
  person_h, state
) AS MATERIALIZED (
  {lines}
), taken AS (
  SELECT crew_day_id, sum(person_h) AS person_h FROM line GROUP BY crew_day_id
)
SELECT json_build_object(
  'days', (SELECT json_agg(day::date) FROM generate_series(%(first)s::date, %(last)s::date, '1 day') day),
  'crews', (SELECT coalesce(json_agg(c ORDER BY c.name), '[]') FROM (
    SELECT id, name, truck, people_count, weekdays, shift_h FROM jobs_crew) c),
  'jobs', (SELECT coalesce(json_agg(j ORDER BY j.code), '[]') FROM (
    SELECT id, code, name FROM jobs_job WHERE id IN (SELECT job_id FROM line)) j),
  'crew_days', (SELECT coalesce(json_agg(d ORDER BY d."on", d.crew), '[]') FROM (
    SELECT s.id, s.crew_id AS crew, s."on", s.capacity_person_h,
      coalesce(t.person_h, 0) AS assigned_person_h, s.off_reason
    FROM span s LEFT JOIN taken t ON t.crew_day_id = s.id) d),
  'columns', %(columns)s::json,
  'openings', (SELECT coalesce(json_agg(json_build_array(
    id, crew_day_id, opening_id, mark, job_id, floor, trim_scale(round(ro_width_in * %(per_in)s, %(places)s)),
    trim_scale(round(ro_height_in * %(per_in)s, %(places)s)),
    trim_scale(round(built_ro_width_in * %(per_in)s, %(places)s)),
    trim_scale(round(built_ro_height_in * %(per_in)s, %(places)s)),
    trim_scale(person_h), state)), '[]') FROM line),
  'stranded', %(stranded)s::json
)::text
"""


def crew_board_json(*, first: date, days: int, units: Units = US, stranded: str = "[]") -> str:
    """Return who is where from `first` on, as JSON text.

    Crews, jobs and days stand once; `openings` are rows of values under `columns`. One query, however many
    crews, days and openings.

    Args:
        stranded: a JSON list that goes along, of openings whatever their day.
    """
    last = first + timedelta(days=days - 1)
    lines, values = _lines()
    span = {"first": first, "last": last, "stranded": stranded}
    with connection.cursor() as cursor:
        cursor.execute(_BOARD.replace("{lines}", lines), values | span | _lengths_in(units))
        (board,) = cursor.fetchone()
    return str(board)


@lru_cache(maxsize=1)
def _lines() -> tuple[str, dict[str, Any]]:
    """Return the statement of the board's rows and its values by name: what is live, and its state, as everywhere.

    It is made once, which takes ten times as long as asking it; `first` and `last` are left open.
    """
    open_ones = {date.min: "first", date.max: "last"}
    live = Assignment.objects.live().filter(crew_day__on__range=tuple(open_ones)).with_state()
    lines = live.order_by("crew_day__on", "crew_day__crew__name", "pk").values_list(*_OF_ASSIGNMENTS)
    statement, values = lines.query.sql_with_params()
    names = [open_ones.get(value, f"value_{number}") for number, value in enumerate(values)]
    return statement % tuple(f"%({name})s" for name in names), dict(zip(names, values, strict=True))


def board_columns(units: Units) -> list[str]:
    """Return what stands in a row of the board, in order, as it is called in those units. No query."""
    return [METRIC_LENGTHS.get(name, name) if units.is_metric else name for name in COLUMNS]


def _lengths_in(units: Units) -> dict[str, Any]:
    """Return what the columns are called and how lengths are written in them."""
    columns = json.dumps(board_columns(units))
    if not units.is_metric:
        return {"columns": columns, "per_in": 1, "places": places_of(FIVE_PLACES)}
    length = CONVERSIONS["in"]
    return {"columns": columns, "per_in": length.factor, "places": places_of(length.places)}
