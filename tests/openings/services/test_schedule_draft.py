"""A schedule file between sending and taking."""

from __future__ import annotations

from datetime import timedelta
from threading import BoundedSemaphore

import pytest
from django.utils import timezone

from jobs.errors import Conflict, NotFound
from openings import services
from openings.errors import BadSchedule
from openings.models import Opening, ScheduleDraft, WindowSchedule
from openings.schedules import Budget, apart, unpacked
from openings.services import schedule_draft
from tests.factories import DetailFactory, PersonFactory
from tests.openings.rows import schedule_of

pytestmark = pytest.mark.django_db

GOOD = schedule_of("W1,2,36,54,", "W2,1,30,40,")
ALL = {"kinds": ["added", "changed", "removed"], "leave": []}


@pytest.fixture
def job():
    return DetailFactory(name="wall type 1").job


def send(job, content: bytes = GOOD, **more) -> ScheduleDraft:
    return services.send_schedule(job_id=job.pk, filename="windows.csv", content=content, by=None, **more)


def read(draft: ScheduleDraft) -> ScheduleDraft:
    services.read_draft(draft_id=draft.pk)
    draft.refresh_from_db()
    return draft


def chosen(draft: ScheduleDraft, **more) -> ScheduleDraft:
    seen = unpacked(draft.outcome)["fingerprint"]
    return services.choose_of_draft(draft_id=draft.pk, **{**ALL, "seen": seen, **more})


def test_a_draft_is_read_chosen_and_taken(job):
    by = PersonFactory()
    draft = read(send(job))
    assert (draft.state, draft.done_pct) == ("read", 100)
    assert unpacked(draft.outcome)["counts"]["added"] == 3
    assert not Opening.objects.exists()
    chosen(draft)
    services.take_draft(draft_id=draft.pk, by=by)
    draft.refresh_from_db()
    assert (draft.state, draft.schedule.uploaded_by, Opening.objects.count()) == ("taken", by, 3)
    assert bytes(draft.schedule.content) == GOOD
    assert bytes(draft.content) == b""


def test_taking_and_reading_twice_does_it_once(job):
    draft = read(send(job))
    chosen(draft)
    for _ in range(2):
        services.take_draft(draft_id=draft.pk)
        services.read_draft(draft_id=draft.pk)
    assert WindowSchedule.objects.count() == 1
    assert ScheduleDraft.objects.get().state == "taken"


def test_a_file_that_is_no_schedule_is_refused_with_its_sentence(job):
    draft = read(send(job, b"some,words\n1,2\n"))
    assert draft.state == "refused"
    assert "Mark" in draft.problem["detail"]
    with pytest.raises(Conflict, match="cannot be applied"):
        services.choose_of_draft(draft_id=draft.pk, **ALL, seen="")


def test_wrong_rows_are_shown_and_cannot_be_taken(job):
    draft = read(send(job, schedule_of("W1,1,36,54,", "W2,1,wide,54,")))
    outcome = unpacked(draft.outcome)
    assert (draft.state, outcome["can_be_taken"]) == ("read", False)
    assert [(fault["row"], fault["value"]) for fault in outcome["faults"]] == [(3, "wide")]
    chosen(draft)
    services.take_draft(draft_id=draft.pk)
    draft.refresh_from_db()
    assert draft.state == "read"
    assert draft.problem["errors"][0]["row"] == 3
    assert not Opening.objects.exists()


def test_a_difference_that_changed_meanwhile_is_not_taken(job):
    draft = read(send(job))
    chosen(draft)
    services.take_draft(draft_id=read(send(job, GOOD)).pk)
    other = read(send(job, schedule_of("W1,2,36,54,", "W2,1,30,44,")))
    chosen(other)
    services.take_draft(draft_id=draft.pk)
    services.take_draft(draft_id=other.pk)
    other.refresh_from_db()
    assert other.state == "read"
    assert "check them again" in other.problem["detail"]
    assert Opening.objects.get(mark="W2").ro_height_in == 40


def test_settling_reads_the_file_again(job):
    draft = read(send(job, b"Mark,Breite,Hoehe\nW1,36,54\n"))
    mapping = {"columns": {"B": "ro_width_in", "C": "ro_height_in"}}
    services.settle_draft(draft_id=draft.pk, mapping=mapping, detail="")
    draft.refresh_from_db()
    assert draft.state == "waiting"
    draft = read(draft)
    assert (draft.state, unpacked(draft.outcome)["can_be_taken"]) == ("read", True)


def test_a_mapping_that_is_none_is_refused_and_changes_nothing(job):
    draft = read(send(job))
    with pytest.raises(BadSchedule, match="cannot be used"):
        services.settle_draft(draft_id=draft.pk, mapping={"columns": {"B": "breadth"}}, detail="")
    draft.refresh_from_db()
    assert draft.state == "read"


def test_a_taken_draft_is_neither_settled_nor_discarded(job):
    draft = read(send(job))
    chosen(draft)
    services.take_draft(draft_id=draft.pk)
    for act in (
        lambda: services.settle_draft(draft_id=draft.pk, mapping={}, detail=""),
        lambda: services.discard_draft(draft_id=draft.pk),
        lambda: services.choose_of_draft(draft_id=draft.pk, **ALL, seen=""),
    ):
        with pytest.raises(Conflict, match="already applied"):
            act()


def test_a_draft_can_be_discarded_once(job):
    draft = send(job)
    services.discard_draft(draft_id=draft.pk)
    with pytest.raises(NotFound):
        services.discard_draft(draft_id=draft.pk)


