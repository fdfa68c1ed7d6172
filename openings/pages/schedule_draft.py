"""A schedule file that is not applied yet: how it was understood, what is wrong in it, and what it would do."""

from __future__ import annotations

from typing import Any

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from jobs.answer import Question
from jobs.calc.say import counted
from jobs.page import Page, done, entered, may, to_answer, values_of
from jobs.permissions import OFFICE
from jobs.signed_in import signed_in
from openings import queries, services, tasks
from openings.forms import ColumnsForm, LayoutForm, TakeForm, WeightsForm
from openings.models import ScheduleDraft
from openings.schedules import FOR_A_PAGE, WrongRow, counts_in_words, grouped, unpacked, wrong_rows

LINES_SHOWN = 200
UNDER_WAY = {ScheduleDraft.State.WAITING, ScheduleDraft.State.READING, ScheduleDraft.State.TAKING}


@Page
def schedule_draft(request: HttpRequest, job_id: int, draft_id: int) -> HttpResponse:
    """Where the file stands; once it is applied, the revision that it became."""
    draft = queries.draft_of(job_id, draft_id)
    if draft.schedule:
        return redirect(_REVISION, job_id=job_id, revision=draft.schedule.revision)
    outcome, page = unpacked(draft.outcome), request.GET.get("page")
    return render(
        request,
        "openings/schedule_draft.html",
        {
            "draft": draft,
            "job": draft.job,
            "is_under_way": draft.state in UNDER_WAY,
            "outcome": outcome,
            "layout": _layout_form(entered(request, "settle"), draft, outcome),
            "columns": ColumnsForm(entered(request, "place"), settled=draft.mapping),
            "weights": WeightsForm(entered(request, "confirm"), outcome=outcome),
            "take": TakeForm(entered(request, "take"), outcome=outcome, choice=draft.choice),
            "wrong": Paginator(_wrong(outcome) if outcome else (), LINES_SHOWN).get_page(page),
            "cannot": grouped(outcome["difference"]["cannot"], most=LINES_SHOWN) if outcome else (),
            "shown": LINES_SHOWN,
            "may_take": may(signed_in(request), OFFICE),
        },
    )


def _wrong(outcome: dict[str, Any]) -> list[WrongRow]:
    return wrong_rows(outcome["faults"], outcome.get("wrong_lines", ()))


@schedule_draft.act(by=OFFICE)
def settle(request: HttpRequest, job_id: int, draft_id: int) -> HttpResponse:
    """Read the file again as it was settled."""
    draft = queries.draft_of(job_id, draft_id)
    form = _layout_form(request.POST, draft, unpacked(draft.outcome))
    detail = values_of(form)["detail"]
    return read_on(request, services.settle_draft(draft_id=draft.pk, mapping=form.mapping, detail=detail))


@schedule_draft.act(by=OFFICE)
def place(request: HttpRequest, job_id: int, draft_id: int) -> HttpResponse:
    """Read a file whose headings say nothing by the letters of its columns."""
    draft = queries.draft_of(job_id, draft_id)
    form = ColumnsForm(request.POST, settled=draft.mapping)
    values_of(form)
    return read_on(request, services.settle_draft(draft_id=draft.pk, mapping=form.mapping, detail=draft.detail))


@schedule_draft.act(by=OFFICE)
def confirm(request: HttpRequest, job_id: int, draft_id: int) -> HttpResponse:
    """Confirm weights that glass and frame speak against, and read the file again."""
    draft = queries.draft_of(job_id, draft_id)
    ticked = values_of(WeightsForm(request.POST, outcome=unpacked(draft.outcome)))["weights"]
    weights = list(dict.fromkeys([*draft.mapping.get("weights", ()), *ticked]))
    mapping = draft.mapping | {"weights": weights}
    return read_on(request, services.settle_draft(draft_id=draft.pk, mapping=mapping, detail=draft.detail))


@schedule_draft.act(by=OFFICE)
def again(request: HttpRequest, job_id: int, draft_id: int) -> HttpResponse:
    """Read the file again as it was read, and compare it with the job as it stands now."""
    draft = queries.draft_of(job_id, draft_id)
    return read_on(request, services.settle_draft(draft_id=draft.pk, mapping=draft.mapping, detail=draft.detail))


def what_is_forgotten(request: HttpRequest, job_id: int, draft_id: int) -> Question | None:
    """Ask about what was settled of the file, as long as it can be read again."""
    draft = queries.draft_of(job_id, draft_id)
    if draft.state in UNDER_WAY:
        return None
    return Question(
        asks=f"Clear the answers about the columns of {draft.filename}?",
        follows="The file is checked as if it came for the first time, and every question has to be answered again.",
        yes="Clear and check again",
        no="Keep them",
    )


@schedule_draft.act(by=OFFICE, asks=what_is_forgotten)
def anew(request: HttpRequest, job_id: int, draft_id: int) -> HttpResponse:
    """Read the file again without anything that was settled about it."""
    draft = queries.draft_of(job_id, draft_id)
    return read_on(request, services.settle_draft(draft_id=draft.pk, mapping={}, detail=draft.detail))


