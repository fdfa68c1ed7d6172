from __future__ import annotations

import pytest

from jobs.about import about
from jobs.calc.notice import EventKind
from jobs.models import Event, EventKey
from jobs.services import tell_event, untold
from tests.factories import CrewFactory, JobFactory, PersonFactory, tomorrow

pytestmark = pytest.mark.django_db


def test_an_event_keeps_what_happened_and_what_it_is_about():
    job, crew, by = JobFactory(), CrewFactory(), PersonFactory()
    told = tell_event(
        kind=EventKind.DAY_CHANGED,
        said="The day changed.",
        job=job,
        crew=crew,
        on=tomorrow(),
        about=[about(job)],
        by=by,
    )
    kept = Event.objects.get()
    assert (kept, kept.kind, kept.said, kept.by) == (told, "day_changed", "The day changed.", by)
    assert kept.about == [{"type": "job", "id": job.pk, "name": str(job), "detail": ""}]
    assert kept.spread_at is None


def test_what_the_clock_finds_again_is_told_once():
    def tell(*once: str) -> Event | None:
        return tell_event(kind=EventKind.STRANDED, said="Stranded.", once=once)

    assert tell("a", "b")
    assert tell("a", "b") is None
    assert untold(["a", "c"]) == {"c"}
    assert tell("b", "c")
    assert EventKey.objects.count() == 3
