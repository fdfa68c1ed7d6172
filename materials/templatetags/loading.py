"""What stands in the loading column, what is taken beyond the need, and the amounts of small supplies."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from django import template

from materials.calc.load_list import LoadItem
from materials.calc.spare import spare_rule
from materials.models import PullSheetLine
from openings.calc.units import Units

register = template.Library()

register.filter("spare_rule", spare_rule)


@register.simple_tag
def loaded(line: PullSheetLine, entered: Mapping[str, str]) -> str | int:
    """Return what was entered for a line and refused, else what is loaded."""
    saved = "" if line.loaded_packages is None else line.loaded_packages
    return entered.get(f"line-{line.pk}", saved)


@register.filter
def amount_in(item: LoadItem, units: Units) -> str:
    """Return how much of a small supply is taken; nothing for a tool."""
    return item.amount_in(units)


@register.filter
def tools_in(items: Iterable[LoadItem], units: Units) -> list[dict[str, str]]:
    """Return tools and small supplies as a pull sheet keeps them, with amounts in the units asked for."""
    return [{"name": item.name, "amount": item.amount_in(units), "why": item.why} for item in items]
