"""What is found in what people read, and what is not."""

from __future__ import annotations

import pytest

from tests.plain_words import faults


@pytest.mark.parametrize(
    "text",
    [
        "written 2026-11-30",
        "starts at 14:00",
        "made at 06:30 each day",
        "2:00 PM UTC",
        "Denver, CO · America/Denver",
        "ro_width is too small",
        "placed by None",
        "bring back 1 rolls",
        "take 2 roll from stock",
        "done 40 %",
        "36.5 in wide",
        '0.125" out of plumb',
        "Lay order",
        "the barrier goes up later",
        "12 person-hours",
        "from memory",
        "Assign the ticked",
        "remarks (may stay empty)",
        "a window of three storeys",
    ],
)
def test_what_no_installer_says_is_found(text):
    assert faults(text)


@pytest.mark.parametrize(
    "text",
    [
        "Mon, Nov 30 at 2:00 PM, Mountain Time",
        "1 roll, 2 rolls, 1 1/2 rolls, 0.5 rolls",
        "3' 0 1/2\" × 4' 6\"",
        "0.003 in of movement",  # no tape shows a thousandth
        "Hold point: stop for inspection",
        "the weather-resistive barrier (WRB) goes on first",
        "1 less than planned, 1 is short",
        "12 labor hours, 40% done",
        "Job 22: 4 openings",
    ],
)
def test_what_an_installer_says_is_not_found(text):
    assert faults(text) == []


def test_a_code_of_a_step_is_found_whole():
    assert faults("record fold-barrier first", codes=["fold-barrier"]) != []
    assert "a code: unfolded sill-pans" not in faults("unfolded sill-pans", codes=["sill-pan"])
