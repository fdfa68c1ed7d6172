"""Days and figures as people read them, for the pages of this floor."""

from __future__ import annotations

from decimal import Decimal

from django import template

from jobs.calc import say

register = template.Library()
register.filter("said_day", say.day)


@register.filter
def figure(value: Decimal) -> str:
    """Return a figure without zeros that say nothing."""
    return f"{value.normalize():f}"
