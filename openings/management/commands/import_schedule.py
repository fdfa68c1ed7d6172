"""Take a window schedule into a job from the command line."""

from __future__ import annotations

from argparse import ArgumentParser
from collections.abc import Iterable
from decimal import Decimal
from pathlib import Path
from typing import Any

from django.core.management import BaseCommand, CommandError

from jobs.calc.say import counted, field_name
from jobs.errors import CallerError, Fault
from jobs.models import Job
from openings import services
from openings.calc.figures import plain
from openings.calc.tape import format_length
from openings.schedules import APPLIED, Change, check_file_size, meaning_name
from openings.services import Choice, ScheduleFile, SchedulePlan


class Command(BaseCommand):
    help = (
        "Check and apply a window schedule (.xlsx, .csv, .ifc) to a job as its next revision: all that was "
        "chosen, or nothing."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("job", metavar="JOB", help="code of the job")
        parser.add_argument("file", metavar="FILE", type=Path)
        parser.add_argument("--detail", default="", help="installation detail for rows that name none")
        parser.add_argument("--dry-run", action="store_true", help="show what would change, and change nothing")
        parser.add_argument("--mapping", default="", help="what tables and columns mean, as JSON")
        parser.add_argument(
            "--apply",
            nargs="*",
            choices=[change.value for change in APPLIED],
            default=[change.value for change in APPLIED],
            help="kinds of change to apply; all where none is named",
        )
        parser.add_argument(
            "--leave",
            nargs="*",
            metavar="MARK",
            default=[],
            help="openings that are left as they are, or left out of a first file; "
            "a mark of the schedule means all of its openings",
        )

    def handle(self, *, job: str, file: Path, dry_run: bool, **options: Any) -> None:
        found = Job.objects.filter(code=job).first()
        if found is None:
            known = ", ".join(Job.objects.values_list("code", flat=True)) or "none yet"
            raise CommandError(f"there is no job {job}; the jobs are: {known}")
        try:
            check_file_size(file.stat().st_size, filename=file.name)
            what: ScheduleFile = {
                "job_id": found.pk,
                "filename": file.name,
                "content": file.read_bytes(),
                "detail": options["detail"],
                "mapping": options["mapping"],
            }
            if dry_run:
                self._show(services.preview_schedule(**what))
            else:
                self._take(what, kinds=options["apply"], leave=options["leave"])
        except OSError as error:
            raise CommandError(f"{file}: {error.strerror}") from error
        except CallerError as error:
            raise CommandError(_sentence(error)) from error

    def _take(self, what: ScheduleFile, *, kinds: list[str], leave: list[str]) -> None:
        choice = Choice(kinds=frozenset(map(Change, kinds)), leave=frozenset(leave))
        taken = services.take_schedule(**what, choice=choice, by=None)
        self.stdout.write(f"{taken.schedule}: {counted(taken.counts['added'], 'opening')} added.")
        others = [f"{count} {change}" for change, count in taken.counts.items() if count and change != "added"]
        if others:
            self.stdout.write(f"Of those already there: {', '.join(others)}.")

    def _show(self, plan: SchedulePlan) -> None:
        for column in plan.read.proposal:
            name = meaning_name(column.meaning) if column.meaning else "not read"
            meaning = ", ".join(filter(None, (name, column.unit)))
            samples = ", ".join(column.samples)
            self.stdout.write(f"{column.letter} “{column.heading}”: {meaning} ({column.confidence}), such as {samples}")
        for note in plan.notes:
            self.stdout.write(f"note: {note}")
        for question in plan.read.questions:
            self.stdout.write(
                f"needs answer, {question.field}: {question.detail} Answers: {', '.join(question.choices)}"
            )
        for sentence in _faults_in_words(plan.faults):
            self.stdout.write(f"wrong, {sentence}")
        for opening in plan.openings:
            size = f"{format_length(opening.facts.ro_width_in)} × {format_length(opening.facts.ro_height_in)}"
            self.stdout.write(f"row {opening.row.row}: {opening.mark}, rough opening {size}, {opening.detail}")
        for line in plan.lines:
            values = ", ".join(
                f"{field_name(name)} {_shown(name, line.old[name])} → {_shown(name, new)}"
                for name, new in line.new.items()
            )
            why = f"; not changed: {line.hindrance}" if line.hindrance else f"; {line.follows}" if line.follows else ""
            self.stdout.write(f"{line.mark}: {line.change} {values}".rstrip() + why)
        unchanged = f", {len(plan.unchanged)} would not change" if plan.has_openings else ""
        made = counted(len(plan.openings), "opening")
        wrong = " once the errors are corrected" if plan.faults else ""
        self.stdout.write(f"{made} would be added{wrong}{unchanged}; nothing was saved.")


def _shown(name: str, value: Any) -> str:
    """Return a value of an opening as people say it."""
    if value in (None, "", ()):
        return "nothing"
    if name.endswith("_in"):
        return " + ".join(map(format_length, value)) if isinstance(value, tuple) else format_length(value)
    return plain(value) if isinstance(value, Decimal) else str(value)


def _sentence(error: CallerError) -> str:
    return "\n".join([error.detail, *_faults_in_words(error.faults)])


def _faults_in_words(faults: Iterable[Fault]) -> list[str]:
    return [
        f"{f'row {fault.row}, ' if fault.row else ''}{fault.field}{f': “{fault.value}”' if fault.value else ''}: "
        f"{fault.detail}"
        for fault in faults
    ]
