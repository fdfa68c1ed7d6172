from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from materials.calc.compatibility import Evidence, Finding, Verdict, judged, verdict_of
from materials.calc.draw import draw_of
from materials.calc.parts import Part
from materials.calc.product import Measure, ProductFacts
from materials.calc.touching import Contact, touching
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.terms import HeadFlashing, SillBead

COMPATIBLE, NOT_COMPATIBLE, TEST_FIRST = Verdict.COMPATIBLE, Verdict.NOT_COMPATIBLE, Verdict.TEST_FIRST
KNOWN = {("butyl", "silicone"): Finding(COMPATIBLE, "letter 12"), ("epdm", "asphalt"): Finding(COMPATIBLE, "letter 13")}
FLANGED = STARTING_DETAILS["flange over, wrap before"]
CASED = STARTING_DETAILS["casing, paper after"]
REPLACEMENT = STARTING_DETAILS["box frame replacement"]


# check-values 4.3, each with its page; what nobody has listed is tested first: AAMA 713.
@pytest.mark.parametrize(
    ("chemistry", "neighbor", "verdict", "source"),
    [
        ("rubberized asphalt", "plasticized PVC", NOT_COMPATIBLE, "fortifiber.com"),
        ("flexible PVC", "Rubberized  Asphalt", NOT_COMPATIBLE, "fortifiber.com"),
        ("asphalt", "plasticized sealant", TEST_FIRST, "fortifiber.com"),
        ("EPDM", "rubberized asphalt", TEST_FIRST, "fortifiber.com"),
        ("butyl", "rubberized asphalt", TEST_FIRST, "prosalesmagazine.com"),
        ("polyurethane", "butyl", TEST_FIRST, "prosalesmagazine.com"),
        ("polysulfide", "rubberized asphalt", NOT_COMPATIBLE, "to be avoided on asphalt"),
        ("asphalt", "solvent-based sealant", NOT_COMPATIBLE, "to be avoided on asphalt"),
        ("asphalt", "silicone, acetoxy cure", NOT_COMPATIBLE, "to be avoided on asphalt"),
        ("asphalt", "silicone, neutral cure", TEST_FIRST, "AAMA 713"),
        ("butyl", "butyl", TEST_FIRST, "AAMA 713"),
        ("silicone", "butyl", COMPATIBLE, "letter 12"),
        ("asphalt", "EPDM", COMPATIBLE, "letter 13"),
    ],
)
def test_a_pair_is_known_either_way_round_or_published_or_tested_first(chemistry, neighbor, verdict, source):
    found = verdict_of(chemistry, neighbor, known=KNOWN)
    assert found.verdict is verdict
    assert source in found.source


def pairs(detail: DetailFacts) -> set[tuple[str, str]]:
    return {(contact.part.value, contact.neighbor.value) for contact in touching(detail)}


# What laps over what: the lay order (AWDI manual p. 23, AAMA 2400-10 cl. 5.7.3; else common practice, no source).
def test_a_flanged_unit_touches_through_strips_pan_bead_and_air_seal():
    assert pairs(FLANGED) == {
        ("corner piece", "sill strip"),
        ("pan membrane", "sill strip"),
        ("pan membrane", "corner piece"),
        ("jamb strip", "sill strip"),
        ("jamb strip", "corner piece"),
        ("jamb strip", "pan membrane"),
        ("flange bead", "sill strip"),
        ("flange bead", "pan membrane"),
        ("flange bead", "jamb strip"),
        ("flange bead", "head membrane"),
        ("head membrane", "jamb strip"),
        ("head strip", "jamb strip"),
        ("head strip", "head membrane"),
        ("air seal bead", "backer rod"),
        ("air seal bead", "pan membrane"),
    }


def test_a_box_frame_in_a_flashed_wall_touches_pan_and_beads_only():
    assert pairs(REPLACEMENT) == {
        ("pan membrane", "corner piece"),
        ("setting bead", "pan membrane"),
        ("air seal bead", "backer rod"),
        ("air seal bead", "pan membrane"),
    }


@pytest.mark.parametrize(
    ("head_flashing", "added"),
    [
        (HeadFlashing.NONE, set()),
        (HeadFlashing.BEFORE_MEMBRANE, {("head membrane", "drip cap")}),
        (
            HeadFlashing.UNDER_SECOND_STRIP,
            {
                ("counter-flashing strip", "drip cap"),
                ("counter-flashing strip", "head membrane"),
                ("head strip", "counter-flashing strip"),
            },
        ),
        (
            HeadFlashing.AFTER_MEMBRANE,
            {("setting bead", "drip cap"), ("setting bead", "head membrane"), ("head strip", "drip cap")},
        ),
    ],
)
def test_a_drip_cap_touches_what_covers_it_or_what_it_is_bedded_in(head_flashing, added):
    with_cap = replace(FLANGED, head_flashing=head_flashing)
    assert pairs(with_cap) - pairs(FLANGED) == added


def test_a_drip_cap_without_a_membrane_touches_the_head_strip_over_its_leg():
    with_cap = replace(FLANGED, has_head_membrane=False, head_flashing=HeadFlashing.BEFORE_MEMBRANE)
    assert ("head strip", "drip cap") in pairs(with_cap)


def test_without_a_head_membrane_the_bead_meets_the_head_strip():
    without = pairs(replace(FLANGED, has_head_membrane=False))
    assert ("flange bead", "head strip") in without
    assert not any("head membrane" in pair for pair in without)


