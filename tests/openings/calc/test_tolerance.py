from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.facts import OpeningFacts
from openings.calc.limits import diagonal_limit_in, level_limit_in, true_diagonal_in, twist_limit_in
from openings.calc.readings import DEVIATION_NAMES, READING_NAMES, SIDE_NAMES, TITLES, Measured, Readings
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.tolerance import Answer, Check, checks_of, is_within
from openings.calc.units import METRIC
from openings.errors import BadDetail, BadLength

DETAIL = STARTING_DETAILS["flange behind, wrap before"]
OPENING = OpeningFacts(
    ro_width_in=Decimal(36),
    ro_height_in=Decimal(54),
    unit_width_in=Decimal("35.5"),
    unit_height_in=Decimal("53.5"),
)
SIDES = Readings(
    width_top_in=Decimal(36),
    width_middle_in=Decimal(36),
    width_bottom_in=Decimal(36),
    height_left_in=Decimal(54),
    height_middle_in=Decimal(54),
    height_right_in=Decimal(54),
    diagonal_rising_in=Decimal("64.9"),
    diagonal_falling_in=Decimal("64.9"),
)
"""What a tape alone says: no level, string or straightedge."""

TRUE = replace(SIDES, **dict.fromkeys(DEVIATION_NAMES, Decimal(0)))
SET = replace(TRUE, measured=Measured.SET_UNIT)


def check(name: str, of: Readings = TRUE, **readings: str) -> Check:
    measured = replace(of, **{field: Decimal(inches) for field, inches in readings.items()})
    return next(check for check in checks_of(measured, OPENING, DETAIL) if check.name.startswith(name))


# Up to and with 20 sq ft 1/8 in, above 1/4 in: JELD-WEN JII023 p. 3, JPG006 p. 8.
@pytest.mark.parametrize(
    ("width", "height", "limit"),
    [("48", "60", "0.125"), ("48", "61", "0.25"), ("36", "54", "0.125"), ("48", "60.00001", "0.25")],
    ids=["20 sq ft", "20.33 sq ft", "13.5 sq ft", "a hair over 20"],
)
def test_diagonals(width, height, limit):
    assert diagonal_limit_in(Decimal(width), Decimal(height)) == Decimal(limit)


# 1/16 in in 2 ft, never more than 1/8 in: JELD-WEN JII023 p. 3; JPG006: 1/16 on a 2 ft level, 1/8 on 4 ft or longer.
@pytest.mark.parametrize(("run", "limit"), [("24", "0.0625"), ("36", "0.09375"), ("48", "0.125"), ("60", "0.125")])
def test_level_and_plumb(run, limit):
    assert level_limit_in(Decimal(run)) == Decimal(limit)


# 1/8 in up to 4 ft wide or high, 3/16 in where larger: JELD-WEN JPG006.
@pytest.mark.parametrize(
    ("width", "height", "limit"),
    [("48", "48", "0.125"), ("48.01", "24", "0.1875"), ("24", "48.01", "0.1875"), ("36", "54", "0.1875")],
    ids=["4 ft", "wider", "higher", "36 x 54"],
)
def test_twist_of_a_set_unit(width, height, limit):
    assert twist_limit_in(Decimal(width), Decimal(height)) == Decimal(limit)


@pytest.mark.parametrize(
    ("width", "height", "diagonal"), [("36", "54", "64.900"), ("48", "60", "76.837")], ids=["36 x 54", "48 x 60"]
)
def test_diagonal_of_a_true_rectangle(width, height, diagonal):
    # Pythagoras.
    assert round(true_diagonal_in(Decimal(width), Decimal(height)), 3) == Decimal(diagonal)


def test_an_eighth_of_rack_parts_the_diagonals_by_0_139():
    # 2 r W / D: for r = 1/8 over 36 × 54 in, 0.139 in. The head shifts by r, so one diagonal spans W + r, one W - r.
    rack, width, height = Decimal("0.125"), Decimal(36), Decimal(54)
    longer, shorter = (true_diagonal_in(width + shift, height) for shift in (rack, -rack))
    assert round(longer - shorter, 3) == Decimal("0.139")


