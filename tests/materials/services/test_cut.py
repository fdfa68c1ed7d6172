"""The rolls of a day, over all its crews.

Sill strips are as long as the rough opening is wide and the strip twice: AAMA 2400-10 note 3. Every count of rolls is
worked by hand from rolls of 120 in: two strips of 54 in fit on one, and beside one of 90 in none does. Who may have
which remnant is our rule, no source.
"""

from __future__ import annotations

import random
from collections import Counter
from decimal import Decimal
from functools import partial

import pytest
from django.utils import timezone

from jobs.models import Crew, CrewDay
from materials import services
from materials.calc.day_cuts import CrewCuts, plan_day
from materials.calc.parts import Part
from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import Cut, plan_cuts
from materials.calc.rolls import Remnant as RemnantFacts
from materials.errors import PieceTooLong
from materials.models import DetailProduct, Place, Product, PullSheet, Remnant
from openings.models import Assignment, InstallationDetail, Opening
from tests.factories import CrewFactory, make_catalogue, make_remnant, tomorrow
from tests.materials.at_once import at_once
from tests.materials.crew_days import make_crew_day, request, texts, workbook_of, written
from tests.materials.rolls import make_day, make_strip

pytestmark = pytest.mark.django_db

ROLL_IN = 120
WIDTH_IN = 9


@pytest.fixture
def strip() -> Product:
    """The sill strip of every opening; no other part has a product."""
    product = make_strip("sill-strip", package_quantity=ROLL_IN, width_in=WIDTH_IN)
    DetailProduct.objects.create(detail=None, part=Part.SILL_STRIP.value, product=product)
    return product


def day_of(*strips_in: int, crew: Crew | None = None, days: int = 1) -> CrewDay:
    """Return a crew's day with openings that take sill strips of these lengths."""
    crew, on = crew or CrewFactory(), tomorrow(days)
    for length_in in strips_in:
        ro_width_in = Decimal(length_in - 2 * WIDTH_IN)
        make_crew_day(crew=crew, on=on, ro_width_in=ro_width_in, unit_width_in=ro_width_in - Decimal("0.5"))
    return CrewDay.objects.get(crew=crew, on=on)


def truck_of(crew: Crew) -> Place:
    return Place.objects.create(kind=Place.Kind.TRUCK, name=f"Truck of {crew}", crew=crew)


def cut_from(sheet: PullSheet) -> set[Remnant]:
    return {roll.remnant for roll in sheet.rolls.all() if roll.remnant}


def packages(sheet: PullSheet) -> int:
    """Return how many new rolls of sill strip a sheet takes; its rolls say the same."""
    line = sheet.lines.get(product__code="sill-strip")
    assert line.packages == sheet.rolls.filter(remnant=None).count()
    return line.packages


def waits_for(crew_day: CrewDay) -> set[Remnant]:
    return set(Remnant.objects.filter(reserved_for=crew_day))


def require_sound(sheets: list[PullSheet]) -> None:
    """Check that each opening has its strips once, no roll holds more than it has, and no remnant is cut twice."""
    rolls = [roll for sheet in sheets for roll in sheet.rolls.prefetch_related("cuts")]
    assert all(sum(cut.length_in for cut in roll.cuts.all()) == roll.length_in - roll.left_in for roll in rolls)
    cut = Counter((one.opening_id, one.part) for roll in rolls for one in roll.cuts.all())
    assert cut == Counter((opening.pk, "sill strip") for sheet in sheets for opening in sheet.openings.all())
    remnants = [roll.remnant for roll in rolls if roll.remnant]
    assert len(remnants) == len(set(remnants))
    for sheet in sheets:
        assert cut_from(sheet) == waits_for(sheet.crew_day)


# One crew


