from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.calc.sentence import Sentence
from openings.calc.facts import DetailFacts
from openings.calc.lay_order import Step, first_missing, read_order, ready_steps, steps_for
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.terms import HeadFlashing, Mounting, SillBead
from openings.calc.units import METRIC
from openings.errors import BadDetail, StepUnknown

CASED = replace(STARTING_DETAILS["casing, paper after"], head_flashing=HeadFlashing.NONE, has_head_strip=True)
FLANGED = STARTING_DETAILS["flange behind, wrap after"]


def every_detail() -> list[DetailFacts]:
    """Every detail that steps tell apart and that does not contradict itself."""
    found = []
    flags = (
        "barrier_before_window", "jamb_flashing_over_flange", "has_pan", "has_corner_pieces", "has_head_membrane",
        "has_head_strip", "has_straps",
    )  # fmt: skip
    for mounting, cap, bead, *answers in product(Mounting, HeadFlashing, SillBead, *[(True, False)] * len(flags)):
        try:
            found.append(
                DetailFacts(
                    mounting=mounting,
                    head_flashing=cap,
                    sill_bead=bead,
                    casing_width_in=Decimal(2 if mounting is Mounting.CASING else 0),
                    **dict(zip(flags, answers, strict=True)),
                )
            )
        except BadDetail:
            continue
    return found


ALL_DETAILS = every_detail()


def order(detail: DetailFacts) -> list[str]:
    return [step.code.value for step in steps_for(detail)]


def step(detail: DetailFacts, code: str, **options) -> Step:
    return next(step for step in steps_for(detail, **options) if step.code == code)


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


def laid(detail: DetailFacts, choices: st.DataObject) -> list[str]:
    """Lay a detail in any order that its steps allow."""
    steps = steps_for(detail)
    done: list[str] = []
    while ready := ready_steps(done=set(done), steps=steps):
        done.append(choices.draw(st.sampled_from(ready)).code.value)
    return done


# Sill, then jambs, then head: AWDI manual p. 23; pan before the window: BSESC/DOE sill pan page; jamb strips after
# the window in A and A1, before it in B and B1: AAMA 2400-10 cl. 5.7.3. The rest: common practice, no source.
@given(detail=st.sampled_from(ALL_DETAILS), choices=st.data())
def test_every_order_that_the_steps_allow_laps_from_the_bottom_up(detail, choices):
    laid_codes = laid(detail, choices)
    assert sorted(laid_codes) == sorted(order(detail))
    place = {code: number for number, code in enumerate(laid_codes)}

    def run(*codes: str) -> bool:
        places = [place[code] for code in codes if code in place]
        return places == sorted(places)

    assert run("fold-barrier", "sill-strip", "jamb-strips", "head-membrane", "head-strip", "close-barrier")
    assert run("sill-strip", "corner-pieces", "pan", "jamb-strips")
    assert run("pan", "set-unit", "shim", "fasten", "tool-bead", "head-membrane")
    assert run("joint-bead", "setting-bead", "set-unit")
    assert run("straps", "set-unit", "shim", "fasten")
    assert run("sill-strip", "set-unit", "head-strip")
    assert run("fasten", "air-seal")
    assert run("set-unit", "jamb-strips") if detail.method.startswith("A") else run("jamb-strips", "set-unit")
    if detail.head_flashing is HeadFlashing.BEFORE_MEMBRANE:
        assert run("tool-bead", "drip-cap", "head-membrane", "head-strip", "close-barrier")
    else:
        assert run("head-membrane", "drip-cap", "counter-flashing", "head-strip", "close-barrier")


@given(detail=st.sampled_from(ALL_DETAILS), done=st.sets(st.sampled_from(sorted(order(CASED) + order(FLANGED)))))
def test_a_step_is_ready_exactly_where_nothing_is_missing_before_it(detail, done):
    steps = steps_for(detail)
    closed = {step.code for step in steps if step.code in done and not first_missing(step.code, done=done, steps=steps)}
    ready = {step.code for step in ready_steps(done=closed, steps=steps)}
    free = {step.code for step in steps if first_missing(step.code, done=closed, steps=steps) is None}
    assert ready == free - closed


@pytest.mark.parametrize("units", [{}, {"units": METRIC}], ids=["us", "metric"])
def test_every_step_of_every_detail_says_what_to_do_what_to_see_and_where_from(units):
    for detail in ALL_DETAILS:
        for found in steps_for(detail, **units):
            assert found.title
            assert found.see
            assert found.why
            assert {type(said) for said in (found.title, *found.see, found.why)} == {Sentence}
            assert found.source
            assert not units or not any(re.search(r"\d in\b", look) for look in found.see)


