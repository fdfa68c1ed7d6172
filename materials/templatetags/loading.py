"""What stands in the loading column."""

from __future__ import annotations

from collections.abc import Mapping

from django import template

from materials.models import PullSheetLine

register = template.Library()


@register.simple_tag
def loaded(line: PullSheetLine, entered: Mapping[str, str]) -> str | int:
    """Return what was entered for a line and refused, else what is loaded."""
    saved = "" if line.loaded_packages is None else line.loaded_packages
    return entered.get(f"line-{line.pk}", saved)
