"""How remnants are shared out over the crews of a day, also at the same moment."""

from __future__ import annotations

import random
from decimal import Decimal
from functools import partial
from threading import Barrier, local

import pytest
from django.utils import timezone

from jobs.models import CrewDay
from materials import services
from materials.calc.day_cuts import CrewCuts, plan_day
from materials.calc.parts import Part
from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import Cut, plan_cuts
from materials.calc.rolls import Remnant as RemnantFacts
from materials.models import PullSheet, Remnant
from materials.services import cut
from materials.services.write import SEARCHES_AHEAD
from openings.models import Assignment, InstallationDetail, Opening
from tests.factories import make_catalogue, make_remnant
from tests.materials.at_once import PATIENCE_S, at_once
from tests.materials.crew_days import make_crew_day, request, written
from tests.materials.day_cuts import ROLL_IN, cut_from, day_of, packages, require_sound, truck_of, waits_for

pytestmark = pytest.mark.django_db


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


def before_each_search(monkeypatch, act, *, of: str = "plan_cuts") -> list[int]:
    """Let something happen whenever cuts are searched, given how often that was; return what counts the searches."""
    searches: list[int] = []
    search = getattr(cut, of)

    def searched(*args, **options):
        act(len(searches))
        searches.append(1)
        return search(*args, **options)

    monkeypatch.setattr(cut, of, searched)
    return searches


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("days", [(1, 1), (1, 2)], ids=["of one day", "of two days"])
def test_two_crews_search_at_the_same_moment_and_nobody_waits_for_the_other(strip, monkeypatch, days):
    crew_days = [day_of(54, days=n) for n in days]
    remnants = {make_remnant(strip, 60), make_remnant(strip, 64)}
    sheets = [request(crew_day) for crew_day in crew_days]
    both_search, here = Barrier(2), local()

    def meet(_searches: int) -> None:
        if not hasattr(here, "met"):
            here.met = True
            # With the remnants locked during a search, the other one would never come.
            both_search.wait(timeout=PATIENCE_S)

    before_each_search(monkeypatch, meet)
    outcomes = at_once(*(partial(services.write_pull_sheet, sheet_id=sheet.pk) for sheet in sheets))
    assert outcomes == [None, None]
    sheets = list(PullSheet.objects.filter(state="written"))
    require_sound(sheets)
    assert [packages(sheet) for sheet in sheets] == [0, 0]
    assert {remnant for sheet in sheets for remnant in cut_from(sheet)} == remnants


@pytest.mark.parametrize("how", ["scrapped", "taken by another crew", "moved", "shorter"])
def test_a_remnant_that_is_not_to_be_had_after_the_search_is_not_counted_on(strip, monkeypatch, how):
    crew_day, remnant, other = day_of(54), make_remnant(strip, 60), day_of(54, days=2)
    lost = Remnant.objects.filter(pk=remnant.pk)
    act = {
        "scrapped": lambda: services.scrap_remnant(remnant_id=remnant.pk, by=None),
        "taken by another crew": lambda: lost.update(reserved_for=other),
        "moved": lambda: lost.update(place=truck_of(other.crew)),
        "shorter": lambda: lost.update(length_in=30),
    }[how]
    sheet = request(crew_day)
    searches = before_each_search(monkeypatch, lambda n: None if n else act(), of="plan_day")
    services.write_pull_sheet(sheet_id=sheet.pk)
    sheet = PullSheet.objects.get(pk=sheet.pk)
    assert (sheet.state, packages(sheet), cut_from(sheet), waits_for(crew_day)) == ("written", 1, set(), set())
    assert len(searches) == 1  # of the remnant; without one there is nothing to share


def test_what_moves_at_every_search_is_searched_under_the_lock_at_last(strip, monkeypatch):
    sheet = request(day_of(54))
    searches = before_each_search(monkeypatch, lambda n: Opening.objects.update(remarks=f"seen {n} times"))
    services.write_pull_sheet(sheet_id=sheet.pk)
    assert PullSheet.objects.get(pk=sheet.pk).state == "written"
    assert len(searches) == SEARCHES_AHEAD + 1


def test_what_another_sheet_reserves_meanwhile_is_counted_on(strip, monkeypatch):
    crew_day = day_of(54)
    sheet = request(crew_day)
    searches = before_each_search(
        monkeypatch, lambda n: make_remnant(strip, 60, reserved_for=crew_day) if n == 0 else None
    )
    services.write_pull_sheet(sheet_id=sheet.pk)
    assert cut_from(sheet) == waits_for(crew_day) == set(Remnant.objects.all())
    assert len(searches) == 2


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
