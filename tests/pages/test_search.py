"""Search over everything, from every page and over the API."""

from __future__ import annotations

import gzip

import pytest
from django.db import connection
from django.urls import reverse

from materials import queries
from openings.models import Opening
from tests.factories import (
    CrewFactory,
    JobFactory,
    PersonFactory,
    ProductFactory,
    make_openings,
    make_remnant,
    tomorrow,
)
from tests.materials.crew_days import make_crew_day
from tests.materials.rolls import make_sheet, make_strip
from tests.pages.html import html_of

pytestmark = pytest.mark.django_db

KINDS = 8


def found(words: str) -> set[tuple[str, str]]:
    return {(hit.kind, hit.name) for hit in queries.search(words)}


def test_each_kind_is_found_by_what_people_call_it():
    job = JobFactory(code="heron-house", name="Heron House", address="12 Quay Street\nSlatebrook")
    make_openings(1, job=job, mark="102-03")
    CrewFactory(name="Alder", truck="Truck 7")
    PersonFactory(first_name="Ines", last_name="Roe")
    ProductFactory(name="Butyl tape").lots.create(code="L-88", received_on=tomorrow(-1))
    remnant, sheet = make_remnant(make_strip(), 60), make_sheet(make_crew_day())
    for words, hit in (
        ("heron", ("job", "heron-house · Heron House")),
        ("quay st", ("job", "heron-house · Heron House")),
        ("102", ("opening", "102-03")),
        ("HERON-house/102", ("opening", "102-03")),
        ("heron 102-0", ("opening", "102-03")),
        ("alder", ("crew", "Alder")),
        ("truck 7", ("crew", "Alder")),
        ("roe ines", ("person", "Ines Roe")),
        ("butyl", ("product", "Butyl tape")),
        ("l-88", ("lot", "L-88")),
        (remnant.code.lower(), ("remnant", remnant.code)),
        (sheet.number, ("pull sheet", str(sheet))),
    ):
        assert hit in found(words), words


@pytest.mark.parametrize("words", ["", "   ", "%", "_", "x" * 200, "R99999999999999999999", "/", "a/", "\\"])
def test_what_goes_by_nothing_finds_nothing(words):
    make_openings(1, mark="W1")
    assert not found(words)


@pytest.mark.parametrize("openings", [1, 30])
def test_it_takes_one_query_a_kind_however_many(openings, django_assert_max_num_queries):
    make_openings(openings, job=JobFactory(code="j"))
    with django_assert_max_num_queries(KINDS):
        assert len(queries.search("j")) <= KINDS * queries.search.__globals__["MOST_OF_A_KIND"]


def test_openings_are_found_by_an_index():
    with connection.cursor() as cursor:
        cursor.execute("SET LOCAL enable_seqscan = off")
    assert "openings_by_how_marks_begin" in Opening.objects.filter(mark__istartswith="W1").order_by().explain()


def test_the_page_leads_to_what_was_found_and_every_page_to_it(scheduler):
    (one,) = make_openings(1, mark="W7")
    page = html_of(scheduler.get(reverse("search-page"), {"q": "w7"}))
    assert f'<a href="{reverse("opening-page", args=[one.pk])}">W7</a>' in page
    assert 'action="/search/"' in html_of(scheduler.get(reverse("jobs-page")))


@pytest.mark.parametrize("words", ["\x00", "x" * 81, "%00"])
def test_what_cannot_be_searched_is_no_fault_of_ours(scheduler, words):
    assert scheduler.get(reverse("search-page"), {"q": words}).status_code == 200
    assert scheduler.get("/api/v1/search/", {"q": words}).status_code in (200, 400)


def test_the_api_says_kind_name_and_where(scheduler):
    (one,) = make_openings(1, mark="W7")
    (told,) = scheduler.get("/api/v1/search/", {"q": "w7"}).json()
    assert told == {"kind": "opening", "id": one.pk, "name": "W7", "where": f"{one.job}{_floor(one)}"}
    assert scheduler.get("/api/v1/search/").status_code == 400


def _floor(one: Opening) -> str:
    return f", {one.floor}" if one.floor else ""


def test_pages_are_compressed_and_versions_are_not(scheduler):
    zipped = {"Accept-Encoding": "gzip"}
    page = scheduler.get(reverse("office-page"), headers=zipped)
    assert page["Content-Encoding"] == "gzip"
    assert b"Office" in gzip.decompress(page.content)
    row = scheduler.get(f"/api/v1/jobs/{JobFactory(address='2 Weir Lane ' * 20).pk}/", headers=zipped)
    assert not row.has_header("Content-Encoding")
    assert row["ETag"].startswith('"')