@pytest.mark.parametrize("is_on_truck", [True, False], ids=["on its truck", "in the warehouse"])
def test_a_remnant_within_reach_is_cut_before_a_new_roll_and_reserved(strip, is_on_truck):
    crew_day = day_of(54)
    place = {"place": truck_of(crew_day.crew)} if is_on_truck else {}
    remnant = make_remnant(strip, 60, **place)
    sheet = written(crew_day)
    assert (packages(sheet), cut_from(sheet)) == (0, {remnant})
    roll = sheet.rolls.get()
    assert (roll.number, roll.length_in, roll.left_in) == (1, 60, 6)
    assert waits_for(crew_day) == {remnant}


def test_what_lies_on_the_truck_goes_before_what_lies_in_the_warehouse(strip):
    crew_day = day_of(54)
    shelf, own = make_remnant(strip, 60), make_remnant(strip, 100, place=truck_of(crew_day.crew))
    assert cut_from(written(crew_day)) == {own}
    shelf.refresh_from_db()
    assert shelf.reserved_for is None


def test_truck_and_warehouse_together_save_the_rolls(strip):
    crew_day = day_of(54, 54)
    both = {make_remnant(strip, 60), make_remnant(strip, 60, place=truck_of(crew_day.crew))}
    sheet = written(crew_day)
    assert (packages(sheet), cut_from(sheet)) == (0, both)


def _elsewhere(strip: Product) -> None:
    make_remnant(strip, 60, place=truck_of(CrewFactory()))


def _too_short(strip: Product) -> None:
    make_remnant(strip, 53)


def _for_another_day(strip: Product) -> None:
    make_remnant(strip, 60, reserved_for=make_day(days=5))


def _gone(strip: Product) -> None:
    make_remnant(strip, 60, fate="scrapped", gone_at=timezone.now())


def _of_another_product(strip: Product) -> None:
    make_remnant(make_strip("other"), 60)


@pytest.mark.parametrize("lay", [_elsewhere, _too_short, _for_another_day, _gone, _of_another_product])
def test_what_is_out_of_reach_or_does_not_serve_is_left_alone(strip, lay):
    lay(strip)
    before = list(Remnant.objects.values())
    sheet = written(day_of(54))
    assert (packages(sheet), cut_from(sheet)) == (1, set())
    assert list(Remnant.objects.values()) == before


def test_remnants_of_several_products_are_cut_and_reserved_together():
    catalogue = make_catalogue()
    remnants = {make_remnant(catalogue[part], 150) for part in (Part.SILL_STRIP, Part.JAMB_STRIP, Part.PAN_MEMBRANE)}
    crew_day = make_crew_day()
    sheet = written(crew_day)
    assert cut_from(sheet) == waits_for(crew_day) == remnants
    listed = dict(sheet.lines.values_list("product__code", "packages"))
    # 54, 2 × 71 and 48 in (jambs: from memory; 6 in up each trimmer: JLC photo guide); no remnant for the head.
    assert [listed[code] for code in ("sill-strip", "jamb-strip", "pan-membrane", "head-strip")] == [0, 0, 0, 1]


# Revisions


def test_a_revision_keeps_the_remnants_that_it_still_cuts_from(strip):
    crew_day, remnant = day_of(54), make_remnant(strip, 60)
    written(crew_day)
    sheet = written(day_of(54, crew=crew_day.crew))
    assert (sheet.revision, packages(sheet), cut_from(sheet)) == (2, 1, {remnant})
    assert waits_for(crew_day) == {remnant}


def test_a_revision_releases_what_it_needs_no_more(strip):
    crew_day, remnant = day_of(54), make_remnant(strip, 60)
    first = written(crew_day)
    Opening.objects.update(ro_width_in=48, unit_width_in=Decimal("47.5"))  # 66 in
    second = written(crew_day)
    assert (packages(second), cut_from(second), waits_for(crew_day)) == (1, set(), set())
    assert cut_from(first) == {remnant}  # as it was issued


