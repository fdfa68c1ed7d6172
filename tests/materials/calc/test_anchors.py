from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from materials.calc.anchors import CAUTION, anchor_lines
from materials.calc.lines import DrawLine
from materials.calc.parts import Part
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.staged import Staged, StagedFastener, StagedStrap
from openings.calc.terms import FastenerKind
from openings.calc.units import METRIC
from openings.errors import BadDetail
from tests.materials.calc.drawn import CASED, FLANGED, REPLACEMENT, line_of, opening, parts_of

SCREWED = replace(CASED, has_straps=False)
FRAME_SCREWED = replace(REPLACEMENT, has_straps=False)


def unit(width: int, height: int, pressure: int | None = None) -> OpeningFacts:
    pressure_psf = None if pressure is None else Decimal(pressure)
    return opening(width, height, clearance="0", design_pressure_psf=pressure_psf)


def only_line(part: Part, detail: DetailFacts, facts: OpeningFacts) -> DrawLine:
    return line_of(part, anchor_lines(facts, detail))


def test_flange_of_3046_takes_14_fasteners_and_no_straps():
    # 4 in from the corner, 16 in apart: AAMA 2400, from memory.
    lines = anchor_lines(opening(36, 54), FLANGED)
    assert line_of(Part.FLANGE_FASTENER, lines).count == 14
    assert parts_of(lines) == {Part.FLANGE_FASTENER}


def test_a_casing_is_strapped_with_screws_both_ways_and_has_no_flange_fasteners():
    # Straps screwed to the jamb and fastened to the framing: common practice, no source.
    straps, jamb, framing = anchor_lines(opening(36, 54), CASED)
    assert (straps.part, jamb.part, framing.part) == (Part.STRAP, Part.JAMB_SCREW, Part.FRAMING_SCREW)
    assert (straps.count, jamb.count, framing.count) == (11, 22, 22)
    assert jamb.reason == "jamb screw, 22: 11 straps × 2 into the jamb"


def test_without_straps_a_casing_is_screwed_through_at_the_same_points():
    # Through the casing is allowed: common practice, no source.
    (screws,) = anchor_lines(opening(36, 54), SCREWED)
    assert (screws.part, screws.count) == (Part.FRAMING_SCREW, 11)
    assert screws.reason.startswith("framing screw, 11: through casing or frame, 4 on each jamb, 3 on the head")


def test_a_flange_may_be_strapped_as_well():
    found = parts_of(anchor_lines(opening(36, 54), replace(FLANGED, has_straps=True)))
    assert found == {Part.FLANGE_FASTENER, Part.STRAP, Part.JAMB_SCREW, Part.FRAMING_SCREW}


def test_where_a_strap_takes_no_screws_none_are_drawn():
    detail = replace(CASED, jamb_screws_per_strap=0, framing_screws_per_strap=0)
    assert parts_of(anchor_lines(opening(36, 54), detail)) == {Part.STRAP}


# Clips on each long side by AWDI installation manual p. 89, against straps 16 in apart, 8 in from the corner: on a
# jamb of 60 in 4 by spacing, of 48 in 3, of 72 in 5.
@pytest.mark.parametrize(
    ("pressure", "width", "height", "by_load", "by_spacing", "governs"),
    [
        (40, 36, 60, 3, 4, "spacing"),
        (50, 36, 60, 3, 4, "spacing"),
        (30, 48, 48, 2, 3, "spacing"),
        (65, 60, 72, 8, 5, "load"),
        (65, 36, 60, 4, 4, "spacing"),
    ],
    ids=["the page's example", "50 psf", "square", "large and high", "as many by both"],
)
def test_straps_by_load_or_spacing_whichever_asks_for_more(pressure, width, height, by_load, by_spacing, governs):
    straps = only_line(Part.STRAP, CASED, unit(width, height, pressure))
    assert straps.reason.split(": ", 1)[1].startswith(f"{max(by_load, by_spacing)} on each jamb, ")
    assert f"138.89 lb a strap, as the detail assumes: {by_load} a side, " in straps.reason
    assert straps.reason.endswith(f"where the spacing gives {by_spacing}; {governs} governs")


