"""The web server as it is run: with its database away, restarted or slow, and with more to do than it can."""

from __future__ import annotations

import json
import re
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass, replace
from http import HTTPStatus
from http.client import HTTPConnection
from pathlib import Path
from socket import create_server
from urllib.parse import urlencode

import pytest
from django.contrib.sessions.backends.db import SessionStore
from django.db import connection, transaction
from django.test import Client

from config import middleware, programs, services, web
from jobs.models import Crew, Person
from jobs.services import make_token
from tests.factories import CrewFactory, PersonFactory

pytestmark = pytest.mark.django_db(transaction=True)

HOST = "127.0.0.1"
PATIENCE_S = 40


@dataclass(frozen=True, kw_only=True)
class Answer:
    status: int
    headers: dict[str, str]
    text: str


@dataclass(frozen=True, kw_only=True)
class Server:
    """A web server that runs, and somebody who is signed in to it twice: by a token and by a session."""

    port: int
    token: str = ""
    session: str = ""

    def ask(self, path: str, *, method: str = "GET", sent: dict[str, str] | None = None, cookie: str = "") -> Answer:
        is_api = path.startswith("/api/")
        headers = {"Authorization": f"Token {self.token}"} if is_api else {"Cookie": cookie}
        if self.session and not is_api:
            headers["Cookie"] = f"sessionid={self.session}"
        body = None
        if sent is not None:
            body = json.dumps(sent) if is_api else urlencode(sent)
            headers["Content-Type"] = "application/json" if is_api else "application/x-www-form-urlencoded"
        with closing(HTTPConnection(HOST, self.port, timeout=PATIENCE_S)) as asked:
            asked.request(method, path, body, headers)
            answer = asked.getresponse()
            named = {name.lower(): value for name, value in answer.getheaders()}
            return Answer(status=answer.status, headers=named, text=answer.read().decode())

    def rename_crew(self, crew: Crew) -> Answer:
        return self.ask(f"/api/v1/crews/{crew.pk}/", method="PATCH", sent={"name": "Cedar"})

    def lives(self) -> bool:
        return self.ask("/health/live").status == HTTPStatus.OK


@pytest.fixture
def serve(children: services.Supervisor, child_environment: dict[str, str], tmp_path: Path) -> Iterator[Callable]:
    """Start the web server with these variables on top of this test's."""
    with create_server((HOST, 0)) as listener:
        server = Server(port=listener.getsockname()[1])

        def serve(**variables: str) -> Server:
            environment = {**child_environment, "WEB_LOCK_LIMIT_S": "30", **variables}
            program = programs.web(logs=tmp_path, listener=listener, environment=environment)
            children.start(replace(program, is_ready=server.lives))
            return server

        yield serve


def signed_in(server: Server, person: Person) -> Server:
    _, token = make_token(person=person)
    client = Client()
    client.force_login(person)
    session = SessionStore(client.session.session_key)
    return replace(server, token=token, session=session.session_key)


@contextmanager
def crew_locked(crew_pk: int) -> Iterator[None]:
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("SELECT 1 FROM jobs_crew WHERE id = %s FOR UPDATE", [crew_pk])
        yield


def end_connections() -> int:
    """End every other connection to this database, as a restart does (SQLSTATE 57P01); return how many there were."""
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity "
            "WHERE datname = current_database() AND pid <> pg_backend_pid()"
        )
        return cursor.fetchone()[0]


def require_later(answer: Answer, *, is_api: bool, code: str = "") -> None:
    """RFC 9110, 15.6.4 and 10.2.3: 503 with Retry-After in seconds."""
    assert answer.status == HTTPStatus.SERVICE_UNAVAILABLE, answer
    assert int(answer.headers["retry-after"]) > 0
    if is_api:
        assert answer.headers["content-type"] == "application/problem+json"
        document = json.loads(answer.text)
        assert document["status"] == answer.status
        assert not code or document["code"] == code
    else:
        assert answer.headers["content-type"].startswith("text/html")
        assert "try again in a moment" in answer.text


PAGES = (
    "/",
    "/login/",
    "/jobs/",
    "/boards/crews/",
    "/boards/staging/",
    "/openings/1/",
    "/nowhere/",
    "/admin/",
    "/metrics",
)
ENDPOINTS = ("/api/v1/jobs/", "/api/v1/crews/1/", "/api/v1/boards/crews/", "/api/v1/stock/")