def test_a_true_opening_passes_every_check():
    checks = checks_of(TRUE, OPENING, DETAIL)
    assert is_within(checks)
    assert len(checks) == 10


def test_a_true_set_unit_passes_and_is_not_asked_for_clearance_or_crown():
    unit = replace(SET, width_top_in=Decimal("35.5"), width_middle_in=Decimal("35.5"), width_bottom_in=Decimal("35.5"))
    checks = checks_of(unit, OPENING, DETAIL)
    assert is_within(checks)
    assert [check.name for check in checks] == [
        "widths differ by", "heights differ by", "diagonals differ by", "sill out of level by",
        "left jamb out of plumb by", "right jamb out of plumb by", "unit twists by",
    ]  # fmt: skip


# Limits as above; three readings within 1/8 in of each other: trade pages, secondary. No crown or sag, twist less
# than 1/8 in: JELD-WEN JII023 p. 3.
@pytest.mark.parametrize(
    ("name", "readings", "passed"),
    [
        ("widths differ", {"width_top_in": "36.125"}, True),
        ("widths differ", {"width_top_in": "36.1875"}, False),
        ("heights differ", {"height_right_in": "53.8125"}, False),
        ("diagonals differ", {"diagonal_rising_in": "65.025"}, True),
        ("diagonals differ", {"diagonal_rising_in": "65.026"}, False),
        ("sill out of level", {"sill_out_of_level_in": "0.09375"}, True),
        ("sill out of level", {"sill_out_of_level_in": "0.1"}, False),
        ("left jamb out of plumb", {"left_out_of_plumb_in": "0.125"}, True),
        ("right jamb out of plumb", {"right_out_of_plumb_in": "0.13"}, False),
        ("sill crowns or sags", {"sill_crown_in": "0"}, True),
        ("sill crowns or sags", {"sill_crown_in": "0.00001"}, False),
        ("face twists", {"twist_in": "0.12499"}, True),
        ("face twists", {"twist_in": "0.125"}, False),
        ("clearance in width", {"width_middle_in": "35.5"}, True),
        ("clearance in width", {"width_middle_in": "35.4375"}, False),
        ("clearance in height", {"height_left_in": "53.4375"}, False),
    ],
)
def test_a_reading_at_its_limit_passes_and_one_over_fails(name, readings, passed):
    assert check(name, **readings).passed is passed


# JELD-WEN JPG006: sides agree within 1/16 in, twist 3/16 in (36 × 54 in is larger than 4 ft), level and plumb as
# above; p. 8: diagonals.
@pytest.mark.parametrize(
    ("name", "readings", "passed"),
    [
        ("widths differ", {"width_middle_in": "36.0625"}, True),
        ("widths differ", {"width_middle_in": "35.93"}, False),
        ("heights differ", {"height_middle_in": "54.07"}, False),
        ("diagonals differ", {"diagonal_rising_in": "65.025"}, True),
        ("diagonals differ", {"diagonal_rising_in": "65.026"}, False),
        ("sill out of level", {"sill_out_of_level_in": "0.09376"}, False),
        ("unit twists", {"twist_in": "0.1875"}, True),
        ("unit twists", {"twist_in": "0.18751"}, False),
    ],
)
def test_a_set_unit_at_its_limit_passes_and_one_over_fails(name, readings, passed):
    found = check(name, SET, **readings)
    assert found.passed is passed
    assert "JPG006" in found.source


