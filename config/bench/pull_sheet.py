"""One day's pull sheets of 12 crews, against openpyxl writing the same cells and nothing else."""

from __future__ import annotations

from copy import copy
from io import BytesIO

from django.db import transaction
from openpyxl import Workbook, load_workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import NamedStyle

from config.bench.sample import CREWS, a_catalogue, a_week
from config.bench.timing import Row, compare
from jobs.models import Crew
from materials import services
from materials.models import PullSheet

Cells = tuple[dict[str, dict], list[tuple[str, list[list[tuple[object, str]]]]]]


def pull_sheet_row() -> Row:
    """Measure computing, writing and saving the sheets."""
    with transaction.atomic():
        on = a_week()
        a_catalogue()
        ids = [services.request_pull_sheet(crew_id=crew.pk, on=on, by=None).pk for crew in Crew.objects.all()]

        def ours() -> None:
            for sheet_id in ids:
                services.write_pull_sheet(sheet_id=sheet_id)

        def reset() -> None:
            for sheet in PullSheet.objects.filter(pk__in=ids):
                sheet.lines.all().delete()
                sheet.cuts.all().delete()
            PullSheet.objects.filter(pk__in=ids).update(state=PullSheet.State.PENDING)

        ours()
        same = [_cells(bytes(sheet.workbook)) for sheet in PullSheet.objects.filter(pk__in=ids)]

        def bare() -> None:
            for cells in same:
                _write(cells)

        row = compare(
            name=f"pull sheets of {CREWS} crews",
            reference="openpyxl write-only, shared styles, the same cells",
            aim=1.25,
            ours=ours,
            bare=bare,
            reset=reset,
        )
        transaction.set_rollback(True)
    return row


def _cells(content: bytes) -> Cells:
    book = load_workbook(BytesIO(content))
    looks: dict[str, dict] = {}
    sheets = []
    for sheet in book:
        rows = []
        for row in sheet.iter_rows():
            for cell in row:
                if cell.style not in looks and cell.style != "Normal":
                    looks[cell.style] = {
                        "font": copy(cell.font),
                        "fill": copy(cell.fill),
                        "border": copy(cell.border),
                        "alignment": copy(cell.alignment),
                        "number_format": cell.number_format,
                    }
            rows.append([(cell.value, cell.style) for cell in row])
        sheets.append((sheet.title, rows))
    return looks, sheets


def _write(cells: Cells) -> bytes:
    looks, sheets = cells
    book = Workbook(write_only=True)
    for name, look in looks.items():
        book.add_named_style(NamedStyle(name=name, **look))
    for title, rows in sheets:
        sheet = book.create_sheet(title)
        shared = {}
        for name in looks:
            cell = WriteOnlyCell(sheet)
            cell.style = name
            shared[name] = cell._style
        for row in rows:
            sheet.append([_cell(sheet, value, shared.get(name)) for value, name in row])
    buffer = BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def _cell(sheet: object, value: object, style: object) -> WriteOnlyCell | None:
    if style is None:
        return None
    cell = WriteOnlyCell(sheet, value)
    cell._style = style
    return cell
