"""Every text that is translated has its translation; the catalogs are what code and templates say now."""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import StringIO

import polib
import pytest
from django.core.management import call_command

from config import translations
from jobs.calc.sentence import Sentence
from materials.calc.card_takes import PARTS
from openings.calc.card import GLOSSARY, STANDING, Seal, card_of
from openings.calc.facts import DetailFacts
from tests.openings.calc.card.variations import details, opening

LANGUAGES = ["es"]
PLACEHOLDER = re.compile(r"%\(\w+\)s|\{\w+\}")


@pytest.fixture(scope="module", params=LANGUAGES)
def language(request: pytest.FixtureRequest) -> str:
    return request.param


@pytest.fixture(scope="module")
def catalog(language: str) -> polib.POFile:
    return polib.pofile(str(translations.catalog_path(language)))


def test_the_catalogs_are_up_to_date_and_compiled(language):
    assert translations.is_written(language), "run manage.py translations"


def test_nothing_is_left_untranslated(language, catalog):
    assert translations.missing(language) == []
    assert not [entry.msgid for entry in catalog if entry.fuzzy or entry.obsolete]


def test_the_command_says_that_nothing_is_missing():
    said = StringIO()
    call_command("translations", "--check", stdout=said)
    assert said.getvalue() == "Español: 0 texts without translation\n"


def test_a_translation_is_filled_in_by_the_same_figures(catalog):
    for entry in catalog:
        said = entry.msgstr_plural.values() if entry.msgid_plural else [entry.msgstr]
        for text in said:
            assert sorted(PLACEHOLDER.findall(text)) == sorted(PLACEHOLDER.findall(entry.msgid)), entry.msgid


def test_django_reads_what_was_compiled(language, catalog):
    compiled = polib.mofile(str(translations.compiled_path(language)))
    assert {entry.msgid: entry.msgstr for entry in compiled} == {entry.msgid: entry.msgstr for entry in catalog}


def test_every_sentence_of_every_card_is_in_the_catalog(catalog):
    texts = {entry.msgid for entry in catalog}
    said = {sentence.text for detail in details() for sentence in _sentences_of(detail)}
    said |= {sentence.text for sentence in PARTS.values()}
    said |= {sentence.text for words in (*GLOSSARY, *STANDING) for sentence in words}
    assert said - texts == set()
    assert len(said) > 200


def _sentences_of(detail: DetailFacts) -> Iterator[Sentence]:
    facts = opening(36, 54)
    seals = tuple(
        Seal(at, facts.ro_width_in, facts.ro_width_in, facts.ro_width_in) for at in ("jambs", "head and sill")
    )
    for drawn in card_of(facts, detail, seals=seals):
        yield drawn.step.title
        yield drawn.step.why
        yield from drawn.step.see
        for sketch in drawn.sketches:
            yield sketch.shows
            yield from (measure.what for measure in sketch.measures)
            yield from (note.text for note in sketch.notes if isinstance(note.text, Sentence))
