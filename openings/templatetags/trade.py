"""How figures of the trade are written on a page."""

from __future__ import annotations

from collections.abc import ItemsView, Mapping, Sized
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django import template
from django.utils import timezone

from jobs.calc import say
from openings.calc.as_built import RoughOpening, say_size
from openings.calc.figures import brief, plain
from openings.calc.hours import say_hours
from openings.calc.tape import format_length
from openings.calc.units import US, Reasoned, Units
from openings.schedules import counts_in_words, meaning_name, parts_of

register = template.Library()

register.filter("plain", plain)
register.filter("counted", say.counted)
register.filter("zone_name", say.zone_name)
register.filter("words", say.path_name)
register.filter("clock", say.time_of, expects_localtime=True)
register.filter("meaning_name", meaning_name)
register.filter("counts_in_words", counts_in_words)
register.filter("parts_of", parts_of)


@register.filter(expects_localtime=True)
def day(on: date) -> str:
    """A date in words, with its year where that is another than this one."""
    return say.day(on, timezone.localdate())


@register.filter(expects_localtime=True)
def moment(at: datetime) -> str:
    """A date and the time of day, where the page is about."""
    return f"{day(at)} at {say.time_of(at)}"


@register.filter
def plural(noun: str, count: int | Decimal | Sized) -> str:
    """A noun, or is, was and it, in the number that a count asks for, or that there are of something."""
    return say.plural(noun, len(count) if isinstance(count, Sized) else count)


@register.filter
def amount(figure: Decimal | int, noun: str) -> str:
    """A figure of at most two places with what it counts: 1 roll, 0.5 rolls."""
    shown = brief(Decimal(figure))
    return f"{shown} {say.plural(noun, Decimal(shown))}"


@register.filter
def source_kind(source: str) -> str:
    """What leads to a source: whether it is published or a default that the shop may change."""
    return "Company default, editable" if "company default" in source else "Source"


@register.filter
def unbroken(lengths: str) -> str:
    """Lengths, none of which is broken at the end of a line."""
    return ", ".join(length.replace(" ", "\xa0") for length in lengths.split(", "))


@register.filter
def tape(inches: Decimal) -> str:
    """Inches in tape notation."""
    return format_length(inches)


@register.filter
def as_length(inches: Decimal, units: Units) -> str:
    """A length in tape notation, or in millimeters where metric is asked for."""
    return units.say(inches) if units.is_metric else format_length(inches)


@register.filter
def both_sizes(rough_opening: RoughOpening, units: Units = US) -> str:
    """The size of a rough opening, as built and as drawn where the two are known."""
    return rough_opening.said(units.say if units.is_metric else format_length)


@register.filter
def short_size(rough_opening: RoughOpening) -> str:
    """The size of a rough opening that counts, for where there is little room: no line ends within a length."""
    return say_size(rough_opening.in_force_in, lambda inches: format_length(inches).replace(" ", "\N{NO-BREAK SPACE}"))


@register.filter
def weight(pounds: Decimal, units: Units) -> str:
    """A weight with its unit."""
    return units.say(pounds, "lb")


@register.filter
def reason_in(line: Reasoned, units: Units) -> str:
    """The reason of a line of draw or labor."""
    return line.reason_in(units)


@register.filter
def hours(figure: Decimal | int) -> str:
    """At most two places; for hours, packages and volumes."""
    return brief(Decimal(figure))


@register.filter
def worked(hours: Decimal) -> str:
    """Hours that somebody worked, to the minute."""
    return say_hours(hours)


@register.filter
def quantity(figure: Decimal, measure: str, units: Units = US) -> str:
    """The exact quantity in the measure of its product: tape notation for a length, a bare number for pieces."""
    if units.is_metric and measure != "each":
        return units.say(figure, measure.replace(" ", ""))
    match measure:
        case "in":
            return format_length(figure)
        case "each":
            return plain(figure)
    return f"{brief(figure)} {measure}"


@register.filter
def drawn(line: Any, units: Units) -> str:
    """The exact quantity of a line of a draw."""
    return quantity(line.quantity, line.unit, units)


@register.filter
def said(value: Any, column: str) -> str:
    """What an opening has in a column, as a person says it."""
    if value is None or value == "" or value == []:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return " + ".join(format_length(Decimal(one)) for one in value)
    measure = column.rpartition("_")[2]
    if measure == "in":
        return format_length(Decimal(value))
    return f"{plain(Decimal(value))} {measure}" if measure in ("lb", "psf") else str(value)


@register.simple_tag
def said_change(column: str, old: Any, new: Any) -> str:
    """Old and new value of a column; exact inches where the tape would not tell them apart."""
    told = (said(old, column), said(new, column))
    if told[0] == told[1]:
        told = (f"{plain(old)} in", f"{plain(new)} in")
    return " → ".join(told)


@register.filter
def pairs(mapping: Mapping[str, Any]) -> ItemsView[str, Any]:
    """Keys with values; of a counter too, whose `items` a template would take for a key."""
    return mapping.items()


@register.filter
def one_line(text: str) -> str:
    """Lines joined by commas, as an address on an envelope read aloud."""
    return ", ".join(line.strip() for line in text.splitlines() if line.strip())


@register.simple_tag(takes_context=True)
def same_page(context: template.Context, **changes: Any) -> str:
    """The query string of this page with some values changed; an empty value leaves its name out."""
    asked = context["request"].GET.copy()
    for name, value in changes.items():
        asked.pop(name, None)
        if value not in ("", None):
            asked[name] = value
    return f"?{asked.urlencode()}"


@register.simple_tag(takes_context=True)
def turned(context: template.Context, number: int, name: str = "") -> str:
    """The query string of this page with a list of it turned to another page; `name` where it has several lists."""
    return same_page(context, **{name or "page": number})