def test_a_day_emptied_after_issue_releases_its_remnants(strip):
    crew_day, remnant = day_of(54), make_remnant(strip, 60)
    written(crew_day)
    Assignment.objects.update(withdrawn_at=timezone.now())
    assert cut_from(written(crew_day)) == set()
    assert list(Remnant.objects.filter(reserved_for=None)) == [remnant]


@pytest.mark.parametrize("ask", ["by hand", "by the clock"])
def test_a_scrapped_remnant_makes_the_sheet_due_again_with_another_plan(strip, ask):
    crew_day, remnant = day_of(54), make_remnant(strip, 60)
    first = written(crew_day)
    assert request(crew_day) == first
    services.scrap_remnant(remnant_id=remnant.pk, by=None)
    if ask == "by the clock":
        (pending,) = services.request_due_pull_sheets(now=timezone.now())
        assert request(crew_day).pk == pending
    second = written(crew_day)
    assert (second.revision, packages(second), cut_from(second)) == (2, 1, set())
    assert "sill-strip: 1 instead of 0" in second.changes
    assert services.request_due_pull_sheets(now=timezone.now()) == []


def test_what_is_entered_after_issue_makes_no_new_revision(strip):
    crew_day = day_of(54)
    sheet = written(crew_day)
    make_remnant(strip, 60)
    assert request(crew_day) == sheet


def test_once_something_came_back_there_is_no_new_revision(strip):
    make_remnant(strip, 60)
    crew_day = day_of(54, days=0)
    sheet = written(crew_day)
    services.settle_roll(roll_id=sheet.rolls.get().pk, came_back_in=Decimal(0), by=None)
    Opening.objects.update(remarks="tempered")
    assert request(crew_day) == sheet
    assert services.request_due_pull_sheets(now=timezone.now()) == []
    assert PullSheet.objects.count() == 1


# All crews of a day


@pytest.mark.parametrize("first", [0, 1], ids=["the one", "the other"])
@pytest.mark.parametrize("are_asked", [True, False], ids=["both asked for", "one after the other"])
@pytest.mark.parametrize(
    ("strips_in", "remnants_in", "rolls"),
    [
        # Two strips of 54 in take a roll, whether one of them comes from 60 in or not; one strip takes a roll or, from
        # 60 in, none. So 60 in for the single strip make 1 roll. First come, two strips use it up for nothing: 2.
        ([(54, 54), (54,)], [60], [1, 0]),
        # 90 in come from 100 in alone, 54 in from either. With 60 in for 54 in there is no new roll at all.
        ([(54,), (90,)], [60, 100], [0, 0]),
        # Three strips take two rolls, or with 60 in one; both remnants still leave them one. First come, the three
        # use up both: 1 and 1 for the other crew. One for each: 1 and none.
        ([(54, 54, 54), (54,)], [60, 60], [1, 0]),
    ],
    ids=["saves nothing for the larger", "the long one for the long strip", "one each"],
)
def test_remnants_go_where_the_day_takes_the_fewest_new_rolls(strip, strips_in, remnants_in, rolls, are_asked, first):
    crew_days = [day_of(*lengths) for lengths in strips_in]
    for length_in in remnants_in:
        make_remnant(strip, length_in)
    if are_asked:
        for crew_day in crew_days:
            request(crew_day)
    order = [first, 1 - first]
    sheets = {n: written(crew_days[n]) for n in order}
    assert [packages(sheets[n]) for n in (0, 1)] == rolls
    require_sound(list(sheets.values()))


def test_who_comes_first_alone_would_have_used_the_remnant_up():
    # That the case above says something: the plan for two strips alone takes the 60 in.
    two = [Cut(Decimal(54), "W1"), Cut(Decimal(54), "W2")]
    alone = plan_cuts(two, roll_lengths=[RollLength(Decimal(ROLL_IN))], remnants=[RemnantFacts(Decimal(60), "R1")])
    assert (alone.rolls_new, [roll.remnant for roll in alone.rolls]) == (1, ["R1", None])


