"""A later schedule of a job: the difference first, then what was chosen of it."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from jobs.errors import Conflict
from openings import services
from openings.errors import BadChoice, BadSchedule
from openings.models import Hold, InstallationDetail, Opening
from openings.schedules import Change, unpacked
from openings.services import Choice, outcome_of
from tests.factories import CrewFactory, DetailFactory, OpeningFactory, PersonFactory, tomorrow
from tests.openings.rows import schedule_of, start, take

pytestmark = pytest.mark.django_db

HEADINGS = "Mark,Qty,RO width,RO height,Floor,Remarks"


@pytest.fixture
def job():
    return DetailFactory(name="wall type 1").job


def rows(*lines: str) -> bytes:
    return schedule_of(*lines, headings=HEADINGS)


def plan_of(job, *lines: str) -> dict:
    plan = services.preview_schedule(job_id=job.pk, filename="windows.csv", content=rows(*lines))
    return outcome_of(plan)


def opening(job, mark: str) -> Opening:
    return Opening.objects.get(job=job, mark=mark)


def assign(*openings: Opening) -> None:
    crew = CrewFactory(people_count=20)
    services.assign(opening_ids=[one.pk for one in openings], crew_id=crew.pk, on=tomorrow(), by=None)


def test_a_difference_names_what_is_added_changed_removed_and_unchanged(job):
    take(job, rows("W1,1,36,54,,", "W2,2,30,40,,", "W3,1,24,24,,"))
    plan = plan_of(job, "W1,1,36,54,,", "W2,2,30,42,,", "W4,1,48,48,,")
    assert plan["counts"] == {
        "added": 1, "restored": 0, "changed": 2, "unchanged": 1, "removed": 1, "cannot": 0,
    }  # fmt: skip
    assert [one["mark"] for one in plan["openings"]] == ["W4"]
    assert [line["mark"] for line in plan["difference"]["removed"]] == ["W3"]
    assert plan["difference"]["unchanged"] == ["W1"]
    first, second = plan["difference"]["changed"]
    assert (first["mark"], second["mark"]) == ("W2-01", "W2-02")
    # The unit follows from the rough opening by the clearance of the detail.
    assert first["old"] == {"ro_height_in": Decimal(40), "unit_height_in": Decimal("39.5")}
    assert first["new"] == {"ro_height_in": Decimal(42), "unit_height_in": Decimal("41.5")}


def test_looking_writes_nothing_and_taking_does_what_was_shown(job):
    take(job, rows("W1,1,36,54,,", "W2,1,30,40,,"))
    before = list(Opening.objects.order_by("pk").values())
    plan_of(job, "W1,1,38,54,Level 2,egress", "W3,1,48,48,,")
    assert list(Opening.objects.order_by("pk").values()) == before
    taken = take(job, rows("W1,1,38,54,Level 2,egress", "W3,1,48,48,,"))
    w1 = opening(job, "W1")
    assert (w1.pk, w1.ro_width_in, w1.unit_width_in, w1.floor, w1.remarks) == (
        before[0]["id"], 38, Decimal("37.5"), "Level 2", "egress",
    )  # fmt: skip
    assert (w1.schedule, w1.schedule_row) == (taken, 2)
    assert opening(job, "W2").is_void
    assert not opening(job, "W3").is_void
    assert taken.counts == {
        "added": 1, "restored": 0, "changed": 1, "unchanged": 0, "removed": 1, "left": 0,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("first", "second", "marks"),
    [
        ("W,2,36,54,,", "W,4,36,54,,", ["W-01", "W-02", "W-03", "W-04"]),
        ("W,1,36,54,,", "W,3,36,54,,", ["W", "W-02", "W-03"]),
        ("W,3,36,54,,", "W,1,36,54,,", ["W-01"]),
    ],
    ids=["more", "one becomes three and keeps its mark", "three become one"],
)
def test_openings_keep_their_marks_when_the_quantity_changes(job, first, second, marks):
    take(job, rows(first))
    was = dict(Opening.objects.values_list("mark", "pk"))
    take(job, rows(second))
    stand = dict(Opening.objects.filter(is_void=False).order_by("position").values_list("mark", "pk"))
    assert list(stand) == marks
    assert all(was[mark] == pk for mark, pk in stand.items() if mark in was)


def test_openings_of_a_mark_are_told_apart_by_their_floor(job):
    take(job, rows("W,2,36,54,Level 1,", "V,1,24,24,Level 1,"))
    take(job, rows("V,1,24,24,Level 1,", "W,1,36,54,Ground,", "W,2,36,54,Level 1,"))
    stand = Opening.objects.filter(schedule_mark="W").order_by("mark").values_list("mark", "floor")
    assert list(stand) == [("W-01", "Level 1"), ("W-02", "Level 1"), ("W-03", "Ground")]
    order = Opening.objects.order_by("position").values_list("mark", flat=True)
    assert list(order) == ["V", "W-03", "W-01", "W-02"]


def test_what_the_file_does_not_speak_of_stays(job):
    take(job, schedule_of("W,1,36,54,35,53", headings="Mark,Qty,RO width,RO height,Unit width,Unit height"))
    Opening.objects.update(weight_lb=120, remarks="by hand", access="ladder", frame_material="vinyl")
    plan = services.preview_schedule(
        job_id=job.pk, filename="w.csv", content=schedule_of("W,1,36,54", headings="Mark,Qty,RO width,RO height")
    )
    assert (plan.changes_nothing, plan.unchanged) == (True, ("W",))


def test_a_removed_opening_is_void_and_a_later_file_restores_it(job):
    take(job, rows("W1,1,36,54,,", "W2,1,30,40,,"))
    was = opening(job, "W2").pk
    take(job, rows("W1,1,36,54,,"))
    assert opening(job, "W2").is_void
    plan = plan_of(job, "W1,1,36,54,,", "W2,1,30,41,,")
    (line,) = plan["difference"]["restored"]
    assert (line["mark"], line["new"]["ro_height_in"]) == ("W2", 41)
    take(job, rows("W1,1,36,54,,", "W2,1,30,41,,"))
    w2 = opening(job, "W2")
    assert (w2.pk, w2.is_void, w2.ro_height_in) == (was, False, 41)


def test_an_opening_added_by_hand_is_never_removed(job):
    OpeningFactory(job=job, detail=InstallationDetail.objects.get(job=job), mark="X1", schedule_mark="X1")
    take(job, rows("W1,1,36,54,,"))
    take(job, rows("W2,1,36,54,,"))
    assert list(Opening.objects.filter(is_void=False).values_list("mark", flat=True).order_by("mark")) == ["W2", "X1"]


def test_what_was_added_by_hand_is_named_and_of_openings_alike_it_is_the_last_that_a_row_means(job):
    take(job, rows("W1,2,36,54,,"))
    (copy,) = services.copy_opening(opening_id=opening(job, "W1-02").pk)
    assign(copy)
    plan = plan_of(job, "W1,2,36,54,,", "W2,1,36,54,,")
    assert plan["difference"]["by_hand"] == ["W1-03"]
    assert plan["difference"]["unchanged"] == ["W1-01", "W1-02"]
    (line,) = plan_of(job, "W1,3,36,54,Level 2,")["difference"]["changed"][2:]
    assert (line["mark"], line["follows"]) == (
        "W1-03", "it was added by hand; from now on it belongs to the schedule",
    )  # fmt: skip
    taken = take(job, rows("W1,1,36,54,,"))
    assert unpacked(taken.difference)["by_hand"] == ["W1-03"]
    assert list(Opening.objects.not_void().values_list("mark", flat=True)) == ["W1-01", "W1-03"]


def test_what_a_file_changes_back_of_what_was_changed_by_hand_is_said(job):
    take(job, rows("W1,1,36,54,,"))
    services.revise_opening(opening_id=opening(job, "W1").pk, ro_width_in=Decimal(38), mark="W1")
    assert opening(job, "W1").changed_by_hand == ["ro_width_in"]
    (line,) = plan_of(job, "W1,1,36,54,Level 2,")["difference"]["changed"]
    assert line["follows"] == "changed by hand before: rough opening width; what the file says replaces that"
    take(job, rows("W1,1,36,54,Level 2,"))
    assert (opening(job, "W1").ro_width_in, opening(job, "W1").changed_by_hand) == (36, [])


def test_what_somebody_made_void_stays_void_whatever_a_later_file_has(job):
    take(job, rows("W1,1,36,54,,", "W2,1,30,40,,"))
    by = PersonFactory(first_name="Ines", last_name="Moor")
    services.void_opening(opening_id=opening(job, "W2").pk, by=by, why="bricked up")
    plan = plan_of(job, "W1,1,36,54,,", "W2,1,30,41,,")
    (line,) = plan["difference"]["cannot"]
    assert line["hindrance"].startswith("Ines Moor made it void on ")
    assert line["hindrance"].endswith(": bricked up; restore it on its page if it is to be set")
    take(job, rows("W1,1,36,54,,", "W2,1,30,41,,"))
    assert opening(job, "W2").is_void
    services.restore_opening(opening_id=opening(job, "W2").pk)
    take(job, rows("W1,1,36,54,,", "W2,1,30,42,,"))
    assert (opening(job, "W2").is_void, opening(job, "W2").ro_height_in) == (False, 42)


def test_a_started_opening_keeps_its_size_and_stays_in_the_job(job):
    take(job, rows("W1,1,36,54,,", "W2,1,36,54,,", "W3,1,36,54,,"))
    one, two, three = Opening.objects.order_by("mark")
    assign(one, two, three)
    for started in (one, two, three):
        start(started)
    plan = plan_of(job, "W1,1,38,54,,", "W3,1,36,54,Level 2,")
    left = {line["mark"]: line["hindrance"] for line in plan["difference"]["cannot"]}
    assert set(left) == {"W1", "W2"}
    assert all(why.startswith("its install was started ") for why in left.values())
    taken = take(job, rows("W1,1,38,54,,", "W3,1,36,54,Level 2,"))
    assert opening(job, "W1").ro_width_in == 36
    assert not opening(job, "W2").is_void
    assert opening(job, "W3").floor == "Level 2"
    assert (taken.counts["left"], taken.counts["changed"]) == (2, 1)
    lines = unpacked(taken.difference)["lines"]
    assert {line["mark"] for line in lines if line["hindrance"]} == {"W1", "W2"}


def test_an_assigned_opening_cannot_be_removed_and_gets_a_hold_when_it_changes(job):
    take(job, rows("W1,1,36,54,,", "W2,1,36,54,,", "W3,1,36,54,,"))
    assign(*Opening.objects.all())
    plan = plan_of(job, "W1,1,38,54,,", "W3,1,36,54,Level 2,")
    (kept,) = plan["difference"]["cannot"]
    assert kept["mark"] == "W2"
    assert "unassign it first" in kept["hindrance"]
    assert [bool(line["follows"]) for line in plan["difference"]["changed"]] == [True, False]
    taken = take(job, rows("W1,1,38,54,,", "W3,1,36,54,Level 2,"))
    (hold,) = Hold.objects.all()
    assert (hold.opening.mark, hold.kind, hold.released_at) == ("W1", "schedule changed", None)
    assert f"revision {taken.revision}" in hold.reason
    assert "rough opening width" in hold.reason
    assert not opening(job, "W2").is_void


def test_of_openings_alike_those_go_that_nothing_binds(job):
    take(job, rows("W,3,36,54,,"))
    assign(opening(job, "W-03"))
    take(job, rows("W,1,36,54,,"))
    assert list(Opening.objects.filter(is_void=False).values_list("mark", flat=True)) == ["W-03"]


@pytest.mark.parametrize(
    ("choice", "stand"),
    [
        ({"kinds": {"added"}}, {"W1": 36, "W2": 36, "W3": 48}),
        ({"kinds": {"changed"}}, {"W1": 38, "W2": 36}),
        ({"kinds": {"removed"}}, {"W1": 36}),
        ({"leave": {"W1", "W3"}}, {"W1": 36}),
        ({"kinds": set()}, {"W1": 36, "W2": 36}),
    ],
    ids=["added", "changed", "removed", "all but two marks", "nothing"],
)
def test_only_what_was_chosen_is_applied(job, choice, stand):
    take(job, rows("W1,1,36,54,,", "W2,1,36,54,,"))
    chosen = Choice(**{name: frozenset(values) for name, values in choice.items()})
    taken = take(job, rows("W1,1,38,54,,", "W3,1,48,48,,"), choice=chosen)
    assert dict(Opening.objects.filter(is_void=False).values_list("mark", "ro_width_in")) == stand
    assert taken.counts["left"] == 3 - sum(taken.counts[change] for change in ("added", "changed", "removed"))


def test_what_was_left_shows_again_and_the_same_file_can_then_be_taken(job):
    take(job, rows("W1,1,36,54,,"))
    content = rows("W1,1,38,54,,", "W2,1,36,54,,")
    take(job, content, choice=Choice(kinds=frozenset({Change.ADDED})))
    take(job, content)
    assert opening(job, "W1").ro_width_in == 38
    with pytest.raises(Conflict, match="already has this very file"):
        take(job, content)


def test_an_earlier_file_can_be_taken_again(job):
    first = rows("W1,1,36,54,,")
    take(job, first)
    take(job, rows("W1,1,38,54,,"))
    take(job, first)
    assert opening(job, "W1").ro_width_in == 36


def test_a_difference_that_is_not_the_one_seen_is_refused(job):
    take(job, rows("W1,1,36,54,,"))
    seen = plan_of(job, "W1,1,38,54,,")["fingerprint"]
    assign(opening(job, "W1"))
    with pytest.raises(Conflict, match="has changed since"):
        take(job, rows("W1,1,38,54,,"), choice=Choice(seen=seen))
    take(job, rows("W1,1,38,54,,"), choice=Choice(seen=plan_of(job, "W1,1,38,54,,")["fingerprint"]))


def test_a_choice_names_only_what_is_there(job):
    with pytest.raises(BadChoice) as refused:
        take(job, rows("W1,1,36,54,,"), choice=Choice(leave=frozenset({"W1", "W9"})))
    assert [(fault.field, fault.value) for fault in refused.value.faults] == [("leave", "W9")]
    assert not Opening.objects.exists()


def test_a_wrong_row_leaves_everything_as_it_was(job):
    take(job, rows("W1,1,36,54,,"))
    with pytest.raises(BadSchedule):
        take(job, rows("W1,1,38,54,,", "W2,1,wide,54,,"))
    assert opening(job, "W1").ro_width_in == 36


def test_a_hold_that_stands_already_is_kept(job):
    take(job, rows("W1,1,36,54,,"))
    assign(opening(job, "W1"))
    take(job, rows("W1,1,38,54,,"))
    take(job, rows("W1,1,39,54,,"))
    assert Hold.objects.count() == 1


def test_a_preview_takes_as_many_queries_for_200_openings_as_for_2():
    taken = []
    for count in (2, 200):
        job = DetailFactory().job
        take(job, rows(f"W1,{count},36,54,,"))
        with CaptureQueriesContext(connection) as queries:
            plan_of(job, f"W1,{count},38,54,,")
        taken.append(len(queries))
    assert taken[0] == taken[1]


@pytest.mark.parametrize("stands", [False, True], ids=["new openings", "openings that stand"])
def test_a_row_with_a_pane_larger_than_its_unit_is_refused_by_row_and_column(stands):
    # Geometry: a pane is a part of its unit, which is 1/2 in smaller than the rough opening here.
    job = DetailFactory(is_default=True).job
    headings = "Mark,Qty,RO width,RO height,Pane width (in)"
    if stands:
        take(job, schedule_of("W1,1,36,54,35.5", headings=headings))
    with pytest.raises(BadSchedule) as refused:
        take(job, schedule_of("W1,1,36,54,35.5625", headings=headings))
    (fault,) = refused.value.faults
    assert (fault.row, fault.field) == (2, "pane_width_in")
    assert "the pane width is 2' 11 9/16\", more than the unit width of 2' 11 1/2\"" in fault.detail
