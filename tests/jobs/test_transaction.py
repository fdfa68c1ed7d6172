"""A verb is one transaction: what PostgreSQL rolled back in favor of another is done once more, and only that."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import psycopg
import pytest
from django.db import DatabaseError, InterfaceError, OperationalError, connection, connections

from jobs import transaction
from jobs.models import Crew
from tests.factories import CrewFactory

pytestmark = pytest.mark.django_db(transaction=True)


def refuse(code: str) -> None:
    """Let PostgreSQL itself raise an error of this code."""
    with connection.cursor() as cursor:
        cursor.execute(f"DO $$ BEGIN RAISE EXCEPTION 'refused' USING ERRCODE = '{code}'; END $$")


class Verb:
    """Renames a crew, and is refused so many times before."""

    def __init__(self, crew: Crew, *, code: str, times: int) -> None:
        self._crew, self._code, self._left, self.begun = crew, code, times, 0

    @property
    def do(self):
        def add_one() -> int:
            self.begun += 1
            people = Crew.objects.values_list("people_count", flat=True).get(pk=self._crew.pk)
            Crew.objects.filter(pk=self._crew.pk).update(people_count=people + 1)
            if self._left:
                self._left -= 1
                refuse(self._code)
            return people + 1

        return transaction.atomic(add_one)


# 40001 serialization_failure, 40P01 deadlock_detected: PostgreSQL 18 documentation, appendix A.
@pytest.mark.parametrize("code", ["40001", "40P01"])
def test_what_was_rolled_back_for_another_is_done_once_more_and_counts_once(code):
    crew = CrewFactory(people_count=3)
    verb = Verb(crew, code=code, times=1)
    assert verb.do() == 4
    crew.refresh_from_db()
    assert (verb.begun, crew.people_count) == (2, 4)


@pytest.mark.parametrize(
    ("code", "begun"), [("40001", 2), ("40P01", 2), ("55P03", 1), ("57014", 1)], ids=lambda value: str(value)
)
def test_what_persists_is_raised_and_nothing_is_written(code, begun):
    crew = CrewFactory(people_count=3)
    verb = Verb(crew, code=code, times=2)
    with pytest.raises(OperationalError):
        verb.do()
    crew.refresh_from_db()
    assert (verb.begun, crew.people_count) == (begun, 3)


def test_a_verb_within_a_verb_is_not_done_again_alone():
    crew = CrewFactory(people_count=3)
    inner = Verb(crew, code="40P01", times=1)
    begun = []

    @transaction.atomic
    def outer() -> int:
        begun.append("outer")
        return inner.do()

    assert outer() == 4
    assert (len(begun), inner.begun) == (2, 2)


def test_two_who_lock_each_other_out_both_succeed():
    first, second = CrewFactory(people_count=3), CrewFactory(people_count=3)
    both_hold_one = Barrier(2)

    def add_to(here: Crew, there: Crew) -> None:
        begun = []

        @transaction.atomic
        def add() -> None:
            begun.append(here)
            for crew in (here, there):
                row = Crew.objects.select_for_update().get(pk=crew.pk)
                row.people_count += 1
                row.save(update_fields=["people_count"])
                if crew == here and len(begun) == 1:
                    both_hold_one.wait(timeout=10)

        try:
            add()
        finally:
            connections.close_all()

    with ThreadPoolExecutor(2) as threads:
        list(threads.map(add_to, (first, second), (second, first)))
    assert set(Crew.objects.values_list("people_count", flat=True)) == {5}


@pytest.mark.parametrize(
    ("code", "passes"),
    [
        ("40001", True), ("40P01", True), ("55P03", True), ("57014", True), ("25P03", True), ("57P01", True),
        ("57P03", True), ("53300", True), ("08006", True), ("54001", False), ("22003", False), ("23505", False),
        ("42P01", False), ("25006", False),
    ],
)  # fmt: skip
def test_what_passes_by_itself_is_told_from_what_is_wrong(code, passes):
    with pytest.raises(DatabaseError) as refused:
        refuse(code)
    assert transaction.passes_by_itself(refused.value) is passes


def test_a_database_that_is_nowhere_and_a_connection_that_is_lost_pass_by_themselves():
    away = OperationalError("connection failed")
    away.__cause__ = psycopg.OperationalError("connection failed")
    assert transaction.passes_by_itself(away)
    assert transaction.passes_by_itself(InterfaceError("the connection is closed"))
    assert not transaction.passes_by_itself(ValueError("ours"))