def what_is_taken(request: HttpRequest, job_id: int, draft_id: int) -> Question | None:
    """Ask about the openings that are added, changed and removed, as they are selected."""
    draft = queries.draft_of(job_id, draft_id)
    form = TakeForm(request.POST, outcome=unpacked(draft.outcome), choice=draft.choice)
    values_of(form)
    if draft.state != ScheduleDraft.State.READ:
        return None
    would, follows = (
        form.would,
        "All of it is saved at once and cannot be undone; a later file can change it again.",
    )
    if would.get("changed") or would.get("removed"):
        follows += " An assigned opening that changes gets a hold, and an issued pull sheet follows within a minute."
    return Question(
        asks=f"Apply {draft.filename} to {draft.job.code}: {counts_in_words(would)}?",
        follows=follows,
        yes="Apply schedule",
        no="Not yet",
    )


@schedule_draft.act(by=OFFICE, asks=what_is_taken)
def take(request: HttpRequest, job_id: int, draft_id: int) -> HttpResponse:
    """Apply what was chosen of the difference: all of that or nothing."""
    draft = queries.draft_of(job_id, draft_id)
    form = TakeForm(request.POST, outcome=unpacked(draft.outcome), choice=draft.choice)
    seen = values_of(form)["seen"]
    by = signed_in(request)
    services.choose_of_draft(draft_id=draft.pk, kinds=form.chosen_kinds, leave=form.left, seen=seen, by=by)
    if services.is_for_worker(draft) or not services.take_draft(draft_id=draft.pk, by=by, budget=FOR_A_PAGE):
        tasks.take_schedule.delay_on_commit(draft.pk)
        said = f"{draft.filename} is being applied; this page shows how far it is"
        return done(request, said, _DRAFT, at="read", job_id=job_id, draft_id=draft_id)
    taken = queries.draft_of(job_id, draft_id).schedule
    if taken is None:
        return _to_draft(draft)
    said = f"{taken.filename} is applied as revision {taken.revision}: {counts_in_words(taken.counts)}"
    return done(request, said, _REVISION, at="did", job_id=job_id, revision=taken.revision)


def what_is_discarded(request: HttpRequest, job_id: int, draft_id: int) -> Question | None:
    """Ask about the file, as long as it is not being taken."""
    draft = queries.draft_of(job_id, draft_id)
    if draft.state == ScheduleDraft.State.TAKING:
        return None
    return Question(
        asks=f"Discard {draft.filename}?",
        follows=f"The file and the answers about it are deleted, and this cannot be undone. {draft.job.code} does not "
        "change, and the file can be uploaded again.",
        yes="Discard it",
        no="Keep it",
    )


@schedule_draft.act(by=OFFICE, asks=what_is_discarded)
def discard(request: HttpRequest, job_id: int, draft_id: int) -> HttpResponse:
    """Forget the file."""
    draft = queries.draft_of(job_id, draft_id)
    services.discard_draft(draft_id=draft.pk)
    said = f"{draft.filename} is discarded; nothing of it was applied"
    return done(request, said, "schedule-page", at="drafts file", job_id=job_id)


def read_on(request: HttpRequest, draft: ScheduleDraft) -> HttpResponse:
    """Read a draft at once, or have a worker do it where that takes longer, and lead to what its page says of it."""
    if services.is_for_worker(draft) or not services.read_draft(draft_id=draft.pk, budget=FOR_A_PAGE):
        tasks.read_schedule.delay_on_commit(draft.pk)
        said = f"{draft.filename} is uploaded and being checked; this page shows how far it is"
    else:
        draft.refresh_from_db(fields=["state", "outcome"])
        if draft.state == ScheduleDraft.State.REFUSED:
            return _to_draft(draft)  # the page says what is wrong with the file, as long as it is
        said = f"{draft.filename} is checked: {_what_is_open(unpacked(draft.outcome))}"
    return done(request, said, _DRAFT, at="read", job_id=draft.job_id, draft_id=draft.pk)


def _what_is_open(outcome: dict[str, Any] | None) -> str:
    questions, faults = (len(outcome[name]) if outcome else 0 for name in ("questions", "faults"))
    if questions:
        return f"{counted(questions, 'question')} about its columns"
    return f"{counted(faults, 'error')} in it" if faults else "review what it would change and apply it"


_DRAFT, _REVISION = "schedule-draft-page", "schedule-revision-page"


def _layout_form(data: Any, draft: ScheduleDraft, outcome: Any) -> LayoutForm:
    return LayoutForm(data, outcome=outcome, settled=draft.mapping, detail=draft.detail, job_id=draft.job_id)


def _to_draft(draft: ScheduleDraft) -> HttpResponse:
    return to_answer(reverse(_DRAFT, kwargs={"job_id": draft.job_id, "draft_id": draft.pk}))