def test_what_others_wait_for_is_reserved_for_them(strip):
    two, one, later = day_of(54, 54), day_of(54), day_of(30)
    short, shorter = make_remnant(strip, 60), make_remnant(strip, 40)
    request(one)
    written(two)
    assert (waits_for(two), waits_for(one)) == (set(), {short})
    # Nobody asked for the third sheet yet, so what is left to it lies there for anybody.
    assert waits_for(later) == set()
    assert cut_from(written(later)) == {shorter}
    assert cut_from(written(one)) == {short}


def test_a_written_sheet_keeps_its_own_though_another_could_save_more(strip):
    remnant = make_remnant(strip, 100)
    first = written(day_of(54, 54))
    second = written(day_of(90))
    assert (cut_from(first), packages(second)) == ({remnant}, 1)
    assert waits_for(first.crew_day) == {remnant}
    assert request(first.crew_day) == first


def test_a_sheet_that_is_being_revised_keeps_its_own_while_others_are_planned(strip):
    remnant = make_remnant(strip, 60)
    crew_day = day_of(54)
    written(crew_day)
    request(day_of(90, crew=crew_day.crew))
    assert packages(written(day_of(54))) == 1
    assert cut_from(written(crew_day)) == {remnant}


def test_a_sheet_that_fails_releases_what_was_reserved_for_it(strip):
    two, one = day_of(54, 54), day_of(54)
    remnant = make_remnant(strip, 60)
    request(one)
    written(two)
    assert waits_for(one) == {remnant}
    Assignment.objects.filter(crew_day=one).update(withdrawn_at=timezone.now())
    assert written(one).state == "failed"
    assert waits_for(one) == set()


def test_crews_of_other_days_have_no_share(strip):
    remnant = make_remnant(strip, 60)
    request(day_of(54, days=2))
    sheet = written(day_of(54, 54, 54))
    assert (packages(sheet), cut_from(sheet)) == (1, {remnant})


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("are_asked", [True, False], ids=["all asked for", "one after the other"])
def test_written_in_any_order_a_day_takes_as_few_rolls_as_planned_at_once(strip, seed, are_asked):
    # `plan_day` is held against trying everything in test_day_cuts.
    chance = random.Random(seed)
    lengths = {day_of(*(cut := chance.choices(range(30, 110, 7), k=4))).pk: cut for _ in range(3)}
    remnants = [make_remnant(strip, length_in) for length_in in chance.choices(range(40, 115), k=4)]
    day = plan_day(
        [CrewCuts(crew=str(pk), pieces=tuple(Cut(Decimal(one), "") for one in cut)) for pk, cut in lengths.items()],
        roll_lengths=[RollLength(Decimal(ROLL_IN))],
        remnants=[RemnantFacts(remnant.length_in, remnant.code) for remnant in remnants],
    )
    crew_days = list(CrewDay.objects.filter(pk__in=lengths))
    chance.shuffle(crew_days)
    if are_asked:
        for crew_day in crew_days:
            request(crew_day)
    sheets = [written(crew_day) for crew_day in crew_days]
    require_sound(sheets)
    assert sum(packages(sheet) for sheet in sheets) == day.rolls_new


# At the same moment


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("crews", [2, 4])
def test_sheets_written_at_once_never_count_on_the_same_remnant(strip, crews):
    crew_days = [day_of(54, 54, 54) for _ in range(crews)]
    for length_in in (60, 64, 100):
        make_remnant(strip, length_in)
    sheets = [request(crew_day) for crew_day in crew_days]
    outcomes = at_once(*(partial(services.write_pull_sheet, sheet_id=sheet.pk) for sheet in sheets))
    assert outcomes == [None] * crews
    sheets = list(PullSheet.objects.filter(state="written"))
    assert len(sheets) == crews
    require_sound(sheets)
    # Each takes two rolls, or one with a remnant, of which a fourth crew has none.
    assert sum(packages(sheet) for sheet in sheets) == {2: 2, 4: 5}[crews]


