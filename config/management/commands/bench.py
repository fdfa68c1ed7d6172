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
        parser.add_argument("--only", default="", metavar="WORD", help="rows with this word in their function's name")

    def handle(self, *, json: bool, only: str, **_options: Any) -> None:
        name = connection.settings_dict["NAME"]
        connection.creation.create_test_db(verbosity=0, autoclobber=True, serialize=False)
        try:
            rows = [self._measure(measure) for measure in ROWS if only in measure.__name__]
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
                "ours": round(row.ours, 6),
                "theirs": round(row.theirs, 6),
                "unit": row.unit,
                "ratio": None if row.skipped else round(row.ratio, 3),
                "skipped": row.skipped,
                "aim": row.aim,
                "at_least": row.at_least,
            }
            for row in rows
        ]
    )


def _as_table(rows: list[Row]) -> str:
    return "\n".join(map(_line, rows))


def _line(row: Row) -> str:
    if row.skipped:
        return f"{row.name:<40} skipped: {row.skipped}; against {row.reference}"
    ours, theirs = (
        f"{figure * 1000:8.1f} ms" if row.unit == "s" else f"{figure:8.1f} {row.unit}"
        for figure in (row.ours, row.theirs)
    )
    aim = f"aim at least {row.aim:g}" if row.at_least else f"aim {row.aim:g}"
    return f"{row.name:<40}{row.ratio:6.2f} × ({aim}): {ours} against {theirs}, {row.reference}"
