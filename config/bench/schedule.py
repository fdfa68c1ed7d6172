"""The import of a schedule of 10,000 rows, against the fastest reader and a bare COPY; reading alone of 100,000."""

from __future__ import annotations

import csv
import random
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any

from django.db import connection, transaction
from openpyxl import Workbook
from python_calamine import CalamineWorkbook

from config.bench.sample import GAP_IN, a_job, sides
from config.bench.timing import Row, compare
from jobs.models import Job
from openings import services
from openings.calc.starting_details import STARTING_DETAILS
from openings.models import Opening
from openings.schedules import read_schedule

ROWS, MANY_ROWS = 10_000, 100_000
MOST_MB = 300
HEADINGS = (
    "Mark",
    "Qty",
    "RO Width",
    "RO Height",
    "Unit Width",
    "Unit Height",
    "Operation",
    "Floor",
    "Detail",
    "Remarks",
)


def schedule_row() -> Row:
    """Measure reading, checking and writing of one file."""
    content = _workbook()
    with transaction.atomic():
        job = a_job("import")

        def ours() -> None:
            with transaction.atomic():
                services.import_schedule(job_id=job.pk, filename="windows.xlsx", content=content, by=None)
                transaction.set_rollback(True)

        row = compare(
            name=f"import of {ROWS:,} rows",
            reference="python-calamine and a bare COPY of the same rows",
            aim=4,
            ours=ours,
            bare=lambda: _bare(content, job),
            turns=5,
        )
        transaction.set_rollback(True)
    return row


def reading_row() -> Row:
    """Measure reading and checking of a text of 100,000 rows: lengths, marks, sizes that do not fit and the rest."""
    text = _text()
    content = text.encode()
    return compare(
        name=f"reading of {MANY_ROWS:,} rows of text",
        reference="csv.reader, which checks nothing",
        aim=12,
        ours=lambda: read_schedule(filename="windows.csv", content=content),
        bare=lambda: list(csv.reader(StringIO(text, newline=""))),
        turns=3,
    )


def reading_memory_row() -> Row:
    """Measure the most memory that a process of its own, the framework loaded, takes to read the same text."""
    row = Row(
        name=f"memory of reading {MANY_ROWS:,} rows",
        reference="what the whole process may take",
        theirs=MOST_MB,
        aim=1,
        unit="MB",
    )
    if not _STATUS.exists():
        return replace(row, skipped=f"the peak is read from {_STATUS}, which this machine does not have")
    done = subprocess.run(  # noqa: S603 (our own interpreter and code)
        [sys.executable, "-c", _PEAK, _STATUS], input=_text().encode(), cwd=_ROOT, capture_output=True, check=True
    )
    return replace(row, ours=float(done.stdout))


_STATUS, _ROOT = Path("/proc/self/status"), Path(__file__).parents[2]
_PEAK = """
import os, re, sys
os.environ["DJANGO_SETTINGS_MODULE"] = "config.settings"
import django
django.setup()
from openings import services
from openings.schedules import read_schedule
read = read_schedule(filename="windows.csv", content=sys.stdin.buffer.read())
print(int(re.search(r"VmHWM:\\s+(\\d+)", open(sys.argv[1]).read())[1]) / 1000)
"""


_GIVEN = (
    "job_id", "detail_id", "mark", "schedule_mark", "position", "ro_width_in", "ro_height_in", "unit_width_in",
    "unit_height_in", "operation", "floor", "remarks",
)  # fmt: skip


def _bare(content: bytes, job: Job) -> None:
    rows = CalamineWorkbook.from_filelike(BytesIO(content)).get_sheet_by_index(0).to_python()
    others = [
        field
        for field in Opening._meta.concrete_fields
        if not (field.null or field.primary_key or field.has_db_default() or field.column in _GIVEN)
    ]
    columns = ", ".join([*_GIVEN, *(field.column for field in others if field.column)])
    unsaid = [field.get_default() for field in others]
    with transaction.atomic():
        with connection.cursor() as cursor:
            cursor.execute("SELECT id FROM openings_installationdetail WHERE job_id = %s LIMIT 1", [job.pk])
            (detail_id,) = cursor.fetchone()
            with cursor.copy(f"COPY {Opening._meta.db_table} ({columns}) FROM STDIN") as copy:
                for position, row in enumerate(rows[1:]):
                    copy.write_row((job.pk, detail_id, row[0], row[0], position, *row[2:8], row[9], *unsaid))
        transaction.set_rollback(True)


def _text() -> str:
    text = StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(HEADINGS)
    writer.writerows(_lines(MANY_ROWS))
    return text.getvalue()


def _workbook() -> bytes:
    book = Workbook(write_only=True)
    sheet = book.create_sheet("Windows")
    sheet.append(HEADINGS)
    for line in _lines(ROWS):
        sheet.append(line)
    buffer = BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def _lines(count: int) -> Iterator[list[Any]]:
    chance, details = random.Random(13), list(STARTING_DETAILS)  # noqa: S311 (chance of no secret)
    for number in range(count):
        width_in, height_in = sides(chance)
        yield [
            f"W{number}", 1, width_in, height_in, width_in - GAP_IN, height_in - GAP_IN, "casement",
            f"Level {number % 9}", details[number % len(details)], "tempered" if number % 7 == 0 else "",
        ]  # fmt: skip
