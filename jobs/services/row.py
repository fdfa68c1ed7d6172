"""Adding and changing one row."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import models

from jobs import transaction
from jobs.changed import forget_when_changed
from jobs.errors import Fault

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


def faults_of(error: ValidationError, values: Mapping[str, object], *, item: int, whole: str = "") -> list[Fault]:
    """Return what is wrong with one of several rows, by column.

    Args:
        values: what was given for the row.
        item: which of the rows it is, from 0.
        whole: the column named for what is wrong with the row as a whole.
    """
    by_field = error.message_dict if hasattr(error, "error_dict") else {NON_FIELD_ERRORS: error.messages}
    named = [(whole if field == NON_FIELD_ERRORS else field, sentences) for field, sentences in by_field.items()]
    return [
        Fault(field=field, value=str(values.get(field, "")), detail=sentence, item=item)
        for field, sentences in named
        for sentence in sentences
    ]
