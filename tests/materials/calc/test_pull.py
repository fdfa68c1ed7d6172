from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

import pytest

from materials.calc.draw import draw_of
from materials.calc.packs import cuin_of_fl_oz
from materials.calc.parts import MEASURES, Part
from materials.calc.product import Measure, ProductFacts
from materials.calc.pull import Drawn, Pull, pull_of
from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import Remnant, plan_cuts
from materials.calc.supply import supplied
from materials.errors import PieceTooLong
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import half_up
from openings.calc.starting_details import STARTING_DETAILS

STRIPS = {Part.SILL_STRIP, Part.JAMB_STRIP, Part.HEAD_STRIP}
FLANGED = replace(STARTING_DETAILS["flange over, wrap before"], strip_width_in=Decimal(9), sealant_waste_pct=Decimal(0))
OPENING = OpeningFacts(
    ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal("35.5"), unit_height_in=Decimal("53.5")
)


def product(measure: Measure, package: str, quantity: Decimal | int) -> ProductFacts:
    return ProductFacts(
        code=package, name=package, measure=measure, package=package, package_quantity=Decimal(quantity)
    )


def roll(length_in: int, *, trim_in: str = "0") -> ProductFacts:
    return replace(product(Measure.LENGTH, "roll", length_in), trim_in=Decimal(trim_in))


# A cartridge of 10.1 fl oz holds 18.23 cu in: 231 cu in in a gallon of 128 fl oz (NIST Handbook 44, appendix C).
CARTRIDGE = product(Measure.VOLUME, "cartridge", half_up(cuin_of_fl_oz(Decimal("10.1"))))


def drawn(parts: set[Part], chosen: ProductFacts | None, *, count: int = 1, detail: DetailFacts = FLANGED) -> Iterator:
    for number in range(count):
        for line in draw_of(OPENING, detail):
            if line.part in parts:
                yield Drawn(label=f"W{number}", line=line, product=chosen)


def pulled(*args: object, **options: object) -> Pull:
    (pull,) = pull_of(drawn(*args, **options))
    return pull


def cut(pull: Pull) -> Pull:
    """Return a pull cut from new rolls alone."""
    facts = pull.product
    lengths = [RollLength(facts.package_quantity)]
    return pull.cut_by(plan_cuts(pull.pieces, roll_lengths=lengths, trim_in=facts.trim_in))


# A 3/8 in bead at two jambs and head of 35.5 × 53.5 is 142.5 in × π/4 × 9/64 sq in = 15.74 cu in [D: πD²/4].
@pytest.mark.parametrize(
    ("openings", "cartridges"),
    [(1, 1), (2, 2), (7, 7), (8, 7), (20, 18)],
    ids=["one", "two", "seven", "the eighth fits in what is left", "twenty"],
)
def test_beads_are_rounded_up_to_cartridges_once_a_day(openings, cartridges):
    pull = pulled({Part.FLANGE_BEAD}, CARTRIDGE, count=openings)
    assert (pull.packages, pull.pieces, pull.plan) == (cartridges, (), None)
    assert round(pull.quantity / openings, 2) == Decimal("15.74")


def test_counts_are_rounded_up_to_boxes_once_a_day():
    # 4 in from the corner, 16 in apart: 14 fasteners for 3046 (AAMA 2400, from memory).
    pull = pulled({Part.FLANGE_FASTENER}, product(Measure.COUNT, "box", 100), count=8)
    assert (pull.quantity, pull.packages) == (112, 2)


# AAMA 2400-10 note 3 (sill and head: width + 2 × strip), jambs from memory: 54 + 71 + 71 + 54 = 250 in.
@pytest.mark.parametrize(
    ("length_in", "trim_in", "openings", "rolls"),
    [
        (900, "0", 3, 1),
        (900, "0", 4, 2),
        (250, "0", 1, 1),
        (250, "0.125", 1, 2),
        (100, "0", 1, 4),
    ],
    ids=[
        "62' 6\" from 75 ft",
        "83' 4\" from 75 ft",
        "a roll of just 20' 10\"",
        "trim leaves the last piece too short",
        "offcuts of 29 and 3' 10\" are no strip",
    ],
)
def test_rolls_are_those_of_the_cutting_plan(length_in, trim_in, openings, rolls):
    pull = pulled(STRIPS, roll(length_in, trim_in=trim_in), count=openings)
    assert (pull.packages, pull.plan) == (0, None)
    assert pull.quantity == sum(piece.length_in for piece in pull.pieces) == 250 * openings
    after = cut(pull)
    assert after.packages == rolls == len(after.plan.rolls)
    assert sorted(piece for one in after.plan.rolls for piece in one.cuts) == sorted(pull.pieces)
    assert replace(after, packages=0, plan=None) == pull