def test_a_joint_bead_touches_none_of_the_other_parts():
    # Joint of casing and jamb: common practice, no source.
    assert not any("casing joint bead" in pair for pair in pairs(CASED))
    assert ("setting bead", "jamb strip") in pairs(CASED)


@pytest.mark.parametrize(
    ("detail", "where"),
    [
        (FLANGED, "at the lower ends of the bead"),
        (replace(FLANGED, has_pan=False, sill_bead=SillBead.FULL), "along the sill"),
    ],
    ids=["sill open", "full bead"],
)
def test_where_a_bead_meets_the_sill_strip_follows_the_sill_bead(detail, where):
    assert Contact(Part.FLANGE_BEAD, Part.SILL_STRIP, where) in touching(detail)


@pytest.mark.parametrize(
    "detail",
    [
        *STARTING_DETAILS.values(),
        replace(FLANGED, flange_bead_in=Decimal(0), head_flashing=HeadFlashing.AFTER_MEMBRANE),
        replace(CASED, has_pan=False, has_air_seal=False, setting_bead_in=Decimal(0)),
        replace(REPLACEMENT, barrier_before_window=False, has_corner_pieces=False),
    ],
)
def test_what_touches_is_drawn(detail):
    opening = OpeningFacts(
        ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal("35.5"), unit_height_in=Decimal("53.5")
    )
    drawn = {line.part for line in draw_of(opening, detail)}
    assert {part for contact in touching(detail) for part in contact[:2]} <= drawn


PAN = Contact(Part.PAN_MEMBRANE, Part.SILL_STRIP, "along the sill")


def product(code: str, chemistry: str) -> ProductFacts:
    return ProductFacts(
        code=code,
        name=code,
        measure=Measure.LENGTH,
        package="roll",
        package_quantity=Decimal(900),
        chemistry=chemistry,
    )


def judge(pan: ProductFacts | None, strip: ProductFacts | None, *evidence: Evidence, known=KNOWN):
    chosen = {Part.PAN_MEMBRANE: pan, Part.SILL_STRIP: strip}
    (one,) = judged([PAN], chosen.get, known=known, evidence=evidence)
    assert (one.contact, one.product, one.neighbor) == (PAN, pan, strip)
    return one.verdict, one.reason, one.source


ASPHALT, BUTYL, VINYL = (
    product("a", "rubberized asphalt"), product("b", "Butyl"), product("v", "flexible PVC")
)  # fmt: skip


# Same material: our choice. What is missing is named, and tested first: AAMA 713.
@pytest.mark.parametrize(
    ("pan", "strip", "verdict", "reason"),
    [
        (ASPHALT, VINYL, NOT_COMPATIBLE, "rubberized asphalt and flexible pvc"),
        (ASPHALT, BUTYL, TEST_FIRST, "rubberized asphalt and butyl"),
        (BUTYL, product("c", "butyl"), COMPATIBLE, "same material: butyl"),
        (product("x", ""), product("x", ""), COMPATIBLE, "same material: x"),
        (product("x", ""), BUTYL, TEST_FIRST, "need info: what x is made of"),
        (None, BUTYL, TEST_FIRST, "no product is chosen for pan membrane"),
        (None, None, TEST_FIRST, "no product is chosen for pan membrane and sill strip"),
    ],
    ids=[
        "published",
        "to be tested",
        "one chemistry",
        "one product",
        "unknown chemistry",
        "one missing",
        "both missing",
    ],
)
def test_products_that_touch_are_judged_by_what_they_are_made_of(pan, strip, verdict, reason):
    assert judge(pan, strip)[:2] == (verdict, reason)


def test_one_chemistry_may_still_be_listed_against_itself():
    known = {("butyl", "butyl"): Finding(TEST_FIRST, "letter 14")}
    assert judge(BUTYL, product("c", "butyl"), known=known) == (TEST_FIRST, "butyl and butyl", "letter 14")


def evidence(verdict: Verdict, on: date, document: str, pair: tuple[str, str] = ("b", "a")) -> Evidence:
    return Evidence(
        product=pair[0], neighbor=pair[1], verdict=verdict, document=document, recorded_by="Wren", recorded_on=on
    )


def test_the_newest_evidence_on_two_products_overrides_their_chemistries():
    older = evidence(NOT_COMPATIBLE, date(2026, 3, 1), "report 7")
    newer = evidence(COMPATIBLE, date(2026, 4, 1), "report 8", ("a", "b"))
    other = evidence(NOT_COMPATIBLE, date(2026, 5, 1), "report 9", ("a", "v"))
    for order in [(older, newer, other), (other, newer, older)]:
        found = judge(ASPHALT, BUTYL, *order)
        assert found == (COMPATIBLE, "a and b: recorded by Wren on Wed, Apr 1, 2026", "report 8")


def test_of_one_day_the_evidence_that_stands_first_counts():
    same_day = [evidence(COMPATIBLE, date(2026, 3, 1), "second"), evidence(NOT_COMPATIBLE, date(2026, 3, 1), "first")]
    assert judge(ASPHALT, BUTYL, *same_day)[2] == "second"


def test_evidence_says_more_than_one_chemistry_in_two_products():
    against = evidence(NOT_COMPATIBLE, date(2026, 3, 1), "report 7", ("b", "c"))
    assert judge(BUTYL, product("c", "butyl"), against)[0] is NOT_COMPATIBLE
