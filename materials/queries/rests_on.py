"""What pull sheets rest on: a digest of every row that they are put together from. One statement, however many days."""

from __future__ import annotations

from collections.abc import Collection

from django.db import connection

# A row is told by its version: PostgreSQL gives each a new place (`ctid`) or writer (`xmin`) when it is changed, while
# a lock changes neither. Of what changes for other reasons (a sign-in, a sheet that is sent) the columns that count are
# taken instead. Too many rows cost a look too many; one too few would miss a change, so a test holds the tables against
# those that a sheet is put together from.
_RESTS_ON = """
WITH day AS MATERIALIZED (
  SELECT id, crew_id, "on" FROM jobs_crewday WHERE id = ANY(%(crew_days)s)
), given AS MATERIALIZED (
  SELECT a.crew_day_id AS day, a.ctid AS place, a.xmin AS writer, a.opening_id, a.short_crew_by_id
  FROM openings_assignment a JOIN day ON day.id = a.crew_day_id
), opening AS MATERIALIZED (
  SELECT DISTINCT g.day, o.id, o.ctid AS place, o.xmin AS writer, o.job_id, o.detail_id
  FROM given g JOIN openings_opening o ON o.id = g.opening_id
), sheet AS MATERIALIZED (
  SELECT s.crew_day_id AS day, s.id FROM materials_pullsheet s JOIN day ON day.id = s.crew_day_id
  WHERE s.state = 'written'
), roll AS MATERIALIZED (
  SELECT s.day, r.ctid AS place, r.xmin AS writer, r.remnant_id
  FROM sheet s JOIN materials_plannedroll r ON r.sheet_id = s.id
), lot AS MATERIALIZED (
  SELECT l.id, l.ctid AS place, l.xmin AS writer FROM materials_lot l
  WHERE l.expires_on < (SELECT max("on") FROM day)
), of_day (day, said) AS (
  SELECT d.id, concat_ws(' ', 'crew day', d.ctid, d.xmin) FROM jobs_crewday d JOIN day ON day.id = d.id
  UNION ALL SELECT day.id, concat_ws(' ', 'crew', c.ctid, c.xmin) FROM day JOIN jobs_crew c ON c.id = day.crew_id
  UNION ALL SELECT day, concat_ws(' ', 'given', place, writer) FROM given
  UNION ALL SELECT g.day, concat_ws(' ', 'decided by', p.id, p.username, p.first_name, p.last_name)
    FROM given g JOIN jobs_person p ON p.id = g.short_crew_by_id
  UNION ALL SELECT day, concat_ws(' ', 'opening', place, writer) FROM opening
  UNION ALL SELECT o.day, concat_ws(' ', 'job', j.ctid, j.xmin) FROM opening o JOIN jobs_job j ON j.id = o.job_id
  UNION ALL SELECT o.day, concat_ws(' ', 'detail', t.ctid, t.xmin)
    FROM opening o JOIN openings_installationdetail t ON t.id = o.detail_id
  UNION ALL SELECT o.day, concat_ws(' ', 'choice', u.ctid, u.xmin)
    FROM opening o JOIN materials_detailproduct u ON u.detail_id = o.detail_id
  UNION ALL SELECT o.day, concat_ws(' ', 'hold', h.ctid, h.xmin)
    FROM opening o JOIN openings_hold h ON h.opening_id = o.id
  UNION ALL SELECT o.day, concat_ws(' ', 'record', r.ctid, r.xmin)
    FROM opening o JOIN openings_installrecord r ON r.opening_id = o.id
  UNION ALL SELECT o.day, concat_ws(' ', 'step', s.ctid, s.xmin)
    FROM opening o JOIN openings_installrecord r ON r.opening_id = o.id JOIN openings_steprecord s ON s.record_id = r.id
  UNION ALL SELECT o.day, concat_ws(' ', 'forecast', f.ctid, f.xmin)
    FROM opening o JOIN day ON day.id = o.day JOIN jobs_siteforecast f ON f.job_id = o.job_id AND f."on" = day."on"
  UNION ALL SELECT day, concat_ws(' ', 'sheet', id) FROM sheet
  UNION ALL SELECT s.day, concat_ws(' ', 'listed', m.ctid, m.xmin)
    FROM sheet s JOIN materials_pullsheet_openings m ON m.pullsheet_id = s.id
  UNION ALL SELECT s.day, concat_ws(' ', 'line', l.ctid, l.xmin)
    FROM sheet s JOIN materials_pullsheetline l ON l.sheet_id = s.id
  UNION ALL SELECT day, concat_ws(' ', 'roll', place, writer) FROM roll
  UNION ALL SELECT r.day, concat_ws(' ', 'remnant', m.ctid, m.xmin)
    FROM roll r JOIN materials_remnant m ON m.id = r.remnant_id
), of_shop (said) AS (
  SELECT concat_ws(' ', 'choice', u.ctid, u.xmin) FROM materials_detailproduct u WHERE u.detail_id IS NULL
  UNION ALL SELECT concat_ws(' ', 'product', ctid, xmin) FROM materials_product
  UNION ALL SELECT concat_ws(' ', 'compatibility', ctid, xmin) FROM materials_compatibility
  UNION ALL SELECT concat_ws(' ', 'evidence', e.ctid, e.xmin, p.username, p.first_name, p.last_name)
    FROM materials_evidence e JOIN jobs_person p ON p.id = e.recorded_by_id
  UNION ALL SELECT concat_ws(' ', 'limits', ctid, xmin) FROM jobs_shopweatherlimits
  UNION ALL SELECT concat_ws(' ', 'place', ctid, xmin) FROM materials_place
  UNION ALL SELECT concat_ws(' ', 'lot', place, writer) FROM lot
  UNION ALL SELECT concat_ws(' ', 'movement', m.ctid, m.xmin) FROM lot JOIN materials_movement m ON m.lot_id = lot.id
), shop AS MATERIALIZED (
  SELECT md5(string_agg(said, ',' ORDER BY said COLLATE "C")) AS digest FROM of_shop
)
SELECT day, md5(concat_ws(' ', string_agg(said, ',' ORDER BY said COLLATE "C"), (SELECT digest FROM shop)))
FROM of_day GROUP BY day
"""


def rests_on(crew_days: Collection[int]) -> dict[int, str]:
    """Return by crew day a digest that is another one once a row changes that its sheet is put together from.

    What is read after a digest rests on rows that are at least as new: where the digest is the same later on, so is
    what was read. The clock is not in it, since no sheet of a day depends on the time at which it is put together. One
    query.
    """
    with connection.cursor() as cursor:
        cursor.execute(_RESTS_ON, {"crew_days": list(crew_days)})
        return dict(cursor.fetchall())
