"""Up to when every change can be read."""

from __future__ import annotations

from datetime import datetime

from django.db import connection


def all_seen_until() -> datetime:
    """Return an instant before which everything that was changed can be read by now. One query.

    A change says when it was made, not when its transaction ended: what is older than every transaction that runs has
    ended. Transactions of another role are not seen here; the service has one.

    Source:
        PostgreSQL 18 documentation, 27.2.3 "pg_stat_activity": `xact_start`, when the current transaction began.
    """
    with connection.cursor() as cursor:
        cursor.execute(
            """
            SELECT least(clock_timestamp(), min(xact_start)) FROM pg_stat_activity
            WHERE datname = current_database() AND backend_type = 'client backend' AND pid <> pg_backend_pid()
            """
        )
        row: tuple[datetime] = cursor.fetchone()
    return row[0]
