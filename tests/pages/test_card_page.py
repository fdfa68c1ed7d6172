"""The field card as a page: of an opening, of a detail, on paper, and in Spanish."""

from __future__ import annotations

import re
from dataclasses import asdict
from html import unescape

import pytest
from django.conf import settings
from django.urls import reverse

from jobs.models import Person
from openings import services
from openings.calc.lay_order import steps_for
from openings.calc.next_trade import left_for_next_trade
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.step_code import StepCode
from openings.calc.terms import HeadFlashing
from openings.calc.ways import ways_of
from openings.models import InstallationDetail
from tests.factories import DetailFactory, OpeningFactory, PersonFactory, make_catalogue, make_openings
from tests.openings.rows import measure
from tests.pages.html import html_of, texts_of
from tests.pages.people import signed_in

pytestmark = pytest.mark.django_db

WORDS = re.compile(r"[A-Za-zÀ-ÿ]{2,}")
A_SENTENCE = 3
"""From so many words on a text is a sentence."""


@pytest.fixture
def lead(db):
    return signed_in(Person.Role.SCHEDULER)


def card_of(client, opening, **asked: str) -> str:
    return unescape(html_of(client.get(reverse("card-page", args=[opening.pk]), asked)))


def test_each_step_stands_with_its_drawing_what_to_see_and_why(lead):
    make_catalogue()
    opening = OpeningFactory(mark="W3-01")
    page = card_of(lead, opening)
    steps = steps_for(opening.detail.as_facts())
    for number, step in enumerate(steps, start=1):
        assert f'<li id="step-{number}">' in page
        assert step.title in page
        assert step.why in page
        assert all(look in page for look in step.see)
    assert page.count('role="img"') == len(steps) + any(step.code == StepCode.PAN for step in steps)
    # AAMA 2400-10 note 3: rough-opening width + 2 × strip width, so 36 + 18 = 54 in.
    assert "sill strip, cut" in page
    assert "4' 6\"" in page
    assert "Local code, the manufacturer's instructions and licensed practice come before this card." in page


def test_a_card_lists_tools_what_the_next_trade_finds_and_the_ways_chosen(lead):
    opening = OpeningFactory()
    page = card_of(lead, opening)
    detail = opening.detail.as_facts()
    assert all(left in page for left in left_for_next_trade(detail))
    assert all(way.chosen in page and way.why in page for way in ways_of(opening.as_facts(), detail))
    assert "Tools and small supplies" in page
    assert "tape measure" in page


@pytest.mark.parametrize(
    ("named", "of", "leads_to", "whose"),
    [
        ("opening-page", "pk", "card-page", "pk"),
        ("opening-page", "pk", "detail-page", "detail_id"),
        ("card-page", "pk", "opening-page", "pk"),
        ("card-page", "pk", "detail-card-page", "detail_id"),
        ("detail-page", "detail_id", "detail-card-page", "detail_id"),
    ],
)
def test_opening_detail_and_cards_lead_to_each_other(lead, named, of, leads_to, whose):
    opening = OpeningFactory()
    page = html_of(lead.get(reverse(named, args=[getattr(opening, of)])))
    assert f'href="{reverse(leads_to, args=[getattr(opening, whose)])}"' in page


def test_a_detail_is_drawn_for_an_example_that_can_be_changed(lead):
    detail = DetailFactory()
    address = reverse("detail-card-page", args=[detail.pk])
    assert "3' 0\" × 4' 0\"" in unescape(html_of(lead.get(address)))
    page = unescape(html_of(lead.get(address, {"width_in": "6-0", "height_in": "60"})))
    assert "6' 0\" × 5' 0\"" in page


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"width_in": "wide", "height_in": "60"}, "wide"),
        ({"width_in": "60"}, "this is missing; give it"),
        ({"width_in": "900", "height_in": "60"}, "at most"),
        ({"width_in": "0.25", "height_in": "60"}, "above 0"),
        ({"language": "xx"}, "there is no language “xx”; ask for en or es"),
        ({"paper": "napkin"}, "there is no paper “napkin”; ask for letter or half"),
    ],
)
def test_what_cannot_be_drawn_is_refused_in_words(lead, asked, said):
    answer = lead.get(reverse("detail-card-page", args=[DetailFactory().pk]), asked)
    assert answer.status_code == 400
    assert said in unescape(html_of(answer))


def test_there_is_no_card_of_what_is_not_there(lead):
    assert lead.get(reverse("card-page", args=[999_999])).status_code == 404
    assert lead.get(reverse("detail-card-page", args=[999_999])).status_code == 404


def test_the_language_is_kept_for_the_next_card(lead):
    opening = OpeningFactory()
    assert '<html lang="es">' in card_of(lead, opening, language="es")
    assert lead.cookies[settings.LANGUAGE_COOKIE_NAME].value == "es"
    assert '<html lang="es">' in card_of(lead, opening)
    assert '<html lang="en">' in card_of(lead, opening, language="en")
    assert '<html lang="en">' in html_of(lead.get(reverse("opening-page", args=[opening.pk])))


@pytest.mark.parametrize("head", HeadFlashing)
@pytest.mark.parametrize("name", STARTING_DETAILS)
def test_a_card_in_spanish_says_no_sentence_in_english(lead, name, head):
    columns = {column.name for column in InstallationDetail._meta.get_fields()}
    facts = {column: value for column, value in asdict(STARTING_DETAILS[name]).items() if column in columns}
    detail = DetailFactory(name="d", **facts | {"head_flashing": head})
    address = reverse("detail-card-page", args=[detail.pk])
    english, spanish = (set(texts_of(lead.get(address, {"language": code}))) for code in ("en", "es"))
    same = {text for text in english & spanish if len(WORDS.findall(text)) >= A_SENTENCE}
    assert same == set()


@pytest.mark.parametrize(
    ("language", "built", "drawn"),
    [("en", "Rough opening as built", "as drawn"), ("es", "Hueco como está construido", "como está dibujado")],
)
def test_a_card_of_an_opening_as_built_says_both_sizes(lead, language, built, drawn):
    (opening,) = make_openings(1, ro_width_in=72, ro_height_in=60, unit_width_in="71.5", unit_height_in="59.5")
    assert drawn not in card_of(lead, opening, language=language)
    measured = measure(opening, "75", "60")
    services.accept_measurement(measurement_id=measured.pk, by=PersonFactory())
    page = card_of(lead, opening, language=language)
    assert "6' 3\" × 5' 0\"" in page
    assert "6' 0\" × 5' 0\"" in page
    assert built in page
    assert drawn in page


def test_half_a_sheet_is_a_choice_of_paper(lead):
    opening = OpeningFactory()
    assert '<article class="card letter">' in card_of(lead, opening)
    assert '<article class="card half">' in card_of(lead, opening, paper="half")