def test_screws_and_straps_follow_the_governing_count():
    straps, jamb, framing = anchor_lines(unit(60, 72, 65), CASED)
    assert (straps.count, jamb.count, framing.count) == (2 * 8 + 4, 2 * 20, 2 * 20)


def test_the_reason_of_a_flange_says_spacing_load_and_which_governs():
    # 600 lb on 15 sq ft at 40 psf; No. 8 screw in G .42, 82.4 lb/in × 1 in × 1.6 (NDS 12.2; 1.6 from memory).
    assert only_line(Part.FLANGE_FASTENER, FLANGED, unit(36, 60, 40)).reason == (
        'flange fastener, 16: 5 on each jamb, 3 on the head, 3 on the sill; first 4" from the corner, at most 1\' 4" '
        'apart; load 40 psf × 15 sq ft = 600 lb, half on each jamb, the long sides; 131.92 lb a screw 0.164" assumed '
        '(pull-out 82.45 lb/in × 1" × load duration 1.6): 3 a side, about 2\' 2 3/8" apart, where the spacing gives '
        "5; spacing "
        "governs"
    )


# The two long sides carry the load: AWDI manual p. 89. 65 psf × 40 sq ft = 2600 lb; 131.92 lb a screw, NDS 12.2.
@pytest.mark.parametrize(
    ("width", "height", "said"),
    [
        (96, 60, "5 on each jamb, 10 on the head, 10 on the sill"),
        (60, 96, "10 on each jamb, 5 on the head, 5 on the sill"),
    ],
    ids=["wide", "tall"],
)
def test_the_long_sides_of_a_flange_carry_the_load(width, height, said):
    fasteners = only_line(Part.FLANGE_FASTENER, FLANGED, unit(width, height, 65))
    assert said in fasteners.reason
    assert fasteners.count == 30
    assert fasteners.reason.endswith("where the spacing gives 7; load governs")


@pytest.mark.parametrize(
    ("detail", "part"), [(CASED, Part.STRAP), (SCREWED, Part.FRAMING_SCREW)], ids=["straps", "screws"]
)
def test_the_jambs_carry_a_wide_unit_that_has_no_anchors_at_its_sill(detail, part):
    # Our choice; 2600 lb / 2 / 138.9 lb (AWDI manual p. 89), / 131.9 lb (NDS 12.2).
    reason = only_line(part, detail, unit(96, 60, 65)).reason
    assert "10 on each jamb, 6 on the head, none on the sill" in reason
    assert "half on each jamb, since none is on the sill (company default)" in reason


@pytest.mark.parametrize(
    ("detail", "part"),
    [(CASED, Part.STRAP), (FLANGED, Part.FLANGE_FASTENER), (SCREWED, Part.FRAMING_SCREW)],
    ids=["straps", "flange", "screws"],
)
def test_without_a_design_pressure_the_reason_says_that_only_spacing_was_counted(detail, part):
    reason = only_line(part, detail, unit(36, 60)).reason
    assert reason.endswith("no design pressure is given, so only the spacing was counted")


def test_screws_through_a_box_frame_are_counted_by_load_only_with_a_stated_allowable():
    # Withdrawal is for a fastener along the load (NDS 12.2); through a box frame it is across.
    silent = only_line(Part.FRAMING_SCREW, FRAME_SCREWED, unit(60, 72, 65))
    assert (silent.count, "only the spacing was counted: through a box frame" in silent.reason) == (2 * 5 + 4, True)
    stated = replace(FRAME_SCREWED, fastener_allowable_lb=Decimal(100))
    screws = only_line(Part.FRAMING_SCREW, stated, unit(60, 72, 65))
    assert screws.count == 2 * 10 + 4  # 65 psf × 30 sq ft / 2 / 100 lb = 9.75
    assert "100 lb a fastener, as the detail assumes: 10 a side" in screws.reason


NAIL = StagedFastener(
    name="Roofing nail, 2 in",
    kind=FastenerKind.NAIL,
    diameter_in=Decimal("0.120"),
    penetration_in=Decimal(1),
)


