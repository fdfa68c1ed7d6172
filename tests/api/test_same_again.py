"""`Idempotency-Key`: what is sent again with its key is answered as the first time, and done once.

Source: IETF draft-ietf-httpapi-idempotency-key-header-07, sections 2.2 to 2.7.
"""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.apps import apps
from django.utils import timezone
from drf_spectacular.generators import SchemaGenerator

from jobs import services
from jobs.models import Crew, FirstAnswer
from tests.api.writes import ANSWERS_A_SECRET, SAVES_NOTHING, SETTINGS_OF_THE_SHOP, WRITES, caller
from tests.factories import CrewFactory
from tests.materials.at_once import at_once
from tests.openings.api.clients import API, problem_of

KEY = {"Idempotency-Key": '"8e03978e-40d5-43e8-bc93-6894a57f9324"'}
CREW = {"name": "Blue", "truck": "T1", "people_count": 3}


def rows() -> dict[str, int]:
    """Return how many rows of each kind there are."""
    models = [model for floor in ("jobs", "openings", "materials") for model in apps.get_app_config(floor).get_models()]
    return {model.__name__: model.objects.count() for model in models}


@pytest.fixture(scope="module")
def operations() -> dict[str, dict]:
    paths = SchemaGenerator().get_schema(public=True)["paths"]
    return {
        f"{method.upper()} {path.removeprefix(API)}": operation
        for path, methods in paths.items()
        for method, operation in methods.items()
        if method in ("post", "patch")
    }


def test_every_operation_that_writes_takes_a_key_and_the_document_says_so(operations):
    with_a_key = {
        name
        for name, operation in operations.items()
        if "Idempotency-Key" in [parameter["name"] for parameter in operation.get("parameters", [])]
    }
    assert operations.keys() - with_a_key == SAVES_NOTHING | SETTINGS_OF_THE_SHOP | ANSWERS_A_SECRET
    assert with_a_key == WRITES.keys()
    assert all({"409", "422"} <= operations[name]["responses"].keys() for name in with_a_key)


@pytest.mark.django_db
@pytest.mark.parametrize("operation", WRITES)
def test_the_same_again_is_answered_as_the_first_time_and_done_once(operation):
    client, write = caller(), WRITES[operation]()
    first = write.send(client, operation, **KEY)
    assert 200 <= first.status_code < 300, first.content
    after_the_first = rows()
    again = write.send(client, operation, **KEY)
    assert (again.status_code, again.content) == (first.status_code, first.content)
    assert again.headers.get("ETag") == first.headers.get("ETag")
    assert again.headers.get("Content-Type") == first.headers.get("Content-Type")
    assert rows() == after_the_first
    problem_of(write.send(client, operation, other=True, **KEY), 422, "key-reused")
    assert rows() == after_the_first


@pytest.mark.django_db
def test_a_key_is_of_one_person_one_address_and_one_query():
    client = caller()
    assert client.post(f"{API}/crews/", CREW, headers=KEY).status_code == 201
    assert caller().post(f"{API}/crews/", CREW | {"name": "Red", "truck": "T2"}, headers=KEY).status_code == 201
    problem_of(client.post(f"{API}/jobs/", CREW, headers=KEY), 422, "key-reused")
    problem_of(client.post(f"{API}/crews/?units=metric", CREW, headers=KEY), 422, "key-reused")


@pytest.mark.django_db
def test_quotes_around_a_key_and_the_order_of_a_body_do_not_matter():
    client = caller()
    first = client.post(f"{API}/crews/", CREW, headers=KEY)
    bare = {"Idempotency-Key": KEY["Idempotency-Key"].strip('"')}
    again = client.post(f"{API}/crews/", dict(reversed(CREW.items())), headers=bare)
    assert (again.status_code, again.content) == (201, first.content)


@pytest.mark.django_db
def test_a_refusal_is_not_kept_so_what_was_wrong_can_be_mended():
    client = caller()
    problem_of(client.post(f"{API}/crews/", CREW | {"people_count": 0}, headers=KEY), 400, "invalid")
    assert not FirstAnswer.objects.exists()
    assert client.post(f"{API}/crews/", CREW, headers=KEY).status_code == 201


@pytest.mark.django_db
def test_the_answer_stays_the_first_whatever_happened_since():
    client = caller()
    first = client.post(f"{API}/crews/", CREW, headers=KEY)
    Crew.objects.update(name="Green")
    assert client.post(f"{API}/crews/", CREW, headers=KEY).content == first.content


@pytest.mark.django_db
@pytest.mark.parametrize("key", ["", '""', "ä", "x" * 256, "a\tb"])
def test_a_key_that_is_none_is_refused(key):
    problem = problem_of(caller().post(f"{API}/crews/", CREW, headers={"Idempotency-Key": key}), 400, "bad-input")
    assert problem["errors"][0]["field"] == "Idempotency-Key"
    assert not Crew.objects.exists()


@pytest.mark.django_db
def test_answers_are_kept_for_seven_days():
    client = caller()
    client.post(f"{API}/crews/", CREW, headers=KEY)
    answered_at = FirstAnswer.objects.get().answered_at
    assert services.forget_old_answers(now=answered_at + timedelta(days=7)) == 0
    assert services.forget_old_answers(now=answered_at + timedelta(days=7, seconds=1)) == 1
    assert timezone.now() - answered_at < timedelta(days=1)


@pytest.mark.django_db(transaction=True)
def test_of_two_at_once_one_is_done_and_the_other_waits_or_gets_its_answer():
    client = caller()
    answers = at_once(*[lambda: client.post(f"{API}/crews/", CREW, headers=KEY)] * 4)
    done = [answer for answer in answers if answer.status_code == 201]
    assert Crew.objects.count() == 1
    assert done
    assert len({answer.content for answer in done}) == 1
    for answer in answers:
        if answer not in done:
            problem_of(answer, 409, "still-answering")
    assert client.post(f"{API}/crews/", CREW, headers=KEY).content == done[0].content


@pytest.mark.django_db(transaction=True)
def test_what_died_before_its_end_is_done_when_it_is_sent_again(monkeypatch):
    client = caller()
    with monkeypatch.context() as patch:
        patch.setattr("jobs.idempotency.keep_answer", lambda *args, **kwargs: 1 / 0)
        assert client.post(f"{API}/crews/", CREW, headers=KEY).status_code == 500
    assert not Crew.objects.exists()
    assert client.post(f"{API}/crews/", CREW, headers=KEY).status_code == 201


@pytest.mark.django_db
def test_without_a_key_each_request_is_done():
    client, crew = caller(), CrewFactory()
    patched = [client.patch(f"{API}/crews/{crew.pk}/", {"truck": truck}) for truck in ("T1", "T2")]
    assert [answer.json()["truck"] for answer in patched] == ["T1", "T2"]
    assert not FirstAnswer.objects.exists()
