from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from openings.calc.elevation import elevation_of
from openings.calc.elevation_shapes import Shape
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import jamb_shim_places_in
from openings.calc.lay_order import steps_for
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.terms import HeadFlashing, Mounting
from openings.calc.units import METRIC

OPENING = OpeningFacts(
    ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal("35.5"), unit_height_in=Decimal("53.5")
)
A1 = DetailFacts(
    mounting=Mounting.FLANGE, barrier_before_window=True, jamb_flashing_over_flange=True, strip_width_in=Decimal(9)
)


def named(detail: DetailFacts, start: str, opening: OpeningFacts = OPENING) -> Shape:
    return next(shape for shape in elevation_of(opening, detail).shapes if shape.title.startswith(start))


# Strip lengths: AAMA 2400-10 note 3 (sill and head: 36 + 2 × 9); jamb 54 + 2 × 8.5, AAMA 2400, from memory.
@pytest.mark.parametrize(
    ("strip", "x_in", "y_in", "width_in", "height_in"),
    [
        ("sill strip", -9, 54, 54, 9),
        ("left jamb strip", -9, "-8.5", 9, 71),
        ("right jamb strip", 36, "-8.5", 9, 71),
        ("head strip", -9, -9, 54, 9),
    ],
)
def test_strips_stand_around_the_rough_opening(strip, x_in, y_in, width_in, height_in):
    shape = named(A1, strip)
    drawn = (shape.x_in, shape.y_in, shape.width_in, shape.height_in)
    assert drawn == tuple(Decimal(side) for side in (x_in, y_in, width_in, height_in))


def test_jamb_strips_end_half_an_inch_inside_the_outer_edges_of_sill_and_head_strip():
    # AAMA 2400, from memory: the jamb strip stops 1/2 in short of the far edges.
    jamb = named(A1, "left jamb strip")
    assert jamb.y_in - named(A1, "head strip").y_in == Decimal("0.5")
    assert named(A1, "sill strip").bottom_in - jamb.bottom_in == Decimal("0.5")


# AAMA 2400-10 cl. 5.7.3: jamb flashing over the flange (A, A1) or behind it (B, B1).
@pytest.mark.parametrize(("over_flange", "first"), [(True, "unit"), (False, "left jamb strip")], ids=["A1", "B1"])
def test_what_laps_over_is_drawn_later(over_flange, first):
    detail = replace(A1, jamb_flashing_over_flange=over_flange)
    titles = [shape.title for shape in elevation_of(OPENING, detail).shapes]
    places = {name: next(n for n, title in enumerate(titles) if title.startswith(name)) for name in
              ("sill strip", "left jamb strip", "unit", "head strip")}  # fmt: skip
    assert min(("unit", "left jamb strip"), key=places.__getitem__) == first
    assert min(places, key=places.__getitem__) == "sill strip"
    assert max(places, key=places.__getitem__) == "head strip"


def test_the_pan_is_turned_up_at_both_trimmers():
    # JLC photo guide: 6 in up at each end.
    pan = [shape for shape in elevation_of(OPENING, A1).shapes if shape.kind == "pan"]
    turned_up = [shape for shape in pan if shape.height_in == 6]
    assert len(turned_up) == 2
    assert {shape.bottom_in for shape in pan} == {Decimal(54)}


def test_the_unit_is_centered_in_its_rough_opening():
    unit = named(A1, "unit")
    assert (unit.x_in, unit.y_in) == (Decimal("0.25"), Decimal("0.25"))


def test_the_head_membrane_runs_past_the_unit_alike_at_both_sides():
    # 6 in past the unit (common practice, no source): 35.5 + 12.
    membrane = named(A1, "head membrane")
    assert membrane.width_in == Decimal("47.5")
    assert membrane.x_in + membrane.right_in == 36


# 53.5 − 2 × 4 = 45.5 in are three gaps of at most 16 in, and 35.5 − 8 = 27.5 in are two (AAMA 2400, from memory).
def test_fasteners_stand_as_many_as_are_drawn_from_stock():
    fasteners = [point for point in elevation_of(OPENING, A1).points if point.kind == "fastener"]
    assert len(fasteners) == 2 * 4 + 2 * 3


@pytest.mark.parametrize("name", list(STARTING_DETAILS))
@pytest.mark.parametrize("sides", [(Decimal("3"), Decimal("3")), (Decimal(480), Decimal(12))], ids=["tiny", "wide"])
def test_everything_drawn_lies_on_the_sheet(name, sides):
    width_in, height_in = sides
    opening = OpeningFacts(
        ro_width_in=width_in, ro_height_in=height_in, unit_width_in=width_in, unit_height_in=height_in
    )
    drawing = elevation_of(opening, replace(STARTING_DETAILS[name], head_flashing=HeadFlashing.AFTER_MEMBRANE))
    for shape in drawing.shapes:
        assert shape.width_in > 0
        assert shape.height_in > 0
        assert drawing.left_in <= shape.x_in < shape.right_in <= drawing.left_in + drawing.width_in
        assert drawing.top_in <= shape.y_in < shape.bottom_in <= drawing.top_in + drawing.height_in
    for dimension in drawing.dimensions:
        for x_in, y_in in ((dimension.x1_in, dimension.y1_in), (dimension.x2_in, dimension.y2_in)):
            assert drawing.left_in < x_in < drawing.left_in + drawing.width_in
            assert drawing.top_in < y_in < drawing.top_in + drawing.height_in