def test_independent_steps_may_swap():
    # The unit is prepared while the opening is flashed: common practice, no source.
    ready = [step.code for step in ready_steps(done=set(), steps=steps_for(CASED))]
    assert ready == ["sill-strip", "joint-bead", "straps"]


# Open: Building Science Corp. Info-302; gaps of 1/2 in at both ends: Pella 80WW0101.
@pytest.mark.parametrize("mounting", Mounting)
@pytest.mark.parametrize(
    ("bead", "title", "look"),
    [
        (SillBead.OPEN, "jambs and head, not the sill", "no sealant lies along the sill"),
        (SillBead.DRAIN_GAPS, "a gap at each end of the sill to drain", 'stops 1/2" short of each jamb'),
        (SillBead.FULL, "jambs, head and sill", "it runs on along the sill"),
    ],
    ids=["open", "gaps", "full"],
)
def test_the_bead_along_the_sill_is_the_details_whatever_the_mounting(mounting, bead, title, look):
    detail = DetailFacts(
        mounting=mounting,
        barrier_before_window=False,
        jamb_flashing_over_flange=False,
        has_pan=False,
        casing_width_in=Decimal(2 if mounting is Mounting.CASING else 0),
        sill_bead=bead,
    )
    found = step(detail, "setting-bead")
    assert found.title.endswith(title)
    assert any(look in seen for seen in found.see)


# Lower edge and the last 9 in at each end: AAMA 2400-10 cl. 5.7.3.3; bottom of the jamb strips: from memory.
@pytest.mark.parametrize(
    ("is_over", "before", "is_kept_free"),
    [(True, False, True), (False, False, True), (True, True, False), (False, True, False)],
    ids=["A", "B", "A1", "B1"],
)
def test_strips_stay_unfastened_where_the_barrier_follows(is_over, before, is_kept_free):
    detail = replace(FLANGED, jamb_flashing_over_flange=is_over, barrier_before_window=before)
    for code in ("sill-strip", "jamb-strips"):
        assert any('9"' in seen and "WRB" in seen for seen in step(detail, code).see) is is_kept_free


def test_flange_corners_are_sealed_and_the_sill_drains():
    # Corners of mechanically joined frames: AAMA 2400-10 cl. 5.7.3.4. Sill: Building Science Corp. Info-302.
    seen = step(FLANGED, "set-unit").see
    assert "mechanically joined corners of the flange are sealed over the whole seam" in seen
    assert "the sill is open to drain" in seen
    assert not any("corners" in look for look in step(CASED, "set-unit").see)


def test_squeeze_out_is_seen_on_jambs_and_head_and_the_upright_leg_is_covered():
    # Common practice, no source.
    cased = STARTING_DETAILS["casing, paper after"]
    assert "squeeze-out shows on both jambs and the head" in step(cased, "tool-bead").see
    bare = {"has_head_membrane": False, "has_head_strip": True}
    for changes, covering in (
        ({}, "head-membrane"),
        ({"head_flashing": HeadFlashing.UNDER_SECOND_STRIP}, "counter-flashing"),
        (bare, "head-strip"),
    ):
        found = step(replace(cased, **changes), covering)
        assert any("upright leg is covered" in seen for seen in found.see)
        assert "upright leg of the drip cap" in found.title


def test_work_stops_where_the_next_step_covers_what_leaks():
    # Our choice.
    held = [step.code for step in steps_for(STARTING_DETAILS["casing, paper after"]) if step.is_hold_point]
    assert held == ["pan", "shim", "tool-bead", "drip-cap", "head-membrane"]
    with_strip = [step.code for step in steps_for(CASED) if step.is_hold_point]
    assert with_strip == ["pan", "shim", "tool-bead", "head-strip"]


def test_metric_sentences():
    # 25.4 mm an inch: NIST Handbook 44, appendix C; 9 in = 228.6 mm.
    assert any("228.6 mm" in seen for seen in step(FLANGED, "sill-strip", units=METRIC).see)


def test_corner_pieces_and_pan_lie_between_sill_strip_and_jamb_strips():
    # Common practice, no source.
    assert stands_before(CASED, "sill-strip", "corner-pieces", "pan", "jamb-strips")


def test_without_a_pan_the_jamb_strips_follow_the_sill_strip_at_once():
    # Common practice, no source.
    codes = order(replace(CASED, has_pan=False))
    assert codes.index("jamb-strips") == codes.index("sill-strip") + 1