def test_without_its_database_everything_is_answered_in_words_and_nothing_with_500(serve, tmp_path):
    server = serve(DATABASE_URL=f"postgresql://nobody@/nowhere?host={tmp_path}")
    server = replace(server, token="a" * 64, session="b" * 32)
    for path in PAGES:
        answer = server.ask(path)
        require_later(answer, is_api=False)
    for path in ENDPOINTS:
        require_later(server.ask(path), is_api=True, code="database-away")
    server = replace(server, session="")
    form = server.ask("/login/")
    (token,) = re.findall(r'name="csrfmiddlewaretoken" value="(\w+)"', form.text)
    cookie = form.headers["set-cookie"].partition(";")[0]
    sign_in = {"username": "ann", "password": "lap", "csrfmiddlewaretoken": token}
    require_later(server.ask("/login/", method="POST", sent=sign_in, cookie=cookie), is_api=False)
    ready = server.ask("/health/ready")
    assert (ready.status, json.loads(ready.text)["database"]) == (HTTPStatus.SERVICE_UNAVAILABLE, False)
    assert server.lives()


def test_a_restart_of_the_database_is_answered_with_what_was_asked_or_with_503(serve):
    server = signed_in(serve(), PersonFactory(role=Person.Role.OWNER))
    statuses: set[int] = set()
    ended = 0
    with ThreadPoolExecutor(6) as threads:
        asked = [
            threads.submit(server.ask, path)
            for _ in range(25)
            for path in ("/api/v1/jobs/", "/boards/crews/", "/api/v1/crews/", "/jobs/")
        ]
        while not all(one.done() for one in asked):
            ended += end_connections()
            time.sleep(0.3)
        for one in asked:
            answer = one.result()
            statuses.add(answer.status)
            if answer.status != HTTPStatus.OK:
                assert answer.status == HTTPStatus.SERVICE_UNAVAILABLE, answer
                assert answer.headers["retry-after"]
    assert ended > 3
    assert HTTPStatus.OK in statuses
    assert server.ask("/api/v1/jobs/").status == HTTPStatus.OK


def test_eight_pages_that_wait_stop_nobody_and_go_on(serve):
    crew = CrewFactory()
    server = signed_in(serve(), PersonFactory(role=Person.Role.SCHEDULER))
    with ThreadPoolExecutor(8) as threads:
        with crew_locked(crew.pk):
            waiting = [threads.submit(server.rename_crew, crew) for _ in range(8)]
            time.sleep(0.5)
            assert server.lives()
            assert server.ask("/api/v1/jobs/").status == HTTPStatus.OK
            assert not any(one.done() for one in waiting), "the others were to wait meanwhile"
        assert {one.result().status for one in waiting} == {HTTPStatus.OK}


def test_with_more_slow_pages_than_threads_health_is_answered_and_each_ends_in_words(serve):
    crew = CrewFactory()
    server = serve(WEB_WORKERS="1", WEB_THREADS="6", WEB_LOCK_LIMIT_S="6")
    server = signed_in(server, PersonFactory(role=Person.Role.SCHEDULER))
    with ThreadPoolExecutor(20) as threads, crew_locked(crew.pk):
        waiting = [threads.submit(server.rename_crew, crew) for _ in range(20)]
        time.sleep(0.5)
        for _ in range(5):
            assert server.lives()
        assert sum(not one.done() for one in waiting) >= 3, "three were to wait for the lock meanwhile"
        codes = [json.loads(one.result().text)["code"] for one in waiting]
        for one in waiting:
            require_later(one.result(), is_api=True)
    assert set(codes) == {"in-use", "too-many-at-once"}
    crew.refresh_from_db()
    assert crew.name != "Cedar"
    assert server.ask("/api/v1/jobs/").status == HTTPStatus.OK


def test_threads_are_left_for_what_is_quick():
    assert web.threads > middleware.SLOTS + middleware.MAY_WAIT
    assert web.workers * (web.threads + 2) <= 60, "of the hundred connections that PostgreSQL allows unasked"


def test_a_worker_ends_after_some_requests_and_another_goes_on(serve):
    server = signed_in(serve(WEB_WORKERS="1", WEB_REQUESTS="5"), PersonFactory())
    assert {server.ask("/api/v1/jobs/").status for _ in range(20)} == {HTTPStatus.OK}


@pytest.mark.skipif(not Path("/proc/self/limits").exists(), reason="limits are read from /proc")
def test_a_web_process_has_a_limit_of_memory_and_still_answers(serve):
    server = signed_in(serve(WEB_WORKERS="1", WEB_MEMORY_MB="1234"), PersonFactory())
    assert server.ask("/boards/crews/").status == HTTPStatus.OK
    limits = []
    for path in Path("/proc").iterdir():
        with suppress(OSError):  # it ended meanwhile
            if path.name.isdecimal() and b"config.wsgi" in path.joinpath("cmdline").read_bytes():
                limits += re.findall(r"Max address space +(\d+)", path.joinpath("limits").read_text())
    assert "1234000000" in limits
