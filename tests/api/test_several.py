"""What is added as a list is added whole or not at all, and each fault says by `item` which of it is wrong.

Source: RFC 9457, section 3: a problem document says what would be right; `item` is a member of our own.
"""

from __future__ import annotations

import pytest

from jobs.models import Company, Crew, CrewDay, Job
from jobs.resource import MOST_AT_ONCE
from tests.api.writes import WRITES, caller
from tests.factories import CrewFactory, tomorrow
from tests.openings.api.clients import API, problem_of

CREWS = [{"name": name, "truck": f"Truck {name}", "people_count": 3} for name in ("Alder", "Birch", "Cedar")]

pytestmark = pytest.mark.django_db


def test_a_list_is_added_in_its_order_and_once_for_each_key():
    client, key = caller(), {"Idempotency-Key": "crews of a firm that starts"}
    added = client.post(f"{API}/crews/", CREWS, headers=key)
    assert added.status_code == 201, added.content
    assert [crew["name"] for crew in added.json()] == ["Alder", "Birch", "Cedar"]
    assert client.post(f"{API}/crews/", CREWS, headers=key).content == added.content
    assert Crew.objects.count() == 3


def test_a_list_of_one_is_a_list():
    assert len(caller().post(f"{API}/crews/", CREWS[:1]).json()) == 1


@pytest.mark.parametrize(
    ("item", "wrong", "status", "code", "field"),
    [
        (1, {"people_count": 0}, 400, "invalid", "[1].people_count"),
        (0, {"crew": "x"}, 400, "invalid", "[0].crew"),
        (2, {"name": "Alder"}, 409, "duplicate", "[2].name"),
        (2, {"truck": "truck alder"}, 409, "duplicate", "[2]"),
    ],
    ids=["a figure", "an unknown name", "twice in the list", "one truck for two"],
)
def test_one_that_is_wrong_leaves_all_out_and_is_named(item, wrong, status, code, field):
    sent = [crew | (wrong if number == item else {}) for number, crew in enumerate(CREWS)]
    problem = problem_of(caller().post(f"{API}/crews/", sent), status, code)
    (fault,) = problem["errors"]
    assert (fault["item"], fault["field"]) == (item, field)
    assert not Crew.objects.exists()


def test_what_is_wrong_with_a_list_of_one_is_named_too():
    problem = problem_of(caller().post(f"{API}/crews/", [CREWS[0] | {"people_count": 0}]), 400, "invalid")
    assert [(fault["item"], fault["field"]) for fault in problem["errors"]] == [(0, "[0].people_count")]


def test_all_that_is_wrong_is_told_at_once():
    sent = [CREWS[0] | {"people_count": 0}, CREWS[1], CREWS[2] | {"shift_h": 30}]
    problem = problem_of(caller().post(f"{API}/crews/", sent), 400, "invalid")
    assert [fault["item"] for fault in problem["errors"]] == [0, 2]


@pytest.mark.parametrize("count", [0, MOST_AT_ONCE + 1])
def test_a_list_that_is_empty_or_too_long_is_refused(count):
    problem_of(caller().post(f"{API}/crews/", CREWS[:1] * count), 400, "bad-input")


def test_days_are_added_as_a_list():
    crew = CrewFactory()
    sent = [{"crew": crew.pk, "on": str(tomorrow(n)), "off_reason": "vacation"} for n in (1, 2)]
    assert [day["stranded"] for day in caller().post(f"{API}/crew-days/", sent).json()] == [[], []]
    assert CrewDay.objects.filter(crew=crew).count() == 2


def test_new_jobs_and_crews_begin_as_the_company_does():
    Company.objects.create(
        pk=1, name="Weir", us_state="TX", time_zone="America/Chicago", default_cutoff="15:30", default_shift_h=9
    )
    client = caller()
    client.post(f"{API}/jobs/", [{"code": "weir", "name": "Weir Cottage", "address": "2 Weir Lane"}])
    client.post(f"{API}/crews/", CREWS[0])
    job = Job.objects.get()
    assert (job.time_zone, f"{job.cutoff:%H:%M}") == ("America/Chicago", "15:30")
    assert Crew.objects.get().shift_h == 9


TAKE_LISTS = [
    "/people/", "/products/", "/details/", "/openings/", "/units/", "/deliveries/", "/trades-before/", "/places/",
    "/lots/", "/holds/", "/forecasts/", "/company-days/", "/compatibilities/", "/detail-products/",
]  # fmt: skip


@pytest.mark.parametrize("path", TAKE_LISTS)
def test_what_a_firm_enters_is_added_as_a_list_all_or_none(path):
    write, client = WRITES[f"POST {path}"](), caller()
    problem = problem_of(client.post(f"{API}{path}", [write.body, write.body | {"no_such_name": 1}]), 400, "invalid")
    assert {fault["item"] for fault in problem["errors"]} == {1}
    answered = client.post(f"{API}{path}", [write.body])
    assert answered.status_code == 201, answered.content
    (added,) = answered.json()
    assert added["id"]
