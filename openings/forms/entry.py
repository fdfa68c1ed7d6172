"""Forms of the columns of one table: their fields as the table has them, in groups as people look for them."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any, ClassVar

from django import forms
from django.contrib.postgres.fields import ArrayField
from django.core.exceptions import ValidationError
from django.db import models
from django.forms.models import fields_for_model
from django.utils.text import capfirst

from jobs.calc.say import field_name
from openings.calc.tape import format_length, read_length
from openings.errors import BadLength
from openings.forms.tape import TapeField

_UNITS = {"_psf": "psf", "_lb": "lb", "_deg": "degrees", "_pct": "%", "_range_f": "°F"}
"""By the end of a column's name: in which unit a bare figure of it is typed."""


class GlassField(forms.CharField):
    """The thickness of each lite of glass, outside first, with + between; its value is a list of inches."""

    def to_python(self, value: Any) -> list[Decimal]:  # type: ignore[override]  # text in, figures out
        text = super().to_python(value)
        try:
            return [read_length(lite, is_small=True) for lite in text.split("+")] if text else []
        except BadLength as error:
            raise ValidationError(error.detail, code=error.code) from error

    def prepare_value(self, value: Any) -> Any:
        return value if isinstance(value, str) else " + ".join(map(format_length, value or ()))


class EntryForm(forms.Form):
    """What is typed of one row of a table. Its values are columns by name, for the verb that adds or changes the row.

    Args of a kind of form:
        model: the table.
        columns: the columns of each group, by its title, in the order of the page.
        folded: groups that are closed until somebody opens them; nothing of them is required.
        small: columns of lengths that can only be small, so that 1/2 is half an inch.
        signed: columns of lengths that may be negative.
        labels: of columns whose name says too little.
        helps: what to type, by column.
    """

    model: ClassVar[type[models.Model]]
    columns: ClassVar[Mapping[str, Sequence[str]]]
    folded: ClassVar[Collection[str]] = ()
    small: ClassVar[Collection[str]] = ()
    signed: ClassVar[Collection[str]] = ()
    labels: ClassVar[Mapping[str, str]] = {}
    helps: ClassVar[Mapping[str, str]] = {}

    def __init__(self, data: Any = None, *, row: models.Model | None = None, **options: Any) -> None:
        """Show a row, or what was typed of it.

        Args:
            row: whose columns are shown where nothing was typed; a new one has the values that its table begins with.
        """
        names = [name for group in self.columns.values() for name in group]
        shown = row or self.model()
        initial = {name: getattr(shown, name) for name in names if hasattr(shown, name)}
        super().__init__(data, initial=initial | options.pop("initial", {}), **options)
        found = fields_for_model(self.model, fields=names, formfield_callback=self._field_of)
        self.fields = {**found, **self.fields}

    def groups(self) -> Iterator[tuple[str, list[forms.BoundField], bool]]:
        """Yield each group of fields with its title, and whether it is closed: not where something in it is wrong."""
        for title, names in self.columns.items():
            fields = [self[name] for name in names if name in self.fields]
            yield title, fields, title in self.folded and not any(field.errors for field in fields)

    def _field_of(self, column: models.Field[Any, Any], **options: Any) -> forms.Field | None:
        name = column.name
        options |= {"label": self._label(name), "help_text": self.helps.get(name, "")}
        if isinstance(column, ArrayField):
            return GlassField(required=False, **options)
        if name.endswith("_in"):
            return TapeField(
                is_small=name in self.small,
                is_signed=name in self.signed,
                required=not column.blank,
                validators=column.validators,
                **options,
            )
        return column.formfield(**options)

    def _label(self, name: str) -> str:
        unit = next((f", {said}" for end, said in _UNITS.items() if name.endswith(end)), "")
        return f"{self.labels.get(name) or capfirst(field_name(name))}{unit}"
