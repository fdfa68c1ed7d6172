from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calc.draw import draw_of
from materials.calc.lines import DrawLine
from materials.calc.parts import MEASURES, Part
from materials.calc.product import Measure, ProductFacts
from materials.calc.served import served_in
from materials.calc.supply import Supplied, pieces_of, require_supplied, supplied
from materials.errors import (
    LapTooLong,
    MeasureMismatch,
    MissingCoverage,
    MissingProduct,
    NotFurnished,
    OutOfRange,
    StripWiderThanRoll,
)
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.terms import HeadFlashing
from openings.calc.units import METRIC

FLANGED = replace(STARTING_DETAILS["flange over, wrap before"], strip_width_in=Decimal(9))
CASED = STARTING_DETAILS["casing, paper after"]


def opening(width: Decimal | int, height: Decimal | int, clear: str = "0.5") -> OpeningFacts:
    return OpeningFacts(
        ro_width_in=Decimal(width),
        ro_height_in=Decimal(height),
        unit_width_in=width - Decimal(clear),
        unit_height_in=height - Decimal(clear),
    )


def lines(*parts: Part, size: OpeningFacts | None = None, detail: DetailFacts = FLANGED) -> list[DrawLine]:
    return [line for line in draw_of(size or opening(36, 54), detail) if not parts or line.part in parts]


def product(part: Part, quantity: Decimal | int | str = 900, **facts: object) -> ProductFacts:
    values = {"code": part.value, "name": f"{part} stock", "measure": MEASURES[part], "package": "roll"}
    return ProductFacts(**values | {"package_quantity": Decimal(quantity)} | facts)


def shelf(**facts: object) -> Callable[[Part], ProductFacts]:
    return lambda part: product(part, **facts)


def errors(result: Supplied) -> list[tuple[type[NotFurnished], str]]:
    return [(fall.error, fall.fault.field) for fall in result.faults]


def test_what_is_chosen_and_long_enough_leaves_the_draw_as_it_is():
    drawn = lines()
    made, faults = supplied(drawn, shelf())
    assert [item.line for item in made] == drawn
    assert faults == ()


def test_packages_are_the_share_that_one_opening_takes():
    (sill,) = supplied(lines(Part.SILL_STRIP), shelf()).lines
    # 54 in of 900 (AAMA 2400-10 note 3): 0.06.
    assert sill.packages == Decimal("0.06")
    assert supplied(lines(Part.SILL_STRIP), lambda _part: None).lines[0].packages is None


# n pieces with n - 1 laps between them: n × roll - (n - 1) × lap >= run, arithmetic. Lap 4 in: 2 to 4 in, from memory.
@pytest.mark.parametrize(
    ("run", "roll", "lap", "pieces"),
    [
        (100, 100, 4, 1),
        ("100.00001", 100, 4, 2),
        (196, 100, 4, 2),
        ("196.00001", 100, 4, 3),
        (200, 100, 0, 2),
        (201, 100, 0, 3),
        (3, 100, 4, 1),
    ],
    ids=[
        "a whole roll",
        "a hair more",
        "two rolls less a lap",
        "a hair more than two",
        "butted",
        "butted, more",
        "lap",
    ],
)
def test_a_run_goes_into_as_few_pieces_as_laps_allow(run, roll, lap, pieces):
    assert pieces_of(Decimal(run), roll_in=Decimal(roll), lap_in=Decimal(lap)) == pieces


@given(
    run=st.decimals("0.1", 2000, places=4),
    roll=st.decimals("1", 900, places=4),
    share=st.decimals(0, "0.5", places=3),
)
def test_pieces_cover_the_run_and_are_no_longer_than_a_roll(run, roll, share):
    lap = share * roll
    pieces = pieces_of(run, roll_in=roll, lap_in=lap)
    each = (run + (pieces - 1) * lap) / pieces
    assert each <= roll
    assert abs(pieces * each - (pieces - 1) * lap - run) < Decimal("1e-15")
    assert pieces == 1 or (pieces - 1) * roll - (pieces - 2) * lap < run