def test_dimensions_are_lettered_in_tape_notation():
    texts = [dimension.text for dimension in elevation_of(OPENING, A1).dimensions]
    assert texts == ["RO 3' 0\"", "RO 4' 6\"", "unit 2' 11 1/2\"", "unit 4' 5 1/2\""]


def test_dimensions_and_cuts_are_lettered_in_millimeters_where_asked():
    # 25.4 mm an inch (NIST Handbook 44, appendix C): 36 in = 914.4 mm; sill strip 36 + 2 × 9 = 54 in = 1371.6 mm.
    drawing = elevation_of(OPENING, A1, units=METRIC)
    assert [dimension.text for dimension in drawing.dimensions] == [
        "RO 914.4 mm", "RO 1371.6 mm", "unit 901.7 mm", "unit 1358.9 mm"
    ]  # fmt: skip
    assert "sill strip 1371.6 mm" in [shape.title for shape in drawing.shapes]


@pytest.mark.parametrize("name", list(STARTING_DETAILS))
def test_shapes_are_numbered_as_their_steps_in_the_lay_order(name):
    detail = STARTING_DETAILS[name]
    numbers = [shape.number for shape in elevation_of(OPENING, detail).shapes if shape.number]
    assert numbers == sorted(set(numbers))
    codes = [step.code for step in steps_for(detail)]
    assert codes.index("set-unit") + 1 in numbers


def test_numbers_do_not_cover_one_another():
    detail = replace(A1, head_flashing=HeadFlashing.AFTER_MEMBRANE)
    drawing = elevation_of(OPENING, detail)
    marks = [shape.mark_in for shape in drawing.shapes if shape.number]
    for place, (x_in, y_in) in enumerate(marks):
        for other_x_in, other_y_in in marks[:place]:
            assert (x_in - other_x_in) ** 2 + (y_in - other_y_in) ** 2 >= (2 * drawing.number_in) ** 2


# AAMA 2400-10 cl. 5.7.3.3: the last 9 in of the sill strip stay free for a barrier that follows (A, B).
@pytest.mark.parametrize("over_flange", [True, False], ids=["A", "B"])
def test_what_of_the_sill_strip_stays_free_is_marked_where_the_barrier_follows(over_flange):
    detail = replace(A1, barrier_before_window=False, jamb_flashing_over_flange=over_flange)
    sill = named(detail, "sill strip")
    left, right, edge = (shape for shape in elevation_of(OPENING, detail).shapes if shape.kind == "left-free")
    assert (left.x_in, left.width_in) == (sill.x_in, 9)
    assert (right.right_in, right.width_in) == (sill.right_in, 9)
    assert edge.bottom_in == sill.bottom_in


def test_nothing_is_left_free_where_the_barrier_precedes():
    assert "left-free" not in {shape.kind for shape in elevation_of(OPENING, A1).shapes}


def test_the_back_dam_stands_on_the_sill():
    # 1/2 in: makers' notes, from memory.
    dam = named(A1, "back dam")
    assert (dam.height_in, dam.width_in, dam.bottom_in) == (Decimal("0.5"), 36, 54)


# First strap 8 in from the corner: AWDI manual p. 89. Jamb 53.5 − 16 = 37.5 in at 16 in are 4, head 19.5 in are 3.
@pytest.mark.parametrize(("shims", "kind"), [(True, "shimmed strap"), (False, "strap")])
def test_a_strapped_flange_shows_its_straps_beside_its_fasteners(shims, kind):
    drawing = elevation_of(OPENING, replace(A1, has_straps=True, has_shims_at_straps=shims))
    kinds = [point.kind for point in drawing.points]
    assert kinds.count(kind) == 2 * 4 + 3
    assert kinds.count("fastener") == 2 * 4 + 2 * 3


# Pairs near top and bottom and every 20 to 24 in: trade page (greenyplace), secondary; a strap's own pair is the
# jamb's: common practice, no source.
@pytest.mark.parametrize("shims", [True, False], ids=["at straps", "not at straps"])
def test_shims_are_drawn_where_they_are_counted(shims):
    detail = replace(STARTING_DETAILS["casing, paper after"], has_shims_at_straps=shims)
    points = elevation_of(OPENING, detail).points
    left = sorted(
        point.y_in for point in points if point.kind in {"shim", "shimmed strap"} and point.x_in == Decimal("0.25")
    )
    at_sill = Decimal("53.75")
    expected = [Decimal("0.25") + at for at in jamb_shim_places_in(OPENING, detail)]
    assert [y_in for y_in in left if y_in != at_sill] == expected
