"""Spare on a sheet, and what becomes of it. That what is not used comes back: common practice, no source."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from materials import queries, services
from materials.calc.parts import Part
from materials.errors import CameBackWhole
from materials.models import PlannedRoll, Product, PullSheet
from tests.factories import make_catalogue, make_stock, tomorrow
from tests.materials.crew_days import make_crew_day, texts, workbook_of, written
from tests.materials.rolls import truck_of


@pytest.fixture
def day(db):
    """Return a sheet of today that cuts 12 jamb strips of 71 in, 852 in of a roll of 900 in, with 10% spare."""
    strip = make_catalogue()[Part.JAMB_STRIP]
    Product.objects.filter(pk=strip.pk).update(spare_pct=10)
    make_stock(strip, 5)
    return written(make_crew_day(openings=6, on=tomorrow(0)))


def jambs(sheet: PullSheet):
    return sheet.lines.get(product__code="jamb-strip")


def test_need_spare_and_packages_stand_beside_each_other(day):
    line = jambs(day)
    # 10% of 852 in is 85.2 in, and the roll has 48 in left.
    assert (line.quantity, line.spare, line.packages, line.rolls_lower_bound) == (852, Decimal("85.2"), 2, 1)
    assert line.spare_reason == "10% of 71' 0\" is about 7' 1 3/16\"; 1 roll more"
    rolls = day.rolls.filter(product=line.product)
    assert [(roll.number, roll.cuts.count(), roll.left_in, roll.is_spare) for roll in rolls] == [
        (1, 12, 48, False), (2, 0, 900, True),
    ]  # fmt: skip
    staged = next(row for row in workbook_of(day)["Staging"].iter_rows(values_only=True) if row[2] == "jamb-strip")
    assert (staged[4], staged[6]) == (2, "71' 0\"")
    assert any("spare" in text for text in texts(workbook_of(day), "Roll cuts"))


def test_a_spare_roll_that_stays_closed_comes_back_as_a_package(day):
    line = jambs(day)
    services.load_line(sheet_id=day.pk, line_id=line.pk, packages=2, by=None)
    cut, spare = day.rolls.filter(product=line.product)
    services.settle_roll(roll_id=cut.pk, came_back_in=Decimal(48), by=None)
    with pytest.raises(CameBackWhole, match="still a full roll, not a remnant; enter one roll fewer as loaded"):
        services.settle_roll(roll_id=spare.pk, came_back_in=Decimal(900), by=None)
    services.load_line(sheet_id=day.pk, line_id=line.pk, packages=1, by=None)
    assert not queries.stock_of(line.product_id, truck_of(day.crew_day.crew).pk)
    assert not queries.rolls_to_settle().filter(product=line.product).exists()


def test_a_spare_roll_that_was_cut_comes_back_as_a_remnant(day):
    line = jambs(day)
    services.load_line(sheet_id=day.pk, line_id=line.pk, packages=2, by=None)
    spare = day.rolls.get(product=line.product, number=2)
    settled = services.settle_roll(roll_id=spare.pk, came_back_in=Decimal(829), by=None)
    assert settled.remnant is not None
    assert settled.remnant.length_in == 829


def test_another_spare_revises_an_issued_sheet_and_says_so(day):
    product = jambs(day).product
    services.change_product(product_id=product.pk, spare_pct=Decimal(0))
    assert written(day.crew_day).changes == [
        "jamb-strip: spare 0%, was 10%", "1 fewer roll of jamb-strip (1, was 2)",
    ]  # fmt: skip


def test_only_a_new_roll_goes_uncut_and_no_product_has_two_spares(day):
    with pytest.raises(IntegrityError, match="roll_is_cut_or_spare"), transaction.atomic():
        PlannedRoll.objects.update(left_in=901)
    with pytest.raises(IntegrityError, match="product_spare_is_in_percent_or_in_pieces"), transaction.atomic():
        Product.objects.update(spare_pct=5, spare_pieces=2)
