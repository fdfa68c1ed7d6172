"""The first account of a service that starts: whoever has the server gives it away, and nobody else can take it."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from django.core.exceptions import ValidationError
from django.core.management import BaseCommand, CommandError
from django.urls import reverse

from jobs import services
from jobs.calc import say
from jobs.errors import CallerError


class Command(BaseCommand):
    """Invite the first owner and print the link by which they set a password."""

    help = "Make the first owner of an empty service and print the link by which they choose a password."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("username", help="the name that the owner signs in with")
        parser.add_argument("--name", default="", help="first name, as others read it")
        parser.add_argument("--address", default="http://127.0.0.1:8000", help="where the service is reached")

    def handle(self, *, username: str, name: str, address: str, **_options: Any) -> None:
        try:
            invitation = services.make_first_owner(username=username, first_name=name)
        except CallerError as error:
            raise CommandError(error.detail) from error
        except ValidationError as error:
            raise CommandError("; ".join(error.messages)) from error
        link = f"{address.rstrip('/')}{reverse('welcome-page', args=[invitation.token])}"
        until = say.dated(invitation.expires_at.date())
        self.stdout.write(f"{link}\nWhoever opens it chooses the password of {username}, once, until {until}.")