def test_a_strip_longer_than_a_roll_is_pieced_and_says_so():
    # 54 in from a roll of 50: (54 + 4) / 2 = 29 in twice, 58 in together.
    (sill,) = supplied(lines(Part.SILL_STRIP), shelf(quantity=50)).lines
    assert (sill.line.count, sill.line.each, sill.line.quantity) == (2, 29, 58)
    assert sill.line.reason == (
        'sill strip, 2 × 2\' 5": rough-opening width 3\' 0" + 2 × 9" strip width; in 2 pieces lapped 4", as a '
        "roll holds "
        "4' 2\""
    )
    assert sill.line.source == 'AAMA 2400-10 note 3; laps: company default, editable (2" to 4", source not checked)'
    assert "2 × 736.6 mm: " in sill.line.reason_in(METRIC)
    assert "lapped 101.6 mm, as a roll holds 1270 mm" in sill.line.reason_in(METRIC)


def test_each_jamb_is_pieced_by_itself():
    # 71 in a side (AAMA 2400, from memory) from a roll of 50: (71 + 4) / 2 = 37.5 in, two a side.
    (jamb,) = supplied(lines(Part.JAMB_STRIP), shelf(quantity=50)).lines
    assert (jamb.line.count, jamb.line.each, jamb.line.quantity) == (4, Decimal("37.5"), 150)
    assert '; each in 2 pieces lapped 4"' in jamb.line.reason


def test_backer_rod_is_butted():
    # 2 × (35.5 + 53.5) = 178 in from a roll of 100: 89 in twice.
    (rod,) = supplied(lines(Part.BACKER_ROD), shelf(quantity=100)).lines
    assert (rod.line.count, rod.line.each, rod.line.quantity) == (2, 89, 178)
    assert rod.line.reason.endswith("in 2 pieces butted, as a roll holds 8' 4\"")
    assert "laps" not in rod.line.source


def test_a_drip_cap_is_pieced_and_its_joint_sealed():
    # 35.5 + 2 × 1/2 = 36.5 in from pieces of 30: (36.5 + 4) / 2. Continuous: AWDI manual p. 23.
    detail = replace(FLANGED, head_flashing=HeadFlashing.AFTER_MEMBRANE)
    (cap,) = supplied(lines(Part.DRIP_CAP, detail=detail), shelf(quantity=30, package="piece")).lines
    assert (cap.line.count, cap.line.each) == (2, Decimal("20.25"))
    assert "as a piece holds 2' 6\"" in cap.line.reason
    assert "AWDI manual p. 23 wants it continuous, so seal the joint" in cap.line.source


@pytest.mark.parametrize(("roll", "is_pieced"), [("7.99", False), (8, True)])
def test_a_lap_takes_at_most_half_of_a_piece(roll, is_pieced):
    # Our choice: with more, all of the run would lie double.
    made, faults = supplied(lines(Part.SILL_STRIP), shelf(quantity=roll))
    assert (made[0].line.count > 1) is is_pieced
    assert [fall.error for fall in faults] == [] if is_pieced else [LapTooLong]


# Coverage of 200 to 350 sq ft a gallon is usual (from memory); a gallon is 231 cu in (NIST Handbook 44, appendix C).
def primed(coverage: str | None = "250", **facts: object) -> Callable[[Part], ProductFacts]:
    def find(part: Part) -> ProductFacts:
        if part is Part.PRIMER:
            known = Decimal(coverage) if coverage else None
            return product(part, 231, package="can", primer_sqft_per_gal=known)
        is_strip = part in {Part.SILL_STRIP, Part.JAMB_STRIP, Part.HEAD_STRIP}
        return product(part, width_in=Decimal(9), needs_primer=is_strip, **facts)

    return find


def test_primer_covers_the_area_of_all_that_needs_it():
    # 3046 with 9 in strips takes 250 in: 250 × 9 / 144 = 15.625 sq ft; × 231 / 250 = 14.4375 cu in.
    made, faults = supplied(lines(), primed())
    primer = made[-1]
    assert faults == ()
    assert (primer.line.part, primer.line.count, primer.line.quantity) == (Part.PRIMER, 1, Decimal("14.4375"))
    assert primer.packages == Decimal("0.0625")
    assert primer.line.reason == (
        "primer, 14.44 cu in: sill strip 3.38 sq ft + jamb strip 8.88 sq ft + head strip 3.38 sq ft, together "
        "15.63 sq ft; a gallon of 231 cu in covers 250 sq ft"
    )
    assert primer.line.source == "JLC, choosing flexible flashings 3; coverage from the product"
    assert "a gallon of 3785.41 ml covers 23.226 m²" in primer.line.reason_in(METRIC)


