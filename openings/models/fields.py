"""Columns that several tables share."""

from __future__ import annotations

from decimal import Decimal
from enum import StrEnum
from typing import TYPE_CHECKING, Any, Literal, TypedDict, Unpack, overload

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from jobs.errors import CallerError
from openings.calc.facts import MAX_SIDE_IN

if TYPE_CHECKING:  # Django's fields are generic in their stubs alone
    from django.db.models.expressions import Combinable

    Figure = models.DecimalField[Decimal | str | int | Combinable, Decimal]
    FigureOrNull = models.DecimalField[Decimal | str | int | Combinable | None, Decimal | None]
    Word = models.CharField[str | Combinable, str]

SMALLEST_IN = Decimal("0.00001")


class Options(TypedDict, total=False):
    """What a column may have beside its bounds."""

    blank: bool
    editable: bool
    help_text: str


@overload
def inches(default: Decimal | str | int | None = None, **options: Unpack[Options]) -> Figure: ...
@overload
def inches(default: None = None, *, null: Literal[True], **options: Unpack[Options]) -> FigureOrNull: ...
def inches(default: Decimal | str | int | None = None, **options: Any) -> Figure | FigureOrNull:
    """A length of 0 to 40 ft in decimal inches; five places hold a thirty-second exactly."""
    if default is not None:
        options["default"] = Decimal(default)
    bounds = [MinValueValidator(Decimal(0)), MaxValueValidator(MAX_SIDE_IN)]
    return models.DecimalField(max_digits=9, decimal_places=5, validators=bounds, **options)


def deviation() -> FigureOrNull:
    """How far something measured is from true, in inches; null where nobody measured it."""
    return inches(null=True, blank=True)


@overload
def number(default: Decimal | str | int | None = None, *, most: int, **options: Unpack[Options]) -> Figure: ...
@overload
def number(default: None = None, *, most: int, null: Literal[True], **options: Unpack[Options]) -> FigureOrNull: ...
def number(default: Decimal | str | int | None = None, *, most: int, **options: Any) -> Figure | FigureOrNull:
    """A figure of 0 to `most` with five places."""
    if default is not None:
        options["default"] = Decimal(default)
    bounds = [MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(most))]
    return models.DecimalField(max_digits=12, decimal_places=5, validators=bounds, **options)


def degrees(default: int) -> Figure:
    """A slope of 0 to 45 degrees."""
    return number(default, most=45)


def percent(default: int) -> Figure:
    """A part of a hundred, 0 to 100."""
    bounds = [MinValueValidator(0), MaxValueValidator(100)]
    return models.DecimalField(max_digits=5, decimal_places=2, default=default, validators=bounds)


@overload
def pounds(default: str, **options: Unpack[Options]) -> Figure: ...
@overload
def pounds(default: None = None, *, null: Literal[True], **options: Unpack[Options]) -> FigureOrNull: ...
def pounds(default: str | None = None, **options: Any) -> Figure | FigureOrNull:
    """A load of 0 to 100,000 lb."""
    return number(default, most=100_000, **options)


def one_of(enum: type[StrEnum], **options: Any) -> Word:
    """One of the words of an enum, stored as it reads."""
    return models.CharField(max_length=20, choices=[(member.value, member.value) for member in enum], **options)


def by_field(error: CallerError) -> ValidationError:
    """Return what a computation refused as an error of the fields that it named, or of the row as a whole."""
    if not error.faults:
        return ValidationError(error.detail, code=error.code)
    return ValidationError({fault.field: ValidationError(fault.detail, code=error.code) for fault in error.faults})


@overload
def side(**options: Unpack[Options]) -> Figure: ...
@overload
def side(*, null: Literal[True], **options: Unpack[Options]) -> FigureOrNull: ...
def side(**options: Any) -> Figure | FigureOrNull:
    """A side of an opening or a unit: above 0, at most 40 ft."""
    return _positive(MAX_SIDE_IN, **options)


def diagonal() -> Figure:
    """From corner to corner: shorter than the two longest sides together."""
    return _positive(2 * MAX_SIDE_IN)


def _positive(most_in: Decimal, **options: Any) -> Figure:
    bounds = [MinValueValidator(SMALLEST_IN), MaxValueValidator(most_in)]
    return models.DecimalField(max_digits=9, decimal_places=5, validators=bounds, **options)
