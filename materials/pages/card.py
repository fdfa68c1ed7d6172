"""The field card: how one opening is laid, step by step, in the language of whoever lays it."""

from __future__ import annotations

from collections.abc import Sequence

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import override

from jobs.errors import BadInput
from jobs.page import Page, values_of
from materials import queries
from openings.calc.card import GLOSSARY, STANDING, Example
from openings.calc.units import METRIC, US
from openings.forms import ExampleForm
from openings.measure_fields import LONGEST_SHOWN, units_of

PAPERS = ("letter", "half")
"""The sheets a card is printed on: US Letter, or half of one."""

LANGUAGE = settings.LANGUAGE_COOKIE_NAME


@Page
def card(request: HttpRequest, opening_id: int) -> HttpResponse:
    """The card of one opening."""
    return _shown(request, queries.opening_card(opening_id, units=units_of(request)))


@Page
def detail_card(request: HttpRequest, detail_id: int) -> HttpResponse:
    """The card of a detail, drawn for a rough opening of the size that is asked for."""
    asked = request.GET if {"width_in", "height_in"} & request.GET.keys() else None
    form = ExampleForm(asked, initial=Example()._asdict())
    example = Example(**values_of(form)) if asked else Example()
    return _shown(request, queries.detail_card(detail_id, example=example, units=units_of(request)), form)


def _shown(request: HttpRequest, found: queries.FieldCard, form: ExampleForm | None = None) -> HttpResponse:
    language = _one_of(request, "language", [code for code, _ in settings.LANGUAGES], request.COOKIES.get(LANGUAGE, ""))
    with override(language):
        answer = render(
            request,
            "materials/card.html",
            {
                "card": found,
                "form": form,
                "language": language,
                "languages": settings.LANGUAGES,
                "paper": _one_of(request, "paper", PAPERS),
                "other_units": US if found.units.is_metric else METRIC,
                "cautions": STANDING,
                "glossary": GLOSSARY,
            },
        )
    if "language" in request.GET:
        answer.set_cookie(LANGUAGE, language, max_age=31_536_000, samesite="Lax", secure=request.is_secure())
    return answer


def _one_of(request: HttpRequest, name: str, choices: Sequence[str], kept: str = "") -> str:
    """Return what the address asks for, else what was asked for before, else the first choice.

    Raises:
        BadInput: the address asks for something else.
    """
    asked = request.GET.get(name, kept if kept in choices else choices[0])
    if asked not in choices:
        shown = asked[:LONGEST_SHOWN]
        raise BadInput.of(name, shown, f"there is no {name} “{shown}”; ask for {' or '.join(choices)}")
    return asked
