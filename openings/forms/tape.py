"""Lengths as people write them ⇄ inches."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from openings.calc.figures import plain
from openings.calc.tape import format_length, read_length
from openings.errors import BadLength


class TapeField(forms.CharField):
    """A length in tape notation, decimal inches or metric; its value is inches.

    Args:
        is_small: it can only be small, so that 1/2 is half an inch.
        is_signed: it may be negative.
    """

    widget = forms.TextInput(attrs={"autocomplete": "off", "size": 9})

    def __init__(self, *, is_small: bool = False, is_signed: bool = False, **options: Any) -> None:
        super().__init__(**options)
        self.is_small, self.is_signed = is_small, is_signed

    def to_python(self, value: Any) -> Decimal | None:  # type: ignore[override]  # text in, a figure out
        text = super().to_python(value)
        if not text:
            return None
        try:
            return self._read(text)
        except BadLength as error:
            raise ValidationError(error.detail, code=error.code) from error

    def prepare_value(self, value: Any) -> Any:
        """Return a length as tape has it, or in decimals where no tape does: sent back, it must stay the same."""
        if not isinstance(value, Decimal):
            return value
        said = format_length(value)
        return said if self._read(said) == value else plain(value)

    def _read(self, text: str) -> Decimal:
        if self.is_signed and text.startswith(("-", "−")):
            return -read_length(text[1:], is_small=self.is_small)
        return read_length(text, is_small=self.is_small)
