"""What the next trade finds."""

from __future__ import annotations

from dataclasses import replace

import pytest

from jobs.calc.sentence import Sentence
from openings.calc.next_trade import left_for_next_trade
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.terms import HeadFlashing, SillBead
from openings.calc.units import METRIC

AFTER = STARTING_DETAILS["flange over, wrap after"]
CASED = STARTING_DETAILS["casing, paper after"]


# No fastening of the lower edge of the sill strip nor of its last 9 in: AAMA 2400-10 cl. 5.7.3.3. Jambs: AAMA 2400,
# from memory. Sill free to drain: Building Science Corp. Info-302. The rest: common practice, no source.
@pytest.mark.parametrize(
    ("detail", "said"),
    [
        (
            AFTER,
            'the last 9" at each of its ends are free: no fastener goes there until the WRB is tucked up behind it',
        ),
        (AFTER, "the WRB laps down over the head strip"),
        (CASED, "the WRB laps down over the head membrane"),
        (replace(CASED, has_head_membrane=False), "have one laid first"),
        (replace(CASED, head_flashing=HeadFlashing.UNDER_SECOND_STRIP), "over the strip that covers the leg"),
        (
            replace(CASED, head_flashing=HeadFlashing.UNDER_SECOND_STRIP, has_head_membrane=False),
            "over the strip that covers the leg",
        ),
        (replace(CASED, head_flashing=HeadFlashing.AFTER_MEMBRANE), "over the upright leg of the drip cap"),
        (CASED, "No sealant goes along the lower edge of the drip cap"),
        (CASED, "No fastener goes through the face of the casing"),
        (AFTER, "the sill drains there"),
        (replace(AFTER, sill_bead=SillBead.DRAIN_GAPS), "closes the gaps at both ends of the sill"),
        (STARTING_DETAILS["flange over, wrap before"], "nothing is left to tuck in"),
        (STARTING_DETAILS["box frame replacement"], "stay as they were found"),
    ],
)
def test_what_is_free_and_how_the_wrb_laps_in_is_said(detail, said):
    left = left_for_next_trade(detail)
    assert any(said in sentence for sentence in left)
    assert {type(sentence) for sentence in left} == {Sentence}


def test_where_the_wrb_was_first_no_edge_is_free():
    assert not any("free" in sentence for sentence in left_for_next_trade(STARTING_DETAILS["flange over, wrap before"]))


def test_lengths_are_said_in_metric_where_asked():
    # 25.4 mm an inch: NIST Handbook 44, appendix C.
    assert any("228.6 mm" in sentence for sentence in left_for_next_trade(AFTER, units=METRIC))
