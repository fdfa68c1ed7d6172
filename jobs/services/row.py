"""Adding and changing one row."""

from __future__ import annotations

from typing import TypeVar

from django.db import models

from jobs import transaction
from jobs.changed import forget_when_changed

Row = TypeVar("Row", bound=models.Model)


@transaction.atomic
def add(row: Row) -> Row:
    """Add one row.

    Raises:
        ValidationError: a value or a constraint of its model is not kept.
    """
    row.full_clean()
    row.save(force_insert=True)
    return row


@transaction.atomic
def change(row: Row, **values: object) -> Row:
    """Change the named columns of one row and leave the others alone, those too that would not be taken today.

    Raises:
        ValidationError: a value or a constraint is not kept.
    """
    for name, value in values.items():
        setattr(row, name, value)
    row.clean_fields(exclude={field.name for field in row._meta.fields if field.name not in values})
    row.clean()
    row.validate_unique()
    row.validate_constraints()
    row.save(update_fields=list(values))
    forget_when_changed(row)
    return row
