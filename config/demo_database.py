"""Whether the demo may use a database: one that is empty, or its own."""

from __future__ import annotations

from django.apps import apps
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder
from django.db.models import Model

from config.models import DemoContent
from config.services import ServiceError
from jobs.calc.say import counted
from jobs.models import Crew, Job, Person
from materials.models import Place, Product

FIRST_ENTERED = {
    Person: ("person", "people"),
    Job: ("job", "jobs"),
    Crew: ("crew", "crews"),
    Product: ("product", "products"),
    Place: ("place", "places"),
}
"""What every firm enters first, one and many: where none of it is, nothing is."""


def require_empty_or_own() -> None:
    """Return where the demo may load its content, or did so before. The tables need not be there yet.

    Raises:
        ServiceError: the database holds something that the demo did not put there.
    """
    tables = set(connection.introspection.table_names())
    if _is_there(DemoContent, tables) and DemoContent.objects.exists():
        return
    counts = {model: model._default_manager.count() for model in FIRST_ENTERED if _is_there(model, tables)}
    held = [f"{count} {FIRST_ENTERED[model][count != 1]}" for model, count in counts.items() if count]
    held = held or _strangers(tables)
    if held:
        raise ServiceError(
            f"This database holds {', '.join(held)} that the demo did not put there, and the demo loads its invented "
            "jobs only into an empty database or its own: name one with DATABASE_URL, or leave DATABASE_URL empty and "
            "choose a new folder with --data."
        )


def _is_there(model: type[Model], tables: set[str]) -> bool:
    return model._meta.db_table in tables


def _strangers(tables: set[str]) -> list[str]:
    """Return in words that there are tables of another program."""
    ours = {model._meta.db_table for model in apps.get_models(include_auto_created=True)}
    count = len(tables - ours - {MigrationRecorder.Migration._meta.db_table})
    return [f"{counted(count, 'table')} of another program"] if count else []
