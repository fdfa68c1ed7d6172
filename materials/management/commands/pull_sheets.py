"""Write the pull sheets of a day from the command line, without a worker."""

from __future__ import annotations

from argparse import ArgumentParser, ArgumentTypeError
from datetime import date
from typing import Any

from django.core.management import BaseCommand, CommandError

from jobs.errors import CallerError
from jobs.models import Crew
from materials import services
from materials.errors import NothingAssigned
from materials.models import PullSheet


class Command(BaseCommand):
    help = "Write the pull sheets of a day; those that are up to date stay as they are."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--on", type=_day, required=True, metavar="DATE", help="such as 2027-03-09")
        parser.add_argument("--crew", metavar="NAME", help="this crew only")

    def handle(self, *, on: date, crew: str | None, **_options: Any) -> None:
        crews = Crew.objects.filter(name=crew) if crew else Crew.objects.all()
        if not crews:
            raise CommandError(f"there is no crew {crew}" if crew else "there are no crews yet")
        for one in crews:
            self._write(one, on, is_only=bool(crew))

    def _write(self, crew: Crew, on: date, *, is_only: bool) -> None:
        try:
            sheet = services.request_pull_sheet(crew_id=crew.pk, on=on, by=None)
        except CallerError as error:
            if is_only or not isinstance(error, NothingAssigned):
                raise CommandError(error.detail) from error
            self.stdout.write(error.detail)
            return
        services.write_pull_sheet(sheet_id=sheet.pk)
        state = PullSheet.objects.values_list("state", "failure").get(pk=sheet.pk)
        self.stdout.write(f"{crew}: {sheet}, {' '.join(filter(None, state))}")


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise ArgumentTypeError(f"{text} is not a date; give year-month-day, such as 2027-03-09") from error
