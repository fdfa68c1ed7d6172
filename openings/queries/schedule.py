"""Schedule files of a job: those that are taken, and those that are not yet."""

from __future__ import annotations

from django.db.models import Count, IntegerField, OuterRef, QuerySet, Subquery
from django.db.models.functions import Coalesce

from jobs.errors import NotFound
from openings.models import Opening, ScheduleDraft, WindowSchedule


def schedule_list() -> QuerySet[WindowSchedule]:
    """Return the schedules without their files and rows, each with `openings_count`. One query.

    Openings are counted of the schedules that are read, not of those passed over before a page.
    """
    openings = Opening.objects.filter(schedule=OuterRef("pk")).order_by().values("schedule")
    count = Subquery(openings.annotate(n=Count("pk")).values("n"), output_field=IntegerField())
    schedules = WindowSchedule.objects.defer("content", "rows", "difference")
    return schedules.annotate(openings_count=Coalesce(count, 0))


def schedules_of(job_id: int) -> QuerySet[WindowSchedule]:
    """Return the schedules of a job without their files and rows, newest first. One query."""
    schedules = WindowSchedule.objects.filter(job=job_id).select_related("uploaded_by")
    return schedules.defer("content", "rows", "difference")


def revision_of(job_id: int, revision: int) -> WindowSchedule:
    """Return a revision with its rows and its difference, its job joined, without its file. One query.

    Raises:
        NotFound: the job has no such revision.
    """
    schedules = WindowSchedule.objects.filter(job=job_id, revision=revision).select_related("job", "uploaded_by")
    found = schedules.defer("content").first()
    if found is None:
        raise NotFound(f"the job has no revision {revision} of its schedule")
    return found


def drafts_of(job_id: int) -> QuerySet[ScheduleDraft]:
    """Return the files that were sent for a job and are not taken, without what is in them, newest first. One query."""
    drafts = ScheduleDraft.objects.filter(job=job_id).exclude(state=ScheduleDraft.State.TAKEN)
    return drafts.defer("content", "outcome").select_related("sent_by")


def draft_of(job_id: int, draft_id: int) -> ScheduleDraft:
    """Return a draft with what reading it said, its job and its revision joined, without its file. One query.

    Raises:
        NotFound: the job has no such draft.
    """
    drafts = ScheduleDraft.objects.filter(job=job_id, pk=draft_id).select_related("job", "sent_by", "schedule")
    found = drafts.defer("content", "schedule__content", "schedule__rows", "schedule__difference").first()
    if found is None:
        raise NotFound("there is no such file: it was discarded, or removed after a month without use")
    return found
