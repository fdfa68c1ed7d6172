"""The mark that tells finished openings from the others says what their records say."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.db import IntegrityError, connection, transaction

from openings import services
from openings.models import InstallRecord, Opening
from tests.factories import make_openings
from tests.openings.rows import finish, make_assigned, start

pytestmark = pytest.mark.django_db


@pytest.fixture
def openings() -> dict[str, Opening]:
    """One opening that is ready, one that is begun, one that is done and one that is void."""
    begun, done = make_assigned(2)
    ready, void = make_openings(2, job=begun.job)
    start(begun)
    finish(start(done))
    services.void_opening(opening_id=void.pk)
    connection.check_constraints()
    return {"ready": ready, "begun": begun, "done": done, "void": void}


def test_what_is_done_or_void_is_finished(openings):
    assert set(Opening.objects.finished()) == {openings["done"], openings["void"]}
    assert set(Opening.objects.unfinished()) == {openings["ready"], openings["begun"]}


WRITTEN_PAST_THE_SERVICES = {
    "marked though nothing is done": lambda given: marked(given["ready"], is_finished=True),
    "marked though it is only begun": lambda given: marked(given["begun"], is_finished=True),
    "not marked though it is done": lambda given: marked(given["done"], is_finished=False),
    "not marked though it is void": lambda given: marked(given["void"], is_finished=False),
    "void and not marked": lambda given: marked(given["ready"], is_void=True),
    "void no more and still marked": lambda given: marked(given["void"], is_void=False),
    "added as finished": lambda given: make_openings(1, is_finished=True),
    "done and not marked": lambda given: reopened_or_closed(given["begun"], done=True),
    "open again and still marked": lambda given: reopened_or_closed(given["done"], done=False),
    "its record gone and still marked": lambda given: records_of(given["done"]).delete(),
}


@transaction.atomic
def committed(write: Callable[[dict[str, Opening]], object], openings: dict[str, Opening]) -> None:
    write(openings)
    connection.check_constraints()


def marked(opening: Opening, **values: bool) -> None:
    Opening.objects.filter(pk=opening.pk).update(**values)


def records_of(opening: Opening):
    return InstallRecord.objects.filter(opening=opening)


def reopened_or_closed(opening: Opening, *, done: bool) -> None:
    record = records_of(opening).get()
    at, by = (record.started_at, record.started_by) if done else (None, None)
    records_of(opening).update(done_at=at, done_by=by)


@pytest.mark.parametrize("write", WRITTEN_PAST_THE_SERVICES.values(), ids=list(WRITTEN_PAST_THE_SERVICES))
def test_the_database_refuses_a_mark_that_the_records_do_not_bear_out(write, openings):
    with pytest.raises(IntegrityError, match=r"is marked otherwise than its records say|void_opening_is_finished"):
        committed(write, openings)


def test_mark_and_record_may_be_written_one_after_the_other(openings):
    marked(openings["begun"], is_finished=True)
    reopened_or_closed(openings["begun"], done=True)
    connection.check_constraints()
    assert Opening.objects.finished().count() == 3
