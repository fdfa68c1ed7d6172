"""What stands in the loading column."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import template

from jobs.calc.say import counted, plural
from materials.models import PullSheetLine

register = template.Library()


@register.filter
def packages(count: int, package: str) -> str:
    """Return a number of packages in words."""
    return counted(count, package)


@register.filter
def package_of(count: int, package: str) -> str:
    """Return what stands behind a number of packages: one roll, two rolls."""
    return plural(package, count)


@register.simple_tag
def loaded(line: PullSheetLine, entered: Mapping[str, Any]) -> Any:
    """Return what was entered for a line and refused, else what is loaded."""
    saved = "" if line.loaded_packages is None else line.loaded_packages
    return entered.get(f"line-{line.pk}", saved)