@pytest.mark.django_db(transaction=True)
def test_remnants_of_many_products_are_locked_without_blocking_each_other():
    catalogue = make_catalogue()
    cut = [Part.SILL_STRIP, Part.HEAD_STRIP, Part.JAMB_STRIP, Part.PAN_MEMBRANE]
    for part in (*cut, *reversed(cut)):
        make_remnant(catalogue[part], 150)
    sheets = [request(make_crew_day()) for _ in range(3)]
    outcomes = at_once(*(partial(services.write_pull_sheet, sheet_id=sheet.pk) for sheet in sheets))
    assert outcomes == [None] * 3
    used = [remnant for sheet in PullSheet.objects.all() for remnant in cut_from(sheet)]
    # Two of each for three crews that need one each.
    assert len(used) == len(set(used)) == Remnant.objects.exclude(reserved_for=None).count() == 2 * len(cut)


@pytest.mark.django_db(transaction=True)
def test_one_scrapped_while_its_sheet_is_written_is_not_counted_on(strip):
    crew_day, remnant = day_of(54), make_remnant(strip, 60)
    sheet = request(crew_day)
    at_once(
        lambda: services.write_pull_sheet(sheet_id=sheet.pk),
        lambda: services.scrap_remnant(remnant_id=remnant.pk, by=None),
    )
    newest = written(crew_day)
    assert (packages(newest), cut_from(newest), waits_for(crew_day)) == (1, set(), set())


@pytest.mark.django_db(transaction=True)
def test_what_is_settled_while_another_sheet_is_written_is_counted_once(strip):
    old = make_remnant(strip, 119)
    back = written(day_of(54, days=0))
    roll = back.rolls.get(remnant=old)
    out = request(day_of(54, days=0))
    at_once(
        lambda: services.settle_roll(roll_id=roll.pk, came_back_in=Decimal(65), by=None),
        lambda: services.write_pull_sheet(sheet_id=out.pk),
    )
    (left,) = Remnant.objects.filter(fate="")
    assert left.length_in == 65
    assert waits_for(out.crew_day) == cut_from(out) <= {left}


# What it says


def test_the_sheet_says_how_many_rolls_whether_fewer_would_do_and_which_remnants(strip):
    for length_in in (60, 100):
        make_remnant(strip, length_in)
    # Seven strips of 54 in: one from each remnant, and of five no more than two from a roll of 120 in.
    sheet = written(day_of(*[54] * 7))
    line = sheet.lines.get(product=strip)
    assert (line.packages, line.rolls_lower_bound) == (3, 3)
    one, two = (roll.remnant.code for roll in sheet.rolls.exclude(remnant=None))
    said = f"sill strip\n3 rolls; no plan needs fewer; take remnants {one}, {two}"
    workbook = workbook_of(sheet)
    assert said in texts(workbook, "Staging")
    rolls = Counter(text for text in texts(workbook, "Cuts") if text.startswith("sill-strip "))
    names = ("roll 1", "roll 2", "roll 3", one, two)
    assert rolls == Counter({f"sill-strip {name}": count for name, count in zip(names, (2, 2, 1, 1, 1), strict=True)})


def test_one_remnant_alone_is_named_and_no_roll_is_asked_for(strip):
    remnant = make_remnant(strip, 60)
    sheet = written(day_of(54))
    assert sheet.lines.get(product=strip).rolls_lower_bound == 0
    said = f"sill strip\ncut from remnants; no new roll; take remnant {remnant.code}"
    assert said in texts(workbook_of(sheet), "Staging")
    assert f"sill-strip {remnant.code}" in texts(workbook_of(sheet), "Cuts")


def test_four_rolls_and_no_remnant(strip):
    # Four strips of 90 in, none beside another on 120 in.
    sheet = written(day_of(*[90] * 4))
    assert sheet.lines.get(product=strip).rolls_lower_bound == 4
    assert "sill strip\n4 rolls; no plan needs fewer" in texts(workbook_of(sheet), "Staging")