def test_only_membranes_take_primer_of_this_kind():
    # Sealants are primed by the bead, which no coverage by area tells: our choice.
    bead = product(Part.FLANGE_BEAD, needs_primer=True)
    made, faults = supplied(lines(Part.FLANGE_BEAD), lambda _part: bead)
    assert ([item.line.part for item in made], faults) == ([Part.FLANGE_BEAD], ())


@given(
    width=st.decimals(12, 400, places=3),
    more=st.decimals("0.01", 80, places=3),
    coverage=st.decimals(100, 400, places=2),
)
def test_more_width_takes_more_primer_and_better_coverage_less(width, more, coverage):
    def primer_cuin(across: Decimal, by: Decimal) -> Decimal:
        return supplied(lines(size=opening(across, 54)), primed(str(by))).lines[-1].line.quantity

    least = primer_cuin(width, coverage)
    assert primer_cuin(width + more, coverage) > least > primer_cuin(width, coverage + 1)


def without(missing: Part) -> Callable[[Part], ProductFacts | None]:
    find = primed()
    return lambda part: None if part is missing else find(part)


def no_width(part: Part) -> ProductFacts:
    found = primed()(part)
    return replace(found, width_in=None) if part is Part.SILL_STRIP else found


def counted_primer(part: Part) -> ProductFacts:
    found = primed()(part)
    return replace(found, measure=Measure.COUNT) if part is Part.PRIMER else found


@pytest.mark.parametrize(
    ("find", "error", "field"),
    [
        (without(Part.PRIMER), MissingProduct, "products.primer"),
        (primed(None), MissingCoverage, "products.primer"),
        (no_width, MissingCoverage, "products.sill strip"),
        (counted_primer, MeasureMismatch, "products.primer"),
    ],
    ids=["no primer", "no coverage", "no width", "counted"],
)
def test_primer_that_cannot_be_told_takes_no_line_and_is_said(find, error, field):
    result = supplied(lines(), find)
    assert errors(result) == [(error, field)]
    assert Part.PRIMER not in {item.line.part for item in result.lines}
    assert result.unknown() == result.lacks() == {Part.PRIMER: result.faults[0].fault.detail}


def test_a_part_without_a_product_is_said_once_however_many_lines_it_has():
    # A bedded drip cap and a casing take a setting bead each.
    detail = replace(CASED, head_flashing=HeadFlashing.AFTER_MEMBRANE)
    result = supplied(lines(Part.SETTING_BEAD, detail=detail), lambda _part: None)
    assert len(result.lines) == 2
    assert errors(result) == [(MissingProduct, "products.setting bead")]
    assert result.faults[0].fault.detail == "no product is chosen for setting bead"


def test_more_can_be_said_than_that_none_is_chosen():
    result = supplied(lines(Part.SILL_STRIP), lambda _part: None, why_none=lambda part: f"the {part} is out")
    assert result.lacks() == {Part.SILL_STRIP: "no product is chosen for sill strip: the sill strip is out"}
    assert result.unknown() == {}


def test_a_product_that_measures_otherwise_is_no_product():
    result = supplied(lines(Part.SILL_STRIP), shelf(measure=Measure.COUNT))
    assert result.lines[0].product is None
    assert errors(result) == [(MeasureMismatch, "products.sill strip")]
    assert "sill strip is counted in inches, but sill strip stock is packed in pieces" in result.faults[0].fault.detail


# 9 in at least, 12 recommended (AWDI manual p. 23); a wider roll can be cut.
@pytest.mark.parametrize(("width", "is_wide_enough"), [(12, True), (9, True), ("8.99", False), (None, True)])
def test_a_strip_is_no_wider_than_its_roll(width, is_wide_enough):
    result = supplied(lines(Part.SILL_STRIP), shelf(width_in=width and Decimal(width)))
    assert errors(result) == ([] if is_wide_enough else [(StripWiderThanRoll, "products.sill strip")])
    if not is_wide_enough:
        assert result.faults[0].fault.detail == (
            'sill strip is to be 9" wide, but sill strip stock is only about 9" wide'
        )
    assert (result.lines[0].product is not None) is is_wide_enough
    assert list(result.lacks().values()) == [fall.fault.detail for fall in result.faults]


def test_a_membrane_is_as_wide_as_its_product():
    assert supplied(lines(Part.HEAD_MEMBRANE), shelf(width_in=Decimal(6))).faults == ()