def test_the_nail_that_is_staged_holds_less_than_the_screw_that_was_assumed():
    # 50 psf × 24 sq ft = 1200 lb, 600 lb a jamb. No. 8 screw 131.92 lb: 5 a jamb. Nail 1380 G^2.5 D × 1 in × 1.6 at
    # G 0.42 = 30.29 lb: 20 a jamb and 8 on head and sill (NDS 12.2; 1.6 from memory).
    assumed = only_line(Part.FLANGE_FASTENER, FLANGED, unit(48, 72, 50))
    assert (assumed.count, '131.92 lb a screw 0.164" assumed (pull-out 82.45 lb/in' in assumed.reason) == (18, True)
    nailed = only_line(Part.FLANGE_FASTENER, replace(FLANGED, staged=Staged(flange_fastener=NAIL)), unit(48, 72, 50))
    assert (nailed.count, "20 on each jamb, 4 on the head, 4 on the sill" in nailed.reason) == (48, True)
    assert (
        '30.29 lb a nail 0.120" as staged, Roofing nail, 2 in (pull-out 18.93 lb/in × 1" × load duration 1.6): '
        "20 a side" in nailed.reason
    )


RATED = StagedFastener(name="Frame anchor", allowable_lb=Decimal(200))
STRAP = StagedStrap(name="Strap, rated", allowable_lb=Decimal(260))


# 65 psf × 30 sq ft = 1950 lb, 975 lb a side; by spacing 5.
@pytest.mark.parametrize(
    ("detail", "staged", "a_jamb", "said"),
    [
        (CASED, Staged(strap=STRAP), 5, "260 lb a strap as rated, Strap, rated as staged: 4 a side"),
        (CASED, Staged(), 8, "138.89 lb a strap, as the detail assumes: 8 a side"),
        (CASED, Staged(framing_screw=NAIL), 17, '60.58 lb a strap, which 2 screws hold, each a nail 0.120" as staged'),
        (CASED, Staged(framing_screw=RATED), 8, "138.89 lb a strap, as the detail assumes: 8 a side"),
        (CASED, Staged(flange_fastener=NAIL), 8, "138.89 lb a strap, as the detail assumes: 8 a side"),
        (SCREWED, Staged(framing_screw=NAIL), 33, '30.29 lb a nail 0.120" as staged, Roofing nail, 2 in (pull-out'),
        (SCREWED, Staged(framing_screw=RATED), 5, "200 lb a fastener as rated, Frame anchor as staged: 5 a side"),
        (FRAME_SCREWED, Staged(framing_screw=NAIL), 5, "only the spacing was counted: through a box frame"),
        (FRAME_SCREWED, Staged(framing_screw=RATED), 5, "200 lb a fastener as rated, Frame anchor as staged: 5 a side"),
    ],
)
def test_what_is_staged_counts_before_what_the_detail_assumes(detail, staged, a_jamb, said):
    # Withdrawal NDS 12.2; a strap is rated by its product approval; the weakest link of an unrated one is our choice.
    part = Part.STRAP if detail.has_straps else Part.FRAMING_SCREW
    line = only_line(part, replace(detail, staged=staged), unit(60, 72, 65))
    assert line.count == 2 * a_jamb + 4
    assert said in line.reason


def test_where_the_load_asks_for_too_many_the_product_is_named():
    feeble = replace(NAIL, penetration_in=Decimal("0.01"))
    with pytest.raises(BadDetail, match=r"more than 500 anchors a side at .* lb each, as Roofing nail, 2 in holds"):
        anchor_lines(unit(60, 72, 100), replace(FLANGED, staged=Staged(flange_fastener=feeble)))


def test_a_reason_is_said_in_metric_too():
    # A pound of force is 4.448 N, 1 psf 47.88 Pa, a square foot 0.0929 m²: NIST SP 811, appendix B.
    reason = only_line(Part.STRAP, CASED, unit(36, 60, 40)).reason_in(METRIC)
    assert "first 203.2 mm from the corner, at most 406.4 mm apart" in reason
    assert "load 1915.21 Pa × 1.394 m² = 2668.93 N, half on each jamb; 617.81 N a strap" in reason


def test_the_caution_defers_to_product_approval_and_licensed_practice():
    # Anchors per product approval: IRC R609.7.2.1.
    assert "to be confirmed by the product approval and by licensed practice" in CAUTION
    assert "local code, the manufacturer, a product approval or an engineer" in CAUTION
