"""The crew board of 12 crews and 5 days, against nested JSON made by PostgreSQL."""

from __future__ import annotations

from datetime import timedelta

from django.db import connection, transaction

from config.bench.sample import CREWS, DAYS, a_week
from config.bench.timing import Row, compare
from openings.queries import crew_board_json

NESTED = """
SELECT json_agg(crew)::text FROM (
  SELECT c.id, c.name, c.truck, c.people_count, (
    SELECT json_agg(day) FROM (
      SELECT d.id, d."on", d.capacity_person_h, d.off_reason, (
        SELECT json_agg(line) FROM (
          SELECT a.id AS assignment, a.person_h, o.id AS opening, o.mark, o.floor, o.ro_width_in, o.ro_height_in,
            (SELECT row_to_json(j) FROM (SELECT id, code, name FROM jobs_job WHERE id = o.job_id) j) AS job,
            CASE
              WHEN o.is_void THEN 'void'
              WHEN r.done_at IS NOT NULL THEN 'done'
              WHEN EXISTS (SELECT 1 FROM openings_hold h WHERE h.opening_id = o.id AND h.released_at IS NULL)
                THEN 'on hold'
              WHEN r.id IS NOT NULL THEN 'started'
              ELSE 'assigned'
            END AS state
          FROM openings_assignment a
          JOIN openings_opening o ON o.id = a.opening_id
          LEFT JOIN openings_installrecord r ON r.opening_id = o.id
          WHERE a.crew_day_id = d.id AND a.withdrawn_at IS NULL ORDER BY a.id
        ) line
      ) AS openings
      FROM jobs_crewday d WHERE d.crew_id = c.id AND d."on" BETWEEN %s AND %s ORDER BY d."on"
    ) day
  ) AS days
  FROM jobs_crew c ORDER BY c.name
) crew
"""


def crew_board_row() -> Row:
    """Measure the board's reading and writing as JSON."""
    with transaction.atomic():
        first = a_week()
        last = first + timedelta(days=DAYS - 1)
        with connection.cursor() as cursor:
            cursor.execute("ANALYZE")

        def ours() -> bytes:
            return crew_board_json(first=first, days=DAYS).encode()

        def bare() -> bytes:
            with connection.cursor() as cursor:
                cursor.execute(NESTED, (first, last))
                row: tuple[str] = cursor.fetchone()
            return row[0].encode()

        row = compare(
            name=f"crew board, {CREWS} crews × {DAYS} days",
            reference="psycopg, nested json_agg of the same rows",
            aim=1,
            ours=ours,
            bare=bare,
            turns=25,
        )
        transaction.set_rollback(True)
    return row
