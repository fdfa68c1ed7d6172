"""One day's pull sheets of 12 crews, against openpyxl writing the same workbooks and nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from multiprocessing import get_context

from django.db import connection, transaction

from config.bench import bare_workbook
from config.bench.sample import CREWS, a_catalogue, a_week
from config.bench.timing import Row, compare
from jobs.models import Crew
from materials import services
from materials.calc.product import Measure
from materials.models import Place, Product, PullSheet, Remnant

WRITERS = 2
REMNANTS_IN_TENTHS = (1, 2, 3, 4, 5, 6)
"""Of a roll, how long the remnants are that lie in the warehouse."""


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
        sheets = PullSheet.objects.filter(pk__in=ids)
        same = [bare_workbook.read(bytes(sheet.workbook)) for sheet in sheets if sheet.workbook]

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


def writers_row() -> Row:
    """Measure two processes that write the sheets of a day against one, all crews sharing the same remnants."""
    name, reference = f"{WRITERS} writers of pull sheets", "one process that writes the same sheets"
    aim = 0.8
    if connection.in_atomic_block:
        return Row(name=name, reference=reference, aim=aim, skipped="other processes see only what is committed")
    on = a_week()
    a_catalogue()
    _lay_remnants()
    ids = [services.request_pull_sheet(crew_id=crew.pk, on=on, by=None).pk for crew in Crew.objects.all()]
    return compare(
        name=name,
        reference=reference,
        aim=aim,
        ours=lambda: _write_by(WRITERS, ids),
        bare=lambda: _write_by(1, ids),
        reset=lambda: _unwrite(ids),
    )


def _lay_remnants() -> None:
    """Lay remnants of every product that comes on rolls into a warehouse, for all crews to share."""
    warehouse = Place.objects.create(kind=Place.Kind.WAREHOUSE, name="Bench warehouse")
    Remnant.objects.bulk_create(
        Remnant(product=product, length_in=product.package_quantity * tenths / 10, place=warehouse)
        for product in Product.objects.filter(measure=Measure.LENGTH)
        for tenths in REMNANTS_IN_TENTHS
    )


def _write_by(writers: int, ids: Sequence[int]) -> None:
    """Write the sheets in so many processes, each its share; every process has a connection of its own."""
    connection.close()
    processes = [
        get_context("fork").Process(target=_write_all, args=(ids[number::writers],)) for number in range(writers)
    ]
    for process in processes:
        process.start()
    for process in processes:
        process.join()
        if process.exitcode:
            raise RuntimeError("a writer of pull sheets failed")


def _write_all(ids: Sequence[int]) -> None:
    for sheet_id in ids:
        services.write_pull_sheet(sheet_id=sheet_id)
    connection.close()


def _unwrite(ids: list[int]) -> None:
    sheets = PullSheet.objects.filter(pk__in=ids)
    for sheet in sheets:
        sheet.lines.all().delete()
        sheet.rolls.all().delete()
        sheet.openings.clear()
    sheets.update(state=PullSheet.State.PENDING)
    Remnant.objects.update(reserved_for=None)
