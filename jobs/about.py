"""Which rows an error is about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from django.db.models import Model

from jobs.errors import About, CallerError, Fault


def about(row: Model, *, detail: str = "") -> About:
    """Return how an error names a row.

    Args:
        detail: what is wrong with it, where an error is about several.
    """
    return About(type=type_of(row), id=row.pk, name=str(row), detail=detail)


def missing_row(model: type[Model], pk: int) -> About:
    """Return how an error names a row that is not there."""
    kind = str(model._meta.verbose_name)
    return About(type=type_of(model), id=pk, name=str(pk), detail=f"there is no {kind} {pk}")


def type_of(model: Model | type[Model]) -> str:
    """Return what a row is, such as `crew_day`."""
    return str(model._meta.verbose_name).replace(" ", "_")


@contextmanager
def of_several(model: type[Model], ids: Sequence[int], *, field: str) -> Iterator[None]:
    """Let a refusal of several that were sent together say of which: a fault for each, by its place among them.

    Args:
        model: what the ids are of.
        ids: what was sent, in that order.
        field: the name it was sent under.
    """
    try:
        yield
    except CallerError as error:
        wrong = {one.id: one.detail or error.detail for one in error.about if one.type == type_of(model)}
        error.faults += tuple(
            Fault(field=f"{field}[{item}]", value=str(pk), detail=wrong[pk], item=item)
            for item, pk in enumerate(ids)
            if pk in wrong
        )
        raise
