"""The difference that a schedule file makes, and taking of it what is ticked."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse
from django.utils import timezone

from materials import services
from materials.models import PullSheet
from openings import services as openings
from openings import tasks
from openings.forms import schedule as forms
from openings.models import Hold, Opening, ScheduleDraft, WindowSchedule
from openings.services import schedule_draft
from tests.factories import CrewFactory, JobFactory, make_catalogue, tomorrow
from tests.pages.html import html_of
from tests.pages.schedules import DETAIL, GOOD, HEAD, address_of, line, make_draft, make_outcome, opening, send

State = ScheduleDraft.State
FIRST = HEAD + f"W1,3,36,54,{DETAIL}\nW2,2,24,36,{DETAIL}\nW3,1,48,48,{DETAIL}\n"
REVISED = HEAD + f"W1,3,38,54,{DETAIL}\nW2,2,24,36,{DETAIL}\nW4,2,30,30,{DETAIL}\n"
"""Three changed, one gone, two new, two as they were."""


@pytest.fixture
def job(db):
    job = JobFactory()
    openings.import_schedule(job_id=job.pk, filename="first.csv", content=FIRST.encode(), by=None)
    return job


@pytest.fixture
def draft(job, scheduler):
    """The revised file, sent and read."""
    send(scheduler, job, REVISED)
    return ScheduleDraft.objects.get()


def shown(client, draft) -> str:
    return html_of(client.get(address_of(draft)))


def ticked(page: str) -> dict[str, list[str]]:
    """Return what a browser would send of the boxes as they stand."""
    boxes = re.findall(r'<input type="checkbox" name="(\w+)" value="([^"]+)"[^>]* checked', page)
    return {name: [value for of, value in boxes if of == name] for name in ("kinds", "group", "tick")}


def take(client, draft, **changed):
    page = shown(client, draft)
    seen = re.search(r'name="seen" value="(\w+)"', page)[1]
    return client.post(
        address_of(draft), {"act": "take", "sure": "yes", "seen": seen, **ticked(page), **changed}, follow=True
    )


def widths(job) -> dict[str, str]:
    return {
        one.mark: f"{one.ro_width_in.normalize()}{' void' * one.is_void}" for one in Opening.objects.filter(job=job)
    }


def test_a_first_file_shows_what_it_would_make_and_leads_to_its_revision(scheduler):
    job = JobFactory()
    send(scheduler, job, GOOD)
    draft = ScheduleDraft.objects.get()
    page = shown(scheduler, draft)
    for fact in ("This would add 2 openings", "W3-01", "W3-02", "3&#x27; 0&quot;"):
        assert fact in page, fact
    assert ticked(page)["tick"] == ["W3-01", "W3-02"]
    response = take(scheduler, draft)
    assert response.redirect_chain == [(f"{reverse('schedule-revision-page', args=[job.pk, 1])}#answer", 303)]
    assert "windows.csv is applied as revision 1: 2 added" in html_of(response)
    assert f"{scheduler.get(address_of(draft))['Location']}#answer" == response.redirect_chain[0][0]


def test_rows_of_a_first_file_can_be_left_out(scheduler):
    job = JobFactory()
    send(scheduler, job, GOOD)
    draft = ScheduleDraft.objects.get()
    refused = take(scheduler, draft, tick=[], has_boxes="True")
    assert "select at least one" in html_of(refused)
    assert not Opening.objects.filter(job=job).exists()
    response = take(scheduler, draft, tick=["W3-02"], has_boxes="True")
    assert "windows.csv is applied as revision 1: 1 added" in html_of(response)
    assert [one.mark for one in Opening.objects.filter(job=job)] == ["W3-02"]


def test_the_difference_says_how_many_and_what_from_what_to_what(scheduler, draft):
    page = shown(scheduler, draft)
    for count, words in ((2, "added"), (3, "changed"), (1, "removed"), (2, "unchanged")):
        assert f"<b>{count}</b> {words}</li>" in page
    assert 'role="img" aria-label="2 added, 3 changed, 1 removed, 2 unchanged"' in page
    assert "<span>rough opening width:</span> 3&#x27; 0&quot; → 3&#x27; 2&quot;" in page
    assert "W1 <small>3 openings</small>" in page


def test_everything_is_taken_where_nothing_is_unticked(scheduler, job, draft):
    response = take(scheduler, draft)
    assert "applied as revision 2: 2 added, 3 changed, 1 removed" in html_of(response)
    assert widths(job) == {
        "W1-01": "38", "W1-02": "38", "W1-03": "38", "W2-01": "24", "W2-02": "24", "W3": "48 void",
        "W4-01": "3E+1", "W4-02": "3E+1",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("unticked", "left"),
    [
        ({"tick": ["W1-01", "W1-03", "W3", "W4-01", "W4-02"]}, {"W1-02"}),
        ({"group": []}, {"W1-01", "W1-02", "W1-03"}),
        ({"tick": ["W1-01", "W1-02", "W1-03", "W3", "W4-02"]}, {"W4-01"}),
        ({"kinds": ["added", "changed"]}, {"W3"}),
        ({"kinds": [], "tick": [], "group": []}, {"W1-01", "W1-02", "W1-03", "W3", "W4-01", "W4-02"}),
    ],
    ids=["one of a group", "a group", "a new one", "a kind", "everything"],
)
def test_what_is_unticked_is_left_as_it_is(scheduler, job, draft, unticked, left):
    before = widths(job)
    response = take(scheduler, draft, **unticked)
    now = widths(job)
    assert {mark for mark in ("W1-01", "W1-02", "W1-03", "W3") if before[mark] == now[mark]} == left & before.keys()
    assert {"W4-01", "W4-02"} - now.keys() == left - before.keys()
    said = f"{len(left)} not applied"
    assert said in html_of(response)


def test_in_a_long_list_an_opening_goes_by_its_group_or_by_its_kind(scheduler, job, draft, monkeypatch):
    monkeypatch.setattr(forms, "LINES_SHOWN", 1)
    page = shown(scheduler, draft)
    assert "2 more follow the box of the line" in page
    assert "1 opening not listed here: use “add new openings” for it." in page
    take(scheduler, draft, group=[], tick=["W1-01"])
    now = widths(job)
    assert {now[mark] for mark in ("W1-01", "W1-02", "W1-03")} == {"36"}
    assert ("W4-01" in now, "W4-02" in now) == (False, True)


def test_what_cannot_change_is_shown_with_its_reason_and_has_no_box(scheduler):
    hindered = [line("changed", "W9", old={"floor": ""}, new={"floor": "2"}, hindrance="its install was started")]
    outcome = make_outcome(is_revision=True, difference={"cannot": hindered})
    page = shown(scheduler, make_draft(outcome=outcome))
    assert "<span>floor or place:</span> nothing → 2" in page
    assert '<td class="why">its install was started</td>' in page
    assert 'name="tick"' not in page


@pytest.mark.parametrize(
    ("name", "old", "new", "said"),
    [
        ("is_egress", None, True, "nothing → yes"),
        ("lites_in", [], [0.125, 0.25], "nothing → 1/8&quot; + 1/4&quot;"),
        ("weight_lb", 80.0, 86.5, "80 lb → 86.5 lb"),
        ("detail", "wall 1", "wall 2", "wall 1 → wall 2"),
        ("ro_width_in", 36.0, 36.01, "36 in → 36.01 in"),  # both are 3' 0" on the tape
    ],
)
def test_each_value_is_said_as_the_trade_says_it(scheduler, db, name, old, new, said):
    changed = [line("changed", "W1", old={name: old}, new={name: new})]
    page = shown(scheduler, make_draft(outcome=make_outcome(is_revision=True, difference={"changed": changed})))
    assert f":</span> {said}</li>" in page


def test_what_was_left_out_before_has_no_tick_when_it_is_looked_at_again(scheduler, db):
    changed = [line("changed", f"W1-0{n}", old={"floor": ""}, new={"floor": "2"}) for n in (1, 2)]
    outcome = make_outcome(is_revision=True, openings=[opening("W7")], difference={"changed": changed})
    choice = {"kinds": ["changed"], "leave": ["W1-02", "W7"], "seen": ""}
    page = shown(scheduler, make_draft(outcome=outcome, choice=choice))
    assert ticked(page) == {"kinds": ["changed"], "group": ["changed-0"], "tick": ["W1-01"]}


def test_a_job_that_changed_meanwhile_is_said_and_compared_again(scheduler, job, draft):
    page = shown(scheduler, draft)
    Opening.objects.filter(job=job, mark="W1-01").update(ro_width_in=40)
    seen = re.search(r'name="seen" value="(\w+)"', page)[1]
    response = scheduler.post(
        address_of(draft), {"act": "take", "sure": "yes", "seen": seen, **ticked(page)}, follow=True
    )
    page = html_of(response)
    assert "has changed since these changes were checked" in page
    assert WindowSchedule.objects.count() == 1
    scheduler.post(address_of(draft), {"act": "again"})
    page = shown(scheduler, draft)
    assert "has changed since" not in page
    assert "3&#x27; 4&quot; → 3&#x27; 2&quot;" in page
    take(scheduler, draft)
    assert widths(job)["W1-01"] == "38"


def test_an_assigned_opening_is_held_its_sheet_follows_and_that_is_said_before(scheduler, job, draft):
    make_catalogue()
    crew, one = CrewFactory(name="Rowan"), Opening.objects.get(job=job, mark="W1-01")
    openings.assign(opening_ids=[one.pk], crew_id=crew.pk, on=tomorrow(), by=None)
    sheet = services.request_pull_sheet(crew_id=crew.pk, on=tomorrow(), by=None)
    services.write_pull_sheet(sheet_id=sheet.pk)
    scheduler.post(address_of(draft), {"act": "again"})
    said = shown(scheduler, draft)
    assert f"pull sheet {sheet.number} of Rowan" in said
    assert "it goes on hold, and an issued pull sheet is updated within a minute" in said
    take(scheduler, draft)
    assert "changed rough opening width" in Hold.objects.get(opening=one).reason
    assert services.request_due_pull_sheets(now=timezone.now()) == [
        PullSheet.objects.get(state=PullSheet.State.PENDING).pk
    ]


def test_a_large_file_is_taken_by_the_worker(scheduler, job, draft, monkeypatch, django_capture_on_commit_callbacks):
    asked = []
    monkeypatch.setattr(schedule_draft, "LARGE_BYTES", 10)
    monkeypatch.setattr(tasks.take_schedule, "delay", asked.append)
    with django_capture_on_commit_callbacks(execute=True):
        response = take(scheduler, draft, tick=["W4-01"], group=[])
    assert asked == [draft.pk]
    assert "The schedule is being applied" in html_of(response)
    draft.refresh_from_db()
    assert (draft.state, draft.choice["leave"]) == (State.TAKING, ["W1-01", "W1-02", "W1-03", "W3", "W4-02"])


def test_a_draft_that_is_not_read_cannot_be_taken(scheduler, db):
    draft = make_draft()
    response = scheduler.post(address_of(draft), {"act": "take"})
    assert response.status_code == 409
    assert "cannot be applied" in html_of(response)
