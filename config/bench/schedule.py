"""The import of a schedule of 10,000 rows, against the fastest reader and a bare COPY."""

from __future__ import annotations

import random
from io import BytesIO

from django.db import connection, transaction
from openpyxl import Workbook
from python_calamine import CalamineWorkbook

from config.bench.sample import GAP_IN, a_job, sides
from config.bench.timing import Row, compare
from jobs.models import Job
from openings import services
from openings.calc.starting_details import STARTING_DETAILS

ROWS = 10_000
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


def _bare(content: bytes, job: Job) -> None:
    rows = CalamineWorkbook.from_filelike(BytesIO(content)).get_sheet_by_index(0).to_python()
    with transaction.atomic():
        with connection.cursor() as cursor:
            cursor.execute("SELECT id FROM openings_installationdetail WHERE job_id = %s LIMIT 1", [job.pk])
            (detail_id,) = cursor.fetchone()
            with cursor.copy(
                "COPY openings_opening (job_id, detail_id, mark, schedule_mark, position, is_void, ro_width_in, "
                "ro_height_in, unit_width_in, unit_height_in, operation, floor, remarks, "
                "frame_material, lites_in, access, storeys_up) FROM STDIN"
            ) as copy:
                for position, row in enumerate(rows[1:]):
                    copy.write_row(
                        (job.pk, detail_id, row[0], row[0], position, False, *row[2:8], row[9], "", [], "clear", 0)
                    )
        transaction.set_rollback(True)


def _workbook() -> bytes:
    chance, details = random.Random(13), list(STARTING_DETAILS)  # noqa: S311 (chance of no secret)
    book = Workbook(write_only=True)
    sheet = book.create_sheet("Windows")
    sheet.append(HEADINGS)
    for number in range(ROWS):
        width_in, height_in = sides(chance)
        sheet.append(
            [
                f"W{number}", 1, width_in, height_in, width_in - GAP_IN, height_in - GAP_IN, "casement",
                f"Level {number % 9}", details[number % len(details)], "tempered" if number % 7 == 0 else "",
            ]
        )  # fmt: skip
    buffer = BytesIO()
    book.save(buffer)
    return buffer.getvalue()
