"""How strips are held. Sill strip: AAMA 2400-10 cl. 5.7.3.3; standards 711 and 712: IRC R703.4; the rest as marked."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

import pytest

from materials.calc.attachment import edge_fasteners, how_held
from materials.calc.draw import draw_of
from materials.calc.parts import Part
from materials.calc.product import Attachment, Measure, ProductFacts
from materials.calc.served import why_not_sealed
from materials.calc.supply import SuppliedLine, supplied
from materials.errors import NotSealed
from openings.calc.facts import DetailFacts
from tests.materials.calc.drawn import CASED, FLANGED, line_of, opening

STUCK, FASTENED = Attachment.SELF_ADHERED, Attachment.MECHANICAL
BEFORE = replace(FLANGED, barrier_before_window=True)


def strip(attachment: Attachment | None, **facts: object) -> ProductFacts:
    values = {"code": "strip", "name": "Strip", "measure": Measure.LENGTH, "package": "roll"}
    return ProductFacts(
        **values | {"package_quantity": Decimal(900), "width_in": Decimal(12)} | facts, attachment=attachment
    )


def lines_of(detail: DetailFacts, product: ProductFacts) -> tuple[SuppliedLine, ...]:
    drawn = [line for line in draw_of(opening(36, 54), detail) if line.unit is Measure.LENGTH]
    return supplied(drawn, lambda _: product).lines


def said(detail: DetailFacts, part: Part, attachment: Attachment | None, **facts: object) -> list[str]:
    return [one.said for one in how_held(lines_of(detail, strip(attachment, **facts)), detail) if one.part is part]


@pytest.mark.parametrize(
    ("detail", "part", "attachment", "sentence"),
    [
        (
            FLANGED,
            Part.SILL_STRIP,
            FASTENED,
            'at most 6" apart; nothing in its lower edge, nor in the last 9" at each end',
        ),
        (BEFORE, Part.SILL_STRIP, FASTENED, "along its top edge only, .* so that the unit covers every fastener"),
        (
            FLANGED,
            Part.JAMB_STRIP,
            FASTENED,
            'along one edge only, at most 6" apart; nothing in the last 9" at the bottom',
        ),
        (BEFORE, Part.JAMB_STRIP, FASTENED, 'fasten each along one edge only, at most 6" apart$'),
        (FLANGED, Part.HEAD_STRIP, FASTENED, "along its top edge only"),
        (FLANGED, Part.SILL_STRIP, STUCK, 'release paper on along its lower edge and on the last 9" at each end'),
        (FLANGED, Part.JAMB_STRIP, STUCK, 'release paper on the last 9" at the bottom of each, where the WRB goes up'),
        (BEFORE, Part.SILL_STRIP, STUCK, "peel the release paper as it goes on, and roll it down hard"),
        (CASED, Part.PAN_MEMBRANE, STUCK, "peel the release paper as it goes on, and roll it down hard"),
    ],
)
def test_how_a_strip_is_held_follows_from_its_product(detail, part, attachment, sentence):
    (one,) = said(detail, part, attachment)
    assert one.startswith("Strip: ")
    assert re.search(sentence, one)


def test_a_primed_strip_is_primed_first_and_one_that_says_nothing_is_left_out():
    # Primer by the maker's asking: JLC, choosing flexible flashings 3.
    primed, rolled = said(BEFORE, Part.SILL_STRIP, STUCK, needs_primer=True)
    assert primed == "Strip: prime the wall first, and lay it once the primer is dry to the touch"
    assert "roll it down" in rolled
    assert said(BEFORE, Part.SILL_STRIP, None) == []


# Along 54 in of a sill strip (36 + 2 × 9): 36 in between the keep-outs, 6 in apart, 7; a barrier before leaves all of
# it, 10. Jamb strips of 54 + 2 × 8.5 = 71 in each: 62 in, 12 each; 71 in, 13 each. Head strip of 54 in: 10. Arithmetic;
# the spacing is our choice.
@pytest.mark.parametrize(
    ("detail", "part", "count"),
    [
        (FLANGED, Part.SILL_STRIP, 7),
        (BEFORE, Part.SILL_STRIP, 10),
        (FLANGED, Part.JAMB_STRIP, 24),
        (BEFORE, Part.JAMB_STRIP, 26),
        (FLANGED, Part.HEAD_STRIP, 10),
    ],
)
def test_an_edge_is_fastened_where_it_may_be(detail, part, count):
    assert edge_fasteners(line_of(part, draw_of(opening(36, 54), detail))) == count


@pytest.mark.parametrize("part", [Part.PAN_MEMBRANE, Part.HEAD_MEMBRANE])
def test_what_seals_is_not_fastened(part):
    # A pan is a continuous waterproof surface: Building Science Corp. Info-302.
    assert "is mechanically attached (AAMA 712), but " in why_not_sealed(part, "Felt", FASTENED)
    assert not why_not_sealed(part, "Felt", STUCK)
    assert not why_not_sealed(Part.SILL_STRIP, "Felt", FASTENED)
    drawn = [line_of(part, draw_of(opening(36, 54), CASED))]
    assert [fall.error for fall in supplied(drawn, lambda _: strip(FASTENED)).faults] == [NotSealed]
