"""Where a page answers what was done from it: `jobs/answer.py` says what."""

from __future__ import annotations

import re
from typing import Any

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from jobs.answer import FRAGMENT, Answer, answers

register = template.Library()

_PLACE = re.compile(r"<!--answer (?P<place>[\w-]+)(?: (?P<columns>\d+))?-->")


@register.inclusion_tag("sent_from.html", takes_context=True)
def sent_from(context: template.Context, *place: Any) -> dict[str, Any]:
    """What the form of an act sends along: its place, given by a name and ids, and the token against forgery."""
    return {"place": _joined(place)}


@register.simple_tag
def answer(*place: Any) -> SafeString:
    """A place where answers appear, given by a name and ids."""
    return format_html("<!--answer {}-->", _joined(place))


@register.simple_tag
def answer_row(columns: int, *place: Any) -> SafeString:
    """A place between the rows of a table, as wide as so many columns."""
    return format_html("<!--answer {} {}-->", _joined(place), columns)


@register.tag
def answered(parser: template.base.Parser, _token: template.base.Token) -> Answered:
    """What has places; each answer is put at the first of its own, or above everything where none is there."""
    content = parser.parse(("endanswered",))
    parser.delete_first_token()
    return Answered(content)


class Answered(template.Node):
    """Writes what stands in it, then puts the answers in their places."""

    child_nodelists = ("content",)

    def __init__(self, content: template.NodeList) -> None:
        self.content = content

    def render(self, context: template.Context) -> SafeString:
        html = self.content.render(context)
        there = {match["place"] for match in _PLACE.finditer(html)}
        given = answers(context["request"])
        by_place: dict[str, str] = {}
        for one in given:
            place = next((place for place in one.places if place in there), "")
            by_place[place] = by_place.get(place, "") + _written(context, one, is_newest=one is given[-1])

        def put(match: re.Match[str]) -> str:
            told = by_place.pop(match["place"], "")
            columns = match["columns"]
            return f'<tr class="answer-row"><td colspan="{columns}">{told}</td></tr>' if told and columns else told

        placed = _PLACE.sub(put, html)
        sure = "".join(_rendered(context, "sure.html", answer=one) for one in given if one.question)
        return mark_safe(by_place.get("", "") + sure + placed)  # noqa: S308 - templates wrote and escaped all of it


def _written(context: template.Context, one: Answer, *, is_newest: bool) -> str:
    return _rendered(context, "answer.html", answer=one, id=FRAGMENT if is_newest else "")


def _rendered(context: template.Context, name: str, **values: Any) -> str:
    with context.push(**values):
        return template.Engine.get_default().get_template(name).render(context)


def _joined(place: tuple[Any, ...]) -> str:
    return "-".join(str(part) for part in place)
