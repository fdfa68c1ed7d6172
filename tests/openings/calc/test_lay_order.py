from __future__ import annotations

from dataclasses import replace

import pytest

from openings.calc.facts import DetailFacts, HeadFlashing, Mounting
from openings.calc.lay_order import first_missing, steps_for
from openings.calc.starting_details import STARTING_DETAILS
from openings.errors import StepUnknown

CASED = replace(STARTING_DETAILS["casing, paper after"], head_flashing=HeadFlashing.NONE)
ALL_DETAILS = {
    f"{name}, drip cap {cap}, pan {pan}": replace(detail, head_flashing=cap, has_pan=pan)
    for name, detail in STARTING_DETAILS.items()
    for cap in HeadFlashing
    for pan in (True, False)
}


def order(detail: DetailFacts) -> list[str]:
    return [step.code.value for step in steps_for(detail)]


def stands_before(detail: DetailFacts, *codes: str) -> bool:
    places = [order(detail).index(code) for code in codes]
    return places == sorted(places)


# Flashing over or behind the flange: JLC, two strategies compared; AAMA 2400-10 cl. 5.7.3. When the barrier
# goes on: from memory, ASTM E2112 section 8.
@pytest.mark.parametrize(
    ("over_flange", "before", "method"),
    [(True, False, "A"), (True, True, "A1"), (False, False, "B"), (False, True, "B1")],
    ids=["A", "A1", "B", "B1"],
)
def test_method_and_its_order(over_flange, before, method):
    detail = DetailFacts(mounting=Mounting.FLANGE, barrier_before_window=before, jamb_flashing_over_flange=over_flange)
    assert detail.method == method
    if over_flange:
        assert stands_before(detail, "sill-strip", "set-unit", "jamb-strips", "head-strip")
    else:
        assert stands_before(detail, "sill-strip", "jamb-strips", "set-unit", "head-strip")
    assert ("fold-barrier" in order(detail)) is before
    assert ("close-barrier" in order(detail)) is before


# Sill, then jambs, then head: AWDI manual p. 23; pan before the window: BSESC/DOE sill pan page.
@pytest.mark.parametrize("detail", ALL_DETAILS.values(), ids=ALL_DETAILS.keys())
def test_no_step_needs_a_later_one_and_all_in_order_may_be_done(detail):
    steps = steps_for(detail)
    done: set[str] = set()
    for step in steps:
        assert first_missing(step.code, done=done, steps=steps) is None
        assert done >= set(step.after)
        done.add(step.code)
    assert len(done) == len(steps)


def test_corner_pieces_and_pan_lie_between_sill_strip_and_jamb_strips():
    # Common practice, no source.
    assert stands_before(CASED, "sill-strip", "corner-pieces", "pan", "jamb-strips")


def test_without_a_pan_the_jamb_strips_follow_the_sill_strip_at_once():
    # Common practice, no source.
    codes = order(replace(CASED, has_pan=False))
    assert codes.index("jamb-strips") == codes.index("sill-strip") + 1


def test_casing_joint_is_sealed_and_the_bead_run_before_setting_and_tooled_after():
    # Common practice, no source.
    assert stands_before(CASED, "joint-bead", "setting-bead", "set-unit", "shim", "fasten", "tool-bead")
    assert stands_before(CASED, "tool-bead", "head-membrane", "head-strip")


# Before the membrane and counter-flashed, or after it: common practice, no source.
@pytest.mark.parametrize(
    ("head_flashing", "codes"),
    [
        (HeadFlashing.BEFORE_MEMBRANE, ("drip-cap", "counter-flashing", "head-membrane", "head-strip")),
        (HeadFlashing.AFTER_MEMBRANE, ("head-membrane", "drip-cap", "head-strip")),
    ],
    ids=["before", "after"],
)
def test_drip_cap_before_or_after_the_membrane(head_flashing, codes):
    assert stands_before(replace(CASED, head_flashing=head_flashing), *codes)


@pytest.mark.parametrize(
    ("step", "done", "missing"),
    [
        ("head-strip", set(), "sill-strip"),
        ("head-strip", {"sill-strip", "corner-pieces", "pan"}, "jamb-strips"),
        ("set-unit", {"sill-strip", "corner-pieces", "pan", "jamb-strips", "setting-bead"}, "joint-bead"),
        ("joint-bead", set(), None),
        ("air-seal", {"sill-strip", "corner-pieces", "pan", "jamb-strips", "joint-bead"}, "setting-bead"),
    ],
)
def test_a_step_out_of_order_names_the_one_that_must_come_first(step, done, missing):
    found = first_missing(step, done=done, steps=steps_for(CASED))
    assert (found and found.code.value) == missing


def test_a_box_frame_behind_a_standing_barrier_takes_no_strips():
    assert not {"sill-strip", "jamb-strips", "head-strip"} & set(order(STARTING_DETAILS["box frame replacement"]))


def test_an_unknown_step_is_refused_by_name():
    with pytest.raises(StepUnknown, match="paint is not a step here"):
        first_missing("paint", done=set(), steps=steps_for(CASED))
