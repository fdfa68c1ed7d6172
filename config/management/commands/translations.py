"""Bring the catalogs of other languages up to date with code and templates."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from django.conf import settings
from django.core.management import BaseCommand, CommandError

from config import translations
from jobs.calc.say import counted


class Command(BaseCommand):
    help = "Collect every text that is translated, compile the catalogs, and list what has no translation yet."
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "--check", action="store_true", help="write nothing; fail where something is missing or old"
        )

    def handle(self, *, check: bool, **_options: Any) -> None:
        lacking = 0
        for language, name in settings.LANGUAGES:
            if language == settings.LANGUAGE_CODE.partition("-")[0]:
                continue
            if not check:
                translations.write(language)
            elif not translations.is_written(language):
                raise CommandError(f"the catalog of {name} is not up to date: run manage.py translations")
            texts = translations.missing(language)
            lacking += len(texts)
            for text in texts:
                self.stdout.write(f"{language}: {text}")
            self.stdout.write(f"{name}: {counted(len(texts), 'text')} without translation")
        if check and lacking:
            raise CommandError(f"{counted(lacking, 'text')} without translation")