def test_what_is_cut_from_remnants_takes_no_package():
    pull = pulled({Part.SILL_STRIP}, roll(900), count=3)
    remnants = [Remnant(Decimal(110), "R1"), Remnant(Decimal(60), "R2")]
    after = pull.cut_by(plan_cuts(pull.pieces, roll_lengths=[RollLength(Decimal(900))], remnants=remnants))
    # 3 × 54 in: two from 110 in, one from 60 in.
    assert (after.packages, len(after.plan.rolls)) == (0, 2)


def test_each_piece_names_its_opening_and_part():
    pull = pulled({Part.SILL_STRIP, Part.JAMB_STRIP}, roll(900))
    labels = [(piece.label, piece.length_in) for piece in pull.pieces]
    assert labels == [("W0 sill strip", 54), ("W0 jamb strip", 71), ("W0 jamb strip", 71)]


# 54, 71, 71 and 54 in from rolls of 60, laps of 4 in (2 to 4 in, from memory): a jamb takes two of (71 + 4) / 2 in.
def test_a_supplied_run_longer_than_a_roll_comes_in_pieces():
    lines = [line for line in draw_of(OPENING, FLANGED) if line.part in STRIPS]
    made = supplied(lines, lambda _part: replace(roll(60), width_in=Decimal(9))).lines
    (pull,) = pull_of(Drawn(label="W0", line=item.line, product=item.product) for item in made)
    assert pull.quantity == 54 + 4 * Decimal("37.5") + 54
    assert [piece.length_in for piece in pull.pieces] == [54, *[Decimal("37.5")] * 4, 54]
    # No two of them fit on 60 in.
    assert cut(pull).packages == 6
    assert pull.note == ""


def test_pieces_in_thirds_are_cut_to_five_places():
    # 54 in from rolls of 20 with laps of 2 in: (54 + 2 × 2) / 3 = 19.33333 in.
    lapped = replace(FLANGED, end_lap_in=Decimal(2))
    lines = [line for line in draw_of(OPENING, lapped) if line.part is Part.SILL_STRIP]
    ((line, chosen),) = supplied(lines, lambda _part: replace(roll(20), width_in=Decimal(9))).lines
    (pull,) = pull_of([Drawn(label="W0", line=line, product=chosen)])
    assert [piece.length_in for piece in pull.pieces] == [Decimal("19.33333")] * 3
    assert pull.quantity == 58


def test_a_piece_longer_than_a_roll_is_refused_by_name():
    with pytest.raises(PieceTooLong, match="W0 jamb strip needs 5' 11\", and a roll of Strip has 5' 0\""):
        pulled(STRIPS, replace(roll(60), name="Strip"))


def test_a_part_without_a_product_stands_last_and_says_so():
    pulls = pull_of([*drawn({Part.SILL_STRIP}, None), *drawn({Part.FLANGE_BEAD}, CARTRIDGE)])
    assert [pull.product for pull in pulls] == [CARTRIDGE, None]
    assert (pulls[1].packages, pulls[1].quantity, pulls[1].pieces) == (0, 54, ())
    assert pulls[1].note == "no product is chosen for this part"


def test_one_product_for_several_parts_is_one_line():
    pull = pulled({Part.FLANGE_BEAD, Part.AIR_SEAL_BEAD}, CARTRIDGE)
    assert pull.parts == (Part.FLANGE_BEAD, Part.AIR_SEAL_BEAD)
    assert {MEASURES[part] for part in pull.parts} == {Measure.VOLUME}


def test_what_rounds_to_nothing_takes_no_line():
    hair = replace(FLANGED, flange_bead_in=Decimal("0.00001"))
    assert pull_of(drawn({Part.FLANGE_BEAD}, CARTRIDGE, detail=hair)) == ()


def test_nothing_drawn_is_nothing_to_load():
    assert pull_of([]) == ()
