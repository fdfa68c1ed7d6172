"""manage.py explain OPENING: the whole reasoning of one opening, as text."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from jobs.errors import CallerError
from materials.explain import explanation
from materials.queries import everything_computed
from openings.calc.units import BY_NAME, US
from openings.queries import opening_id_of


class Command(BaseCommand):
    help = (
        "Print every figure of a stored opening with its reason: install steps, draw, lift, labor, tolerance, advice."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("opening", help="The id of the opening, or its job and mark, such as heron-house/102-03.")
        parser.add_argument("--units", choices=list(BY_NAME), default=US.name)

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            found = everything_computed(opening_id_of(options["opening"]), units=BY_NAME[options["units"]])
        except CallerError as error:
            raise CommandError(error.detail) from error
        self.stdout.write(explanation(found))