def test_a_piece_that_no_roll_holds_and_no_lap_splices_is_refused_when_the_sheet_is_asked_for(strip):
    crew_day = day_of(130)
    # Laps of more than half a roll of 120 in would lay the whole run double: our choice.
    InstallationDetail.objects.update(end_lap_in=61)
    with pytest.raises(PieceTooLong, match="sill strip needs 130 in, a roll of sill-strip has 120 in"):
        request(crew_day)
    assert not PullSheet.objects.exists()


# Queries


@pytest.mark.parametrize("openings", [1, 9])
@pytest.mark.parametrize("others", [0, 3])
def test_a_day_without_remnants_asks_for_them_once(django_assert_num_queries, openings, others):
    make_catalogue()
    for _ in range(others):
        request(make_crew_day())
    sheet = request(make_crew_day(openings=openings))
    # As `test_writing_takes_as_many_queries_however_many_openings`, of which one looks for remnants.
    with django_assert_num_queries(14):
        services.write_pull_sheet(sheet_id=sheet.pk)


@pytest.mark.parametrize("count", [1, 4])
def test_remnants_on_the_truck_take_as_many_queries_however_many(strip, django_assert_num_queries, count):
    crew_day = day_of(*[54] * count)
    truck = truck_of(crew_day.crew)
    for _ in range(count):
        make_remnant(strip, 60, place=truck)
    sheet = request(crew_day)
    # Beside the 14 without remnants: these with their places; to reserve them a savepoint and its release, the crew
    # day and the remnants locked, the remnants joined, those released and those reserved.
    with django_assert_num_queries(14 + 1 + 7):
        services.write_pull_sheet(sheet_id=sheet.pk)


@pytest.mark.parametrize(("others", "asked"), [(1, 0), (4, 0), (1, 1), (4, 4)])
def test_sharing_takes_one_query_for_each_crew_that_waits(strip, django_assert_num_queries, others, asked):
    crew_days = [day_of(54) for _ in range(others)]
    for crew_day in crew_days[:asked]:
        request(crew_day)
    for _ in range(others + 1):
        make_remnant(strip, 60)
    sheet = request(day_of(54))
    # Beside those above: the other crew days, their openings, the products chosen for these; and what each that asked
    # gets reserved for it.
    with django_assert_num_queries(14 + 1 + 7 + 3 + asked):
        services.write_pull_sheet(sheet_id=sheet.pk)


def test_a_crew_that_cannot_be_planned_keeps_no_other_waiting(strip):
    sound, broken = day_of(54), day_of(130)
    laps = InstallationDetail.objects.filter(
        pk__in=Opening.objects.filter(assignments__crew_day=broken).values("detail")
    )
    laps.update(end_lap_in=61)  # more than half a roll: PieceTooLong when its own sheet is asked for
    remnant = make_remnant(strip, 60)
    assert cut_from(written(sound)) == {remnant}


@pytest.mark.parametrize("first", [0, 1])
def test_a_crew_whose_day_was_called_off_has_no_share(strip, first):
    days = [day_of(54), day_of(54)]
    CrewDay.objects.filter(pk=days[1 - first].pk).update(off_reason="storm", capacity_person_h=0)
    make_remnant(strip, 60)
    assert packages(written(days[first])) == 0


def test_a_revision_that_was_asked_for_before_the_truck_was_settled_is_not_written(strip):
    crew_day = day_of(54, days=0)
    first = written(crew_day)
    Opening.objects.update(remarks="tempered")
    second = request(crew_day)
    services.settle_roll(roll_id=first.rolls.get().pk, came_back_in=Decimal(0), by=None)
    services.write_pull_sheet(sheet_id=second.pk)
    second.refresh_from_db()
    assert second.state != "written"
