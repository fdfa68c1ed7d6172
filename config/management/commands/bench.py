"""Measure, in a database of its own, and report ratios."""

from __future__ import annotations

import gc
import json
from argparse import ArgumentParser
from typing import Any

from django.core.management import BaseCommand
from django.db import connection

from config.bench import ROWS, Row


class Command(BaseCommand):
    help = "Measure the service against references in the same run. Ratios travel between machines; seconds do not."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--json", action="store_true", help="one JSON line instead of a table")

    def handle(self, *, json: bool, **_options: Any) -> None:
        name = connection.settings_dict["NAME"]
        connection.creation.create_test_db(verbosity=0, autoclobber=True, serialize=False)
        try:
            rows = [self._measure(measure) for measure in ROWS]
        finally:
            connection.creation.destroy_test_db(name, verbosity=0)
        self.stdout.write(_as_json(rows) if json else _as_table(rows))

    def _measure(self, measure: Any) -> Row:
        self.stderr.write(f"measuring: {measure.__doc__.strip()}")
        gc.collect()
        return measure()


def _as_json(rows: list[Row]) -> str:
    return json.dumps(
        [
            {
                "name": row.name,
                "reference": row.reference,
                "ours_s": round(row.ours_s, 6),
                "reference_s": round(row.reference_s, 6),
                "ratio": round(row.ratio, 3),
                "aim": row.aim,
            }
            for row in rows
        ]
    )


def _as_table(rows: list[Row]) -> str:
    return "\n".join(
        f"{row.name:<36}{row.ratio:6.2f} × (aim {row.aim:g}): {row.ours_s * 1000:8.1f} ms against "
        f"{row.reference_s * 1000:8.1f} ms, {row.reference}"
        for row in rows
    )
