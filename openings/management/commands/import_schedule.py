"""Take a window schedule into a job from the command line."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management import BaseCommand, CommandError

from jobs.errors import Mendable
from jobs.models import Job
from openings import services
from openings.calc.tape import format_length
from openings.schedules import check_file_size


class Command(BaseCommand):
    help = "Take a window schedule (.xlsx, .csv) into a job: every row or none."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("job", metavar="JOB", help="code of the job")
        parser.add_argument("file", metavar="FILE", type=Path)
        parser.add_argument("--detail", default="", help="installation detail for rows that name none")
        parser.add_argument("--dry-run", action="store_true", help="show what would be done, and do nothing")

    def handle(self, *, job: str, file: Path, detail: str, dry_run: bool, **_options: Any) -> None:
        found = Job.objects.filter(code=job).first()
        if found is None:
            known = ", ".join(Job.objects.values_list("code", flat=True)) or "none yet"
            raise CommandError(f"there is no job {job}; the jobs are: {known}")
        try:
            check_file_size(file.stat().st_size)
            what = {"job_id": found.pk, "filename": file.name, "content": file.read_bytes(), "detail": detail}
            if dry_run:
                self._show(services.preview_schedule(**what))
            else:
                schedule = services.import_schedule(**what, by=None)
                self.stdout.write(f"{schedule}: {schedule.openings.count()} openings.")
        except OSError as error:
            raise CommandError(f"{file}: {error.strerror}") from error
        except Mendable as error:
            raise CommandError(_sentence(error)) from error

    def _show(self, plan: services.SchedulePlan) -> None:
        for meaning, column in plan.columns.items():
            self.stdout.write(f"{meaning}: {column}")
        for note in plan.notes:
            self.stdout.write(f"note: {note}")
        for opening in plan.openings:
            size = f"{format_length(opening.facts.ro_width_in)} × {format_length(opening.facts.ro_height_in)}"
            self.stdout.write(f"row {opening.row.row}: {opening.mark}, rough opening {size}, {opening.detail}")
        self.stdout.write(f"{len(plan.openings)} openings would be made; nothing was written.")


def _sentence(error: Mendable) -> str:
    faults = [f"row {fault.row}, {fault.field}: “{fault.value}”: {fault.detail}" for fault in error.faults]
    return "\n".join([error.detail, *faults])
