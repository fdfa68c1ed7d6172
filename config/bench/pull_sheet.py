"""One day's pull sheets of 12 crews, against openpyxl writing the same workbooks and nothing else."""

from __future__ import annotations

from django.db import transaction

from config.bench import bare_workbook
from config.bench.sample import CREWS, a_catalogue, a_week
from config.bench.timing import Row, compare
from jobs.models import Crew
from materials import services
from materials.models import PullSheet


def pull_sheet_row() -> Row:
    """Measure computing, writing and saving the sheets."""
    with transaction.atomic():
        on = a_week()
        a_catalogue()
        ids = [services.request_pull_sheet(crew_id=crew.pk, on=on, by=None).pk for crew in Crew.objects.all()]

        def ours() -> None:
            for sheet_id in ids:
                services.write_pull_sheet(sheet_id=sheet_id)

        ours()
        same = [bare_workbook.read(bytes(sheet.workbook)) for sheet in PullSheet.objects.filter(pk__in=ids)]

        row = compare(
            name=f"pull sheets of {CREWS} crews",
            reference="openpyxl write-only, shared styles, the same cells and print layout",
            aim=1.25,
            ours=ours,
            bare=lambda: [bare_workbook.write(book) for book in same],
            reset=lambda: _unwrite(ids),
        )
        transaction.set_rollback(True)
    return row


def _unwrite(ids: list[int]) -> None:
    sheets = PullSheet.objects.filter(pk__in=ids)
    for sheet in sheets:
        sheet.lines.all().delete()
        sheet.rolls.all().delete()
        sheet.openings.clear()
    sheets.update(state=PullSheet.State.PENDING)
