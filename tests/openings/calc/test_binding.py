"""The table of what may change: the same in the code and in DEVELOPERS.md, and complete."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from itertools import combinations

import pytest
from django.conf import settings

from openings.calc.binding import BUILD, COUNTED, REMARKS, TABLE, Answer, Bond, Bound, Verb, answer_to, decide, revising
from openings.models import Opening

SINCE = datetime(2026, 11, 30, 14, tzinfo=UTC)
TITLE = "## What may change once "


def bounds(*bonds: Bond) -> list[Bound]:
    return [Bound(bond=bond, since=SINCE, said=f"it is {bond}") for bond in bonds]


def test_the_table_in_the_documentation_is_the_table_of_the_code():
    text = (settings.BASE_DIR / "DEVELOPERS.md").read_text()
    section = text.split(TITLE)[1].split("\n## ")[0]
    lines = [re.split(r"\s*\|\s*", line.strip("| \n")) for line in section.splitlines() if line.startswith("|")]
    heading, _, *rows = lines
    assert heading[1:] == list(Bond)
    assert {row[0]: row[1:] for row in rows} == {verb: [TABLE[verb][bond] for bond in Bond] for verb in Verb}


def test_a_newcomer_is_led_to_the_table():
    text = (settings.BASE_DIR / "DEVELOPERS.md").read_text()
    (line,) = [line for line in text.splitlines() if line.startswith("| What may change once ")]
    assert "openings/calc/binding.py" in line


@pytest.mark.parametrize("verb", Verb)
def test_what_a_looser_and_a_tighter_bond_say_together_is_the_stricter(verb):
    for some in (few for many in range(1, 5) for few in combinations(list(Bond)[:-1], many)):
        answer = answer_to(verb, some)
        assert answer == max((TABLE[verb][bond] for bond in some), key=list(Answer).index)
        decision = decide(verb, bounds(*some))
        assert decision.answer is answer
        assert TABLE[verb][decision.by.bond] is answer
        assert bool(decision.why_refused) == (answer is Answer.REFUSED)
    assert answer_to(verb, [*Bond]) == TABLE[verb][Bond.DONE]
    assert decide(verb, []).answer is Answer.GOES_ON


@pytest.mark.parametrize(("looser", "tighter"), [(Verb.REVISE_FACTS, Verb.REVISE_COUNTED), (Verb.VOID, Verb.REMOVE)])
def test_nothing_that_touches_more_is_allowed_more(looser, tighter):
    answers = list(Answer)
    assert all(answers.index(TABLE[looser][bond]) <= answers.index(TABLE[tighter][bond]) for bond in Bond)


@pytest.mark.parametrize(
    ("columns", "verb"),
    [
        ([], Verb.REVISE_REMARKS), (["remarks"], Verb.REVISE_REMARKS), (["floor", "weight_lb"], Verb.REVISE_FACTS),
        (["is_egress"], Verb.REVISE_FACTS), (["lites_in", "frame_material"], Verb.REVISE_COUNTED),
        (["ro_width_in", "remarks"], Verb.REVISE_BUILD), (["detail"], Verb.REVISE_BUILD),
    ],
)  # fmt: skip
def test_the_column_that_matters_most_says_what_a_change_is(columns, verb):
    assert revising(columns) is verb


def test_columns_are_named_as_they_are_stored():
    assert {field.name for field in Opening._meta.get_fields()} >= REMARKS | COUNTED | BUILD