def test_a_draft_that_nobody_went_on_with_is_due_again_and_an_old_one_is_discarded(job):
    now = timezone.now()
    fresh, waiting, old = send(job), send(job), send(job)
    taking = chosen(read(send(job)))
    later = now - timedelta(minutes=6)
    ScheduleDraft.objects.filter(pk=waiting.pk).update(sent_at=later)
    ScheduleDraft.objects.filter(pk=taking.pk).update(asked_at=later)
    ScheduleDraft.objects.filter(pk=old.pk).update(sent_at=now - timedelta(days=31))
    assert services.drafts_to_go_on(now=now) == ([waiting.pk], [taking.pk])
    assert services.drafts_to_go_on(now=now) == ([], [])
    assert set(ScheduleDraft.objects.values_list("pk", flat=True)) == {fresh.pk, waiting.pk, taking.pk}


def test_large_files_and_models_go_to_the_worker(job):
    assert not services.is_for_worker(send(job))
    assert services.is_for_worker(send(job, GOOD + b"\n" * 500_000))
    model = services.send_schedule(job_id=job.pk, filename="house.IFC", content=b"ISO-10303-21;", by=None)
    assert services.is_for_worker(model)


# A draft that ends the process that reads or takes it


def due(draft: ScheduleDraft) -> tuple[list[int], list[int]]:
    return services.drafts_to_go_on(now=timezone.now() + timedelta(minutes=6))


def died_over(draft: ScheduleDraft, times: int, monkeypatch, verb: str = "preview_schedule") -> None:
    """Let the process that goes on with a draft end so many times, as far as its row can tell."""

    def die(**_what: object) -> None:
        raise SystemExit("killed")

    with monkeypatch.context() as patched:
        patched.setattr(schedule_draft, verb, die)
        for _ in range(times):
            with pytest.raises(SystemExit):
                (services.read_draft if verb == "preview_schedule" else services.take_draft)(draft_id=draft.pk)
    draft.refresh_from_db()


def test_a_file_that_ends_its_reader_is_read_twice_and_then_refused_in_words(job, monkeypatch):
    draft = send(job)
    died_over(draft, 2, monkeypatch)
    assert (draft.state, draft.attempts, due(draft)) == ("reading", 2, ([draft.pk], []))
    read(draft)
    assert (draft.state, draft.problem["code"]) == ("refused", "unreadable")
    assert "could not be read: it was tried 2 times" in draft.problem["detail"]
    assert due(draft) == ([], [])


def test_a_file_that_ended_its_reader_once_is_read_the_next_time(job, monkeypatch):
    draft = send(job)
    died_over(draft, 1, monkeypatch)
    assert (read(draft).state, draft.attempts) == ("read", 0)


def test_somebody_may_have_it_read_once_more(job, monkeypatch):
    draft = send(job)
    died_over(draft, 2, monkeypatch)
    read(draft)
    services.settle_draft(draft_id=draft.pk, mapping={}, detail="")
    assert (read(draft).state, draft.attempts, draft.problem) == ("read", 0, {})


def test_taking_that_ends_its_process_is_given_up_and_the_draft_is_open_again(job, monkeypatch):
    draft = read(send(job))
    chosen(draft)
    died_over(draft, 2, monkeypatch, "take_schedule")
    services.take_draft(draft_id=draft.pk)
    draft.refresh_from_db()
    assert (draft.state, draft.attempts, Opening.objects.count()) == ("read", 0, 0)
    assert "could not be applied: it was tried 2 times" in draft.problem["detail"]
    chosen(draft)
    services.take_draft(draft_id=draft.pk)
    draft.refresh_from_db()
    assert (draft.state, Opening.objects.count()) == ("taken", 3)


SHORT = Budget(time_s=0.02, memory_mb=1_000, wait_s=1)
SLOW = schedule_of(*(f"W{row},1,36,54," for row in range(3_000)))


def test_over_the_budget_of_a_page_the_worker_goes_on_and_over_its_own_it_is_refused(job, monkeypatch):
    draft = send(job, SLOW)
    assert services.read_draft(draft_id=draft.pk, budget=SHORT) is False
    draft.refresh_from_db()
    assert (draft.state, draft.doing, draft.attempts) == ("waiting", "waiting for the worker", 0)
    monkeypatch.setattr(schedule_draft, "FOR_A_WORKER", SHORT)
    assert services.read_draft(draft_id=draft.pk, budget=schedule_draft.FOR_A_WORKER) is True
    draft.refresh_from_db()
    assert (draft.state, draft.problem["code"]) == ("refused", "unreadable")
    assert "could not be read: reading it takes longer than 0.02 s" in draft.problem["detail"]


def test_over_the_budget_of_a_page_the_worker_takes_it(job):
    draft = read(send(job, SLOW))
    chosen(draft)
    assert services.take_draft(draft_id=draft.pk, budget=SHORT) is False
    draft.refresh_from_db()
    assert (draft.state, draft.attempts, draft.problem) == ("taking", 0, {})
    assert services.take_draft(draft_id=draft.pk) is True
    draft.refresh_from_db()
    assert (draft.state, Opening.objects.count()) == ("taken", 3_000)


def test_while_too_many_files_are_read_a_page_leaves_its_own_to_the_worker(job, monkeypatch):
    monkeypatch.setattr(apart, "_turns", BoundedSemaphore(1))
    apart._turns.acquire()
    draft = send(job)
    assert services.read_draft(draft_id=draft.pk, budget=Budget(time_s=5, memory_mb=1_000, wait_s=0.01)) is False
    draft.refresh_from_db()
    assert draft.state == "waiting"
    apart._turns.release()
    assert read(draft).state == "read"
