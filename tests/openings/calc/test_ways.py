"""Which ways are preferred and which allowed."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from jobs.calc.sentence import Sentence
from openings.calc.facts import OpeningFacts
from openings.calc.lay_order import usual_order
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.terms import HeadFlashing, SillBead
from openings.calc.units import METRIC
from openings.calc.ways import Standing, Way, ways_of

CASED = STARTING_DETAILS["casing, paper after"]
PREFERRED, ALLOWED, NOT_ADVISED = Standing
OPENING = OpeningFacts(
    ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal("35.5"), unit_height_in=Decimal("53.5")
)


def way(about: str, opening: OpeningFacts | None = None, **changes: object) -> Way:
    return next(way for way in ways_of(opening, replace(CASED, **changes)) if way.about == about)


# 12 in preferred, 9 in acceptable; pan and corner pieces; straps preferred, through the casing allowed; the four heads,
# with or without a strip above: common practice, no source. 9 in: AWDI manual p. 23. Open sill: Building Science Corp.
# Info-302; gaps: Pella 80WW0101. Pan: ASTM E2112-07 after SGH.
@pytest.mark.parametrize(
    ("about", "changes", "standing", "said"),
    [
        ("strip width", {}, PREFERRED, "Wide strips"),
        ("strip width", {"strip_width_in": Decimal(9)}, ALLOWED, "strips 1' 0\" wide are preferred"),
        ("sill pan", {}, PREFERRED, "runs out over the sill strip"),
        ("sill pan", {"has_pan": False}, ALLOWED, "Given up is the way out"),
        ("corner pieces", {}, PREFERRED, "knock of a heavy unit"),
        ("corner pieces", {"has_corner_pieces": False}, ALLOWED, "Corner pieces are preferred"),
        ("bead along the sill", {}, PREFERRED, "the whole sill"),
        ("bead along the sill", {"sill_bead": SillBead.DRAIN_GAPS}, ALLOWED, "open sill is preferred"),
        ("bead along the sill", {"sill_bead": SillBead.FULL, "has_pan": False}, ALLOWED, "only where little rain"),
        ("fastening", {}, PREFERRED, "no hole to seal"),
        ("fastening", {"has_straps": False}, ALLOWED, "a hole in the sealed face"),
        ("head", {}, PREFERRED, "sheds onto the next"),
        ("head", {"head_flashing": HeadFlashing.UNDER_SECOND_STRIP}, PREFERRED, "a piece more"),
        ("head", {"head_flashing": HeadFlashing.AFTER_MEMBRANE}, ALLOWED, "Only the bed"),
        ("head", {"head_flashing": HeadFlashing.NONE}, ALLOWED, "a metal cap throws it clear"),
        ("head", {"has_head_membrane": False, "has_head_strip": True}, PREFERRED, "sheds onto the next"),
        ("head", {"has_head_membrane": False}, NOT_ADVISED, "behind the uncovered leg"),
        ("head", {"has_head_membrane": False, "head_flashing": HeadFlashing.NONE}, ALLOWED, "the last thing"),
        ("strip above the head", {"has_head_strip": True}, PREFERRED, "covers the tops"),
        ("strip above the head", {}, ALLOWED, "saves a strip"),
        ("strip above the head", {"has_head_membrane": False}, NOT_ADVISED, "Nothing covers"),
        ("order of the steps", {"own_order": usual_order(CASED)}, ALLOWED, "the firm's or the maker's"),
    ],
)
def test_a_way_is_preferred_or_allowed_and_says_why(about, changes, standing, said):
    found = way(about, **changes)
    assert found.standing is standing
    assert said in found.why
    assert found.source
    assert {type(text) for text in (found.about, found.chosen, found.why)} == {Sentence}


def test_fastening_through_the_casing_says_what_it_costs_an_opening():
    # 4 on each jamb and 3 on the head: 8 in from the corner (AWDI manual p. 89), 16 in apart.
    found = way("fastening", OPENING, has_straps=False)
    assert (
        found.why == "11 holes go through the sealed face of this unit, each with a head to seal; straps are preferred."
    )


@pytest.mark.parametrize("name", list(STARTING_DETAILS))
def test_no_starting_detail_has_a_way_that_is_not_advised(name):
    ways = ways_of(OPENING, STARTING_DETAILS[name], units=METRIC)
    assert all(way.standing is not NOT_ADVISED for way in ways)
    assert not any(" in " in way.chosen and '"' in way.chosen for way in ways)