# Geometry; no published limit for the bow of a rough jamb.
@pytest.mark.parametrize(
    ("readings", "clearance"),
    [
        ({"left_bow_in": "0.25"}, "0.25"),
        ({"left_bow_in": "0.75"}, "-0.25"),
        ({"left_bow_in": "0.25", "right_bow_in": "0.125", "width_middle_in": "35.625"}, "0.125"),
        ({"right_bow_in": "0.25", "width_middle_in": "35.75"}, "0.25"),
        ({"right_bow_in": "0.25", "width_top_in": "35.75"}, "0"),
    ],
    ids=["both bow right", "too much", "both bow in: the middle shows it", "one bows in", "off the narrower end"],
)
def test_a_straight_unit_passes_beside_the_bow(readings, clearance):
    found = check("clearance in width", **readings)
    assert found.reading_in == Decimal(clearance)
    assert found.passed is (Decimal(clearance) >= 0)


OWN_CHECKS = {
    "sill_out_of_level_in": "sill out of level by",
    "left_out_of_plumb_in": "left jamb out of plumb by",
    "right_out_of_plumb_in": "right jamb out of plumb by",
    "left_bow_in": "left jamb bows in by",
    "right_bow_in": "right jamb bows in by",
    "sill_crown_in": "sill crowns or sags by",
    "twist_in": "face twists by",
}


def answers(readings: Readings) -> dict[str, Answer]:
    return {check.name: check.answer for check in checks_of(readings, OPENING, DETAIL)}


def test_what_nobody_measured_neither_passes_nor_fails():
    found = answers(SIDES)
    assert {name for name, answer in found.items() if answer is Answer.NOT_MEASURED} == set(OWN_CHECKS.values())
    assert {answer for name, answer in found.items() if name not in OWN_CHECKS.values()} == {Answer.PASSED}
    assert is_within(checks_of(SIDES, OPENING, DETAIL))
    assert SIDES.not_measured == DEVIATION_NAMES


@pytest.mark.parametrize("field", DEVIATION_NAMES)
def test_one_deviation_that_nobody_measured_is_named_and_has_no_reading(field):
    missing = replace(TRUE, **{field: None})
    found = next(check for check in checks_of(missing, OPENING, DETAIL) if check.name == OWN_CHECKS[field])
    assert (found.answer, found.passed, found.reading_in) == (Answer.NOT_MEASURED, None, None)
    assert "not measured" in found.reason
    assert missing.not_measured == (field,)


def test_a_set_unit_is_not_asked_for_bow_and_crown():
    unit = replace(SIDES, measured=Measured.SET_UNIT)
    not_measured = [name for name, answer in answers(unit).items() if answer is Answer.NOT_MEASURED]
    assert not_measured == [
        "sill out of level by", "left jamb out of plumb by", "right jamb out of plumb by", "unit twists by",
    ]  # fmt: skip


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_bow_that_nobody_measured_takes_nothing_off_and_the_clearance_says_so(side):
    # Smallest of three readings: Polaris installation page. Bow: geometry.
    missing = replace(TRUE, **{f"{side}_bow_in": None})
    found = check("clearance in width", missing)
    assert found.reading_in == Decimal("0.5")
    assert "a bow that was not measured takes nothing off" in found.reason
    other = "right" if side == "left" else "left"
    found = check("clearance in width", missing, **{f"{other}_bow_in": "0.75"})
    assert (found.reading_in, found.passed) == (Decimal("-0.25"), False)
    assert "not measured" not in check("clearance in width").reason


def test_metric_sentences_say_the_same_limits():
    # 25.4 mm an inch: NIST Handbook 44, appendix C. 1/8 in = 3.175 mm, 20 sq ft = 1.858 m².
    found = checks_of(replace(TRUE, diagonal_rising_in=Decimal(65)), OPENING, DETAIL, units=METRIC)
    reason = next(check.reason for check in found if check.name == "diagonals differ by")
    assert reason.startswith("diagonals differ by 2.54 mm, within 3.175 mm: 3.175 mm up to 1.858 m², 6.35 mm above")
    assert not any(" in;" in check.reason or " ft" in check.reason for check in found)