def test_casing_joint_is_sealed_and_the_bead_run_before_setting_and_tooled_after():
    # Common practice, no source.
    assert stands_before(CASED, "joint-bead", "straps", "setting-bead", "set-unit", "shim", "fasten", "tool-bead")
    assert stands_before(CASED, "tool-bead", "head-membrane", "head-strip")


# Cap first, its leg covered by the membrane; membrane, cap, second strip; cap bedded over the membrane; each with or
# without a strip above: common practice, no source.
@pytest.mark.parametrize("has_head_strip", [True, False], ids=["head strip", "no head strip"])
@pytest.mark.parametrize(
    ("head_flashing", "codes"),
    [
        (HeadFlashing.NONE, ["head-membrane"]),
        (HeadFlashing.BEFORE_MEMBRANE, ["drip-cap", "head-membrane"]),
        (HeadFlashing.AFTER_MEMBRANE, ["head-membrane", "drip-cap"]),
        (HeadFlashing.UNDER_SECOND_STRIP, ["head-membrane", "drip-cap", "counter-flashing"]),
    ],
    ids=["membrane alone", "cap first", "cap bedded", "second strip"],
)
def test_the_head_is_stepped_as_it_is_chosen(head_flashing, codes, has_head_strip):
    found = order(replace(CASED, head_flashing=head_flashing, has_head_strip=has_head_strip))
    assert found[found.index("tool-bead") + 1 :] == [*codes, *["head-strip"] * has_head_strip, "air-seal"]


def test_straps_go_on_the_unit_before_it_is_lifted_and_to_the_framing_once_it_is_true():
    # Screwed to the jambs while the unit is prepared, fastened after it is level, plumb and square: common practice,
    # no source.
    steps = steps_for(CASED)
    assert first_missing("straps", done=set(), steps=steps) is None
    assert {"straps", "shim"} <= set(step(CASED, "fasten").after)
    assert "straps" in step(CASED, "set-unit").after
    assert step(CASED, "fasten").title == "Bend the straps in and fasten them to the framing inside"
    unstrapped = replace(CASED, has_straps=False)
    assert "straps" not in order(unstrapped)
    assert "every head through the casing is sealed" in step(unstrapped, "fasten").see


def test_an_order_of_ones_own_is_followed_step_by_step():
    # Our choice: what is usually laid over a step and here comes before it has to be recorded before it.
    own = tuple(step.code for step in steps_for(FLANGED))
    turned = tuple(dict.fromkeys(["head-strip", *own]))
    detail = replace(FLANGED, own_order=read_order(turned))
    assert order(detail) == list(turned)
    assert step(detail, "head-strip").after == ()
    assert first_missing("jamb-strips", done=set(), steps=steps_for(detail)).code == "head-strip"
    assert steps_for(replace(FLANGED, own_order=own)) == steps_for(FLANGED)


@pytest.mark.parametrize(
    ("codes", "wrong"),
    [
        (["sill-strip"], "missing: corner-pieces, pan, jamb-strips"),
        ([*order(FLANGED), "drip-cap"], "not a step of this detail: drip-cap"),
        ([*order(FLANGED), "pan"], "there more than once: pan"),
        ([*order(FLANGED), "paint"], "paint: no such install step"),
    ],
    ids=["too few", "of another detail", "twice", "unknown"],
)
def test_an_order_of_ones_own_has_every_step_once(codes, wrong):
    with pytest.raises(BadDetail, match=wrong) as refused:
        steps_for(replace(FLANGED, own_order=read_order(codes)))
    assert [fault.field for fault in refused.value.faults] == ["own_order"]


@pytest.mark.parametrize(
    ("step", "done", "missing"),
    [
        ("head-strip", set(), "sill-strip"),
        ("head-strip", {"sill-strip", "corner-pieces", "pan"}, "jamb-strips"),
        ("set-unit", {"sill-strip", "corner-pieces", "pan", "jamb-strips", "setting-bead"}, "joint-bead"),
        ("set-unit", {"sill-strip", "corner-pieces", "pan", "jamb-strips", "joint-bead", "setting-bead"}, "straps"),
        ("joint-bead", set(), None),
        ("air-seal", {"sill-strip", "corner-pieces", "pan", "jamb-strips", "joint-bead", "straps"}, "setting-bead"),
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


@pytest.mark.parametrize("detail", STARTING_DETAILS.values(), ids=STARTING_DETAILS.keys())
def test_pan_stands_between_strips_and_without_one_jambs_need_the_sill_directly(detail):
    # Common practice, no source.
    flashed = replace(detail, barrier_before_window=False)
    assert "sill-strip" in step(flashed, "pan").after
    assert "pan" in step(flashed, "jamb-strips").after
    assert "sill-strip" in step(replace(flashed, has_pan=False), "jamb-strips").after
