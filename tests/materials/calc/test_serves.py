"""Whether a product can serve a part. Strips of 9 in at least, 12 recommended: AWDI manual p. 23."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from materials.calc.parts import MEASURES, Part
from materials.calc.product import Measure, ProductFacts
from materials.calc.serves import why_unfit_as_standard, why_unfit_for
from openings.calc.starting_details import STARTING_DETAILS

FLANGED = replace(STARTING_DETAILS["flange over, wrap after"], strip_width_in=Decimal(12))
CASED = STARTING_DETAILS["casing, paper after"]


def product(part: Part, **facts: object) -> ProductFacts:
    values = {"code": "p", "name": "P", "measure": MEASURES[part], "package": "roll", "package_quantity": Decimal(900)}
    known = {name: Decimal(str(value)) if isinstance(value, int | float) else value for name, value in facts.items()}
    return ProductFacts(**values | known)


@pytest.mark.parametrize(
    ("part", "facts", "why"),
    [
        (Part.SILL_STRIP, {"width_in": 9}, "sill strip is to be 1' 0\" wide, but P is only 9\" wide"),
        (Part.SILL_STRIP, {"width_in": 12}, ""),
        (Part.HEAD_STRIP, {"width_in": 18}, ""),
        (Part.JAMB_STRIP, {}, ""),
        (Part.JAMB_STRIP, {"width_in": 6}, "jamb strip is to be 1' 0\" wide, but P is only 6\" wide"),
        (Part.JAMB_STRIP, {"measure": Measure.COUNT}, "jamb strip is counted in inches, but P is packed in pieces"),
        (
            Part.PAN_MEMBRANE, {"width_in": 6},
            'pan membrane is to be 8" wide (sill depth 5 1/2" + back dam 1/2" + 2" down the face), but P is only '
            '6" wide',
        ),
        (Part.PAN_MEMBRANE, {"width_in": 8}, ""),
        # Rolls 4, 6 and 9 in wide: dwmmag.com, AAMA analysis of September 2019.
        (Part.HEAD_MEMBRANE, {"width_in": 6}, ""),
        (Part.HEAD_MEMBRANE, {"width_in": 4}, 'head membrane is to be 6" wide, but P is only 4" wide'),
        (Part.FLANGE_BEAD, {"serves_from_in": 0.5}, 'P serves from 1/2", but flange bead is for a bead of 3/8"'),
        (Part.FLANGE_BEAD, {"serves_up_to_in": 0.5}, ""),
        (Part.CASING_JOINT_BEAD, {"serves_from_in": 9}, ""),
        (Part.SILL_STRIP, {"width_in": 12, "serves_up_to_in": 24}, ""),
        (Part.BACKER_ROD, {"serves_up_to_in": 0.01}, ""),
        (Part.PRIMER, {}, "need info: how far a gallon of P goes, so no primer can be counted"),
        (Part.PRIMER, {"primer_sqft_per_gal": 250}, ""),
    ],
    ids=[
        "narrow", "as wide", "wider", "no width", "too narrow by half", "counted", "pan too wide for it",
        "pan", "membrane as wide", "membrane too narrow",
        "bead too small", "bead", "not drawn", "depends on the opening", "gap depends on the opening",
        "no coverage", "coverage",
    ],
)  # fmt: skip
def test_a_product_serves_what_the_detail_asks_for_or_it_is_said_why_not(part, facts, why):
    assert why_unfit_for(FLANGED, part, product(part, **facts)) == why


def test_a_pan_that_turns_up_high_does_not_keep_a_product_from_being_judged():
    high = replace(FLANGED, pan_turn_up_in=Decimal(70))
    assert 'only 9" wide' in why_unfit_for(high, Part.SILL_STRIP, product(Part.SILL_STRIP, width_in=9))


@pytest.mark.parametrize(
    ("part", "facts", "widths", "why"),
    [
        (Part.SILL_STRIP, {"width_in": 12}, [9, 12], ""),
        (Part.SILL_STRIP, {"width_in": 9}, [12], 'P is 9" wide, but the details ask for sill strip of 1\' 0"'),
        (Part.SILL_STRIP, {"width_in": 9}, [10, 12], 'P is 9" wide, but the details ask for sill strip of 10" and'),
        (Part.SILL_STRIP, {"width_in": 9}, [], ""),
        (Part.SILL_STRIP, {"width_in": 6}, [], 'P is 6" wide, but no detail asks for sill strip of less than 9"'),
        (Part.SILL_STRIP, {}, [9], "need info: the width of P"),
        (Part.FLANGE_BEAD, {"serves_from_in": 1}, [9], 'P serves from 1", but the details ask for flange bead of'),
        (Part.FLANGE_BEAD, {"serves_from_in": 1}, [], ""),
        (Part.FLANGE_BEAD, {"serves_from_in": 0.25}, [9], ""),
        (Part.PAN_MEMBRANE, {"width_in": 6}, [9], 'pan membrane is to be 8" wide'),
        (Part.PAN_MEMBRANE, {"width_in": 6}, [], ""),
        (Part.PAN_MEMBRANE, {"width_in": 12}, [9], ""),
        (Part.HEAD_MEMBRANE, {"width_in": 4}, [9], 'head membrane is to be 6" wide'),
        (Part.SHIM, {}, [9], ""),
        (Part.PRIMER, {}, [9], "need info: how far a gallon of P goes"),
    ],
)
def test_a_standard_serves_some_detail_of_the_shop(part, facts, widths, why):
    details = [replace(FLANGED, strip_width_in=Decimal(width)) for width in widths]
    found = why_unfit_as_standard(part, product(part, **facts), details)
    assert found.startswith(why)
    assert bool(found) == bool(why)


def test_a_membrane_of_12_in_is_no_pan_on_a_sill_of_12_in():
    # Sill, back dam and lap down the face: geometry. Without a pan none is asked for.
    deep = replace(FLANGED, sill_depth_in=Decimal(12))
    membrane = product(Part.PAN_MEMBRANE, width_in=12)
    assert "is to be 1' 2 1/2\" wide" in why_unfit_for(deep, Part.PAN_MEMBRANE, membrane)
    assert not why_unfit_for(replace(deep, has_pan=False), Part.PAN_MEMBRANE, membrane)