# Sill of 5-1/2 in, back dam of 1/2 in (makers' notes, from memory) and 2 in down the face (from memory): geometry.
@pytest.mark.parametrize(("width", "is_wide_enough"), [(8, True), ("7.99", False), (None, True)])
def test_a_pan_is_no_wider_than_its_roll(width, is_wide_enough):
    result = supplied(lines(Part.PAN_MEMBRANE), shelf(width_in=width and Decimal(width)))
    assert errors(result) == ([] if is_wide_enough else [(StripWiderThanRoll, "products.pan membrane")])
    assert (result.lines[0].product is not None) is is_wide_enough


@pytest.mark.parametrize(
    ("part", "served"),
    [
        (Part.SILL_STRIP, [36]),
        (Part.PAN_MEMBRANE, [36]),
        (Part.SHIM, [36]),
        (Part.FLANGE_BEAD, ["0.375"]),
        (Part.AIR_SEAL_BEAD, ["0.25", "0.5"]),
    ],
)
def test_what_a_product_serves_follows_the_part(part, served):
    # 36 × 54 with a unit of 35.5 × 53: gaps of 1/4 in at the jambs, 1/2 at head and sill.
    size = replace(opening(36, 54), unit_height_in=Decimal(53))
    line = next(iter(lines(part, size=size)))
    assert served_in(line) == tuple(map(Decimal, served))


# Rod 1/8 in thicker than the gap (Alcot, closed cell): 3/8 in at the jambs, 5/8 at head and sill, so a line for each.
def test_each_size_of_rod_serves_its_own_gap():
    size = replace(opening(36, 54), unit_height_in=Decimal(53))
    assert [served_in(rod) for rod in lines(Part.BACKER_ROD, size=size)] == [(Decimal("0.25"),), (Decimal("0.5"),)]


def test_one_size_of_rod_serves_gaps_that_take_the_same():
    # Gaps of 1/4 and 0.2 in both take the stock rod of 3/8 in.
    size = replace(opening(36, 54), unit_height_in=Decimal("53.6"))
    assert [served_in(rod) for rod in lines(Part.BACKER_ROD, size=size)] == [(Decimal("0.25"), Decimal("0.2"))]


def test_a_side_without_a_gap_needs_no_rod():
    size = replace(opening(36, 54), unit_width_in=Decimal(36))
    assert served_in(lines(Part.BACKER_ROD, size=size)[0]) == (Decimal("0.25"),)


# A rod of 3/8 in serves gaps of 3/16 to 1/4 in: rod table at threadsource.com.
@pytest.mark.parametrize(
    ("clear", "faults"),
    [("0.5", 0), ("0.375", 0), ("0.52", 1), ("0.36", 1)],
    ids=["1/4", "3/16", "wider", "narrower"],
)
def test_a_rod_serves_the_gaps_of_its_range(clear, faults):
    find = shelf(serves_from_in=Decimal("0.1875"), serves_up_to_in=Decimal("0.25"))
    result = supplied(lines(Part.BACKER_ROD, size=opening(36, 54, clear)), find)
    assert errors(result) == [(OutOfRange, "products.backer rod")] * faults


def test_out_of_range_says_the_figures():
    (fall,) = supplied(lines(Part.DRIP_CAP, detail=CASED), shelf(serves_up_to_in=Decimal(30))).faults
    assert fall.fault.value == "36"
    assert fall.fault.detail == ("drip cap stock serves up to 2' 6\", but drip cap is for a rough opening of 3' 0\"")
    (fall,) = supplied(lines(Part.FLANGE_BEAD), shelf(serves_from_in=Decimal("0.5")), units=METRIC).faults
    assert fall.fault.detail.endswith("serves from 12.7 mm, but flange bead is for a bead of 9.525 mm")


def test_what_is_required_is_supplied_or_refused_with_every_fault():
    assert require_supplied(lines(), shelf()) == supplied(lines(), shelf()).lines

    def find(part: Part) -> ProductFacts | None:
        return None if part is Part.JAMB_STRIP else product(part, width_in=Decimal(8))

    with pytest.raises(
        StripWiderThanRoll, match=r"sill strip is to be .*; no product is chosen for jamb strip; "
    ) as no:
        require_supplied(lines(), find)
    assert no.value.code == "strip-wider-than-roll"
    assert [fault.field for fault in no.value.faults] == [
        "products.sill strip",
        "products.jamb strip",
        "products.head strip",
    ]


def test_nothing_drawn_is_nothing_to_supply():
    assert supplied([], shelf()) == ((), ())