@given(deviations=st.dictionaries(st.sampled_from(READING_NAMES[8:]), st.integers(0, 64), max_size=7))
def test_less_of_a_deviation_never_fails_what_passed(deviations):
    worse = replace(TRUE, **{name: Decimal(parts) / 64 for name, parts in deviations.items()})
    better = replace(TRUE, **{name: Decimal(parts) / 128 for name, parts in deviations.items()})
    for before, after in zip(checks_of(worse, OPENING, DETAIL), checks_of(better, OPENING, DETAIL), strict=True):
        assert after.passed or not before.passed


def test_clearance_is_taken_at_the_narrowest_place_and_names_what_the_detail_asks_for():
    # Smallest of three readings: Polaris installation page.
    found = check("clearance in width", width_bottom_in="35.75")
    assert found.reading_in == Decimal("0.25")
    assert 'the detail asks for 1/2"' in found.reason


# A rough opening is typically 1/2 to 1 in larger than its frame: shop-drawing note, secondary.
@pytest.mark.parametrize(
    ("readings", "passed"),
    [
        ({"width_top_in": "36.5", "width_middle_in": "36.5", "width_bottom_in": "36.5"}, True),
        ({"width_top_in": "36.5", "width_middle_in": "36.5625", "width_bottom_in": "36.5"}, False),
    ],
    ids=["an inch", "a sixteenth more at one place"],
)
def test_more_room_than_the_detail_allows_is_out_of_tolerance_at_the_widest_place(readings, passed):
    assert check("clearance in width", **readings).passed is passed


def test_an_opening_three_inches_too_wide_says_what_would_mend_it():
    wide = dict.fromkeys(("width_top_in", "width_middle_in", "width_bottom_in"), Decimal(75))
    high = dict.fromkeys(("height_left_in", "height_middle_in", "height_right_in"), Decimal(60))
    drawn = replace(
        OPENING, ro_width_in=Decimal(72), unit_width_in=Decimal("71.5"), ro_height_in=Decimal(60),
        unit_height_in=Decimal("59.5"),
    )  # fmt: skip
    found = checks_of(replace(TRUE, **wide, **high), drawn, DETAIL)
    assert not is_within(found)
    clearance = next(one for one in found if one.name == "clearance in width")
    assert (clearance.reading_in, clearance.limit_in) == (Decimal("3.5"), Decimal(1))
    assert clearance.reason == (
        'largest width 6\' 3" − unit 5\' 11 1/2" = 3 1/2", over 1", the most that the detail allows: pack the framing '
        "out to 6' 0\" and measure again, or order a unit that fits"
    )


def test_a_detail_allows_the_clearance_that_it_asks_for():
    wide = replace(DETAIL, ro_clearance_height_in=Decimal("2.5"), most_clearance_height_in=Decimal("2.5"))
    assert wide.most_clearance_width_in == 1
    with pytest.raises(BadDetail, match='less than the rough opening clearance height of 2 1/2"') as refused:
        replace(wide, most_clearance_height_in=Decimal("2.4375"))
    assert [fault.field for fault in refused.value.faults] == ["most_clearance_height_in"]


@pytest.mark.parametrize("field", SIDE_NAMES)
def test_a_reading_of_nothing_is_refused(field):
    with pytest.raises(BadLength, match=TITLES[field]) as refused:
        replace(TRUE, **{field: Decimal(0)})
    assert [fault.field for fault in refused.value.faults] == [field]


@pytest.mark.parametrize("field", READING_NAMES)
def test_a_negative_reading_is_refused(field):
    with pytest.raises(BadLength, match=TITLES[field]):
        replace(TRUE, **{field: Decimal("-0.1")})


@pytest.mark.parametrize("field", ["left_bow_in", "right_bow_in", "sill_crown_in"])
def test_a_set_unit_has_no_bow_or_crown_of_its_own(field):
    with pytest.raises(BadLength, match=f"{TITLES[field]}: leave it out; of a set unit"):
        replace(SET, **{field: Decimal("0.1")})
