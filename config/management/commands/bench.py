"""Measure, in a database of its own, and report ratios."""

from __future__ import annotations

import gc
import json
from argparse import ArgumentParser
from collections.abc import Callable
from typing import Any

from django.core.management import BaseCommand
from django.db import connection

from config.bench import ROWS, Row, scale


class Command(BaseCommand):
    help = "Measure the service against references in the same run. Ratios travel between machines; seconds do not."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--json", action="store_true", help="one JSON line instead of a table")
        parser.add_argument("--only", default="", metavar="WORD", help="rows with this word in their function's name")
        parser.add_argument(
            "--scale",
            nargs="*",
            type=int,
            metavar="OPENINGS",
            help=f"how lists, boards and pages grow instead, at these sizes ({', '.join(map(str, scale.SIZES))})",
        )

    def handle(self, *, json: bool, only: str, scale: list[int] | None, **_options: Any) -> None:
        if scale is not None:
            self._scale(tuple(scale), as_json=json)
            return
        name = connection.settings_dict["NAME"]
        connection.creation.create_test_db(verbosity=0, autoclobber=True, serialize=False)
        try:
            rows = [self._measure(measure) for measure in ROWS if only in measure.__name__]
        finally:
            connection.creation.destroy_test_db(name, verbosity=0)
        self.stdout.write(_as_json(rows) if json else _as_table(rows))

    def _scale(self, sizes: tuple[int, ...], *, as_json: bool) -> None:
        found = scale.measure(sizes or scale.SIZES, say=self.stderr.write)
        self.stdout.write(_growth_as_json(found) if as_json else _growth_as_table(found))

    def _measure(self, measure: Callable[[], Row]) -> Row:
        self.stderr.write(f"measuring: {(measure.__doc__ or '').strip()}")
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


def _growth_as_json(found: list[scale.Growth]) -> str:
    return json.dumps(
        [
            {"name": one.name, "seconds": one.seconds, "times": round(one.times, 3), "reads_whole": one.whole}
            for one in found
        ]
    )


def _growth_as_table(found: list[scale.Growth]) -> str:
    """Return a line for each read; the first is the reference, whose growth is what the machine and not we do."""
    sizes = sorted(found[0].seconds)
    head = f"{'openings':<34}{''.join(f'{size:>13,}' for size in sizes)}   grows  reads from end to end"
    return "\n".join([head, *(_growth(one, sizes) for one in found)])


def _growth(one: scale.Growth, sizes: list[int]) -> str:
    times = "".join(f"{one.seconds[size] * 1000:>10.1f} ms" if size in one.seconds else " " * 13 for size in sizes)
    return f"{one.name:<34}{times}{one.times:>7.2f} × {', '.join(one.whole)}"
