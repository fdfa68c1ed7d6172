"""What goes wrong in a request and how it is answered: never with 500, always with a problem document."""

from __future__ import annotations

import json
from datetime import date

import pytest
from rest_framework.test import APIClient

from openings.models import Hold
from tests.factories import CrewFactory, DetailFactory, JobFactory, make_openings, tomorrow
from tests.openings.api.clients import API, problem_of, signed_in
from tests.openings.rows import make_assigned, start

JSON = "application/json"
HUGE = 10**30
SIDES = {"ro_width_in": 36, "ro_height_in": 54, "unit_width_in": 35.5, "unit_height_in": 53.5}


def send(client: APIClient, path: str, text: str | bytes, *, media: str = JSON, method: str = "POST"):
    return client.generic(method, f"{API}/{path}", text, content_type=media)


@pytest.mark.parametrize(
    ("method", "path", "status", "code"),
    [
        ("GET", "nowhere/", 404, "not-found"),
        ("GET", "", 404, "not-found"),
        ("GET", "openings/x/", 404, "not-found"),
        ("GET", "openings/0/", 404, "not-found"),
        ("GET", f"openings/{HUGE}/", 404, "not-found"),
        ("GET", "openings/%00/", 404, "not-found"),
        ("GET", f"openings/{HUGE}/labor/", 404, "not-found"),
        ("GET", f"jobs/{HUGE}/labor/", 404, "not-found"),
        ("POST", f"holds/{HUGE}/release/", 404, "not-found"),
        ("PUT", "openings/", 405, "method-not-allowed"),
        ("DELETE", "jobs/1/", 405, "method-not-allowed"),
        ("PATCH", "movements/1/", 405, "method-not-allowed"),
        ("DELETE", "schedules/1/", 405, "method-not-allowed"),
        ("POST", "boards/crews/", 405, "method-not-allowed"),
        ("POST", "jobs/1/labor/", 405, "method-not-allowed"),
        ("WRITERS", "boards/crews/", 405, "method-not-allowed"),
        ("GET", "boards/crews/?first=tomorrow", 400, "invalid"),
        ("GET", "boards/crews/?first=%00", 400, "invalid"),
        ("GET", "boards/crews/?days=32", 400, "invalid"),
        ("GET", f"boards/crews/?days={HUGE}", 400, "invalid"),
        ("GET", "boards/crews/?first=9999-12-31", 400, "day-out-of-reach"),
    ],
)
@pytest.mark.parametrize("slash", ["/", ""], ids=["last slash", "no last slash"])
def test_an_address_that_leads_nowhere_says_so(method, path, status, code, slash, scheduler):
    before, mark, query = path.partition("?")
    at = before.removesuffix("/") + slash + mark + query
    problem_of(send(scheduler, at, "{}", method=method), status, code)


@pytest.mark.parametrize("noun", ["openings", "boards/crews", "jobs"])
def test_the_last_slash_is_free(noun, scheduler):
    for slash in ("", "/"):
        assert scheduler.get(f"{API}/{noun}{slash}").status_code == 200


def test_a_post_without_the_last_slash_is_not_redirected(scheduler):
    (opening,) = make_openings(1)
    body = {"opening": opening.pk, "kind": "access", "reason": "stairs"}
    assert scheduler.post(f"{API}/holds", body).status_code == 201


@pytest.mark.parametrize(
    "body",
    [
        "{", "", "null", "[]", '"text"', "7", '{"opening": NaN}', '{"opening": 1e400}', '{"opening": [1]}',
        '{"opening": true}', f'{{"opening": {HUGE}}}', '{"opening": ' + "9" * 5000 + "}", '{"opening": "\\u0000"}',
        '{"kind": "\\ud800"}', '{"\\ud800": 1}', '{"\\u0000": 1}', '{"reason": "bell \\u0007"}', b'{"reason": "\xe9"}',
        "[" * 100_000, '{"a":' * 990 + "1" + "}" * 990,
    ],
)  # fmt: skip
def test_a_body_that_makes_no_sense_is_the_callers_fault(body, scheduler):
    response = send(scheduler, "holds/", body)
    problem_of(response, 400, response.json()["code"])
    assert not Hold.objects.exists()


def test_text_with_a_control_character_is_refused_where_it_stands(scheduler):
    (opening,) = make_openings(1)
    for noun, body, field in (
        ("holds/", {"opening": opening.pk, "kind": "access", "reason": "two\x0blines"}, "reason"),
        ("jobs/", {"code": "a", "name": "n", "address": "1\x00 Weir Lane"}, "address"),
        ("assignments/many/", {"openings": [1, "\x07"]}, "openings[1]"),
    ):
        assert problem_of(scheduler.post(f"{API}/{noun}", body), 400, "parse-error")["detail"].startswith(field)


@pytest.mark.parametrize(
    "media", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=b"]
)
def test_only_json_is_read(media, scheduler):
    problem_of(send(scheduler, "holds/", "a=b", media=media), 415, "unsupported-media-type")


@pytest.mark.parametrize("media", [JSON, "text/plain"])
def test_a_wrong_query_is_answered_whatever_body_comes_with_it(media, scheduler):
    response = send(scheduler, "boards/crews/?first=soon", "{", media=media, method="GET")
    (fault,) = problem_of(response, 400, "invalid")["errors"]
    assert (fault["field"], fault["value"]) == ("first", "soon")


def test_a_body_too_large_is_refused_by_its_size(scheduler):
    problem_of(send(scheduler, "holds/", json.dumps({"reason": "x" * 6 * 2**20})), 413, "too-large")


def test_what_is_asked_for_is_json(scheduler):
    problem_of(scheduler.get(f"{API}/openings/", HTTP_ACCEPT="application/xml"), 406, "not-acceptable")


def test_every_wrong_field_is_named_with_what_was_sent(scheduler):
    body = {"job": 0, "mark": "", "ro_width_in": "wide", "ro_height_in": "0.000001", "unit_width_in": -1}
    problem = problem_of(scheduler.post(f"{API}/openings/", body), 400, "invalid")
    assert {fault["field"]: fault["value"] for fault in problem["errors"]} == {
        "job": "0", "mark": "", "ro_width_in": "wide", "ro_height_in": "0.000001", "unit_width_in": "-1",
        "unit_height_in": "", "detail": "",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("noun", "body", "said"),
    [
        ("crews", {"name": "A", "truck": "T", "people_count": 0}, "must be 1 or more"),
        ("crews", {"name": "A", "truck": "T", "people_count": HUGE}, "must be 20 or less"),
        ("crews", {"name": "A", "truck": "T", "people_count": 2, "shift_h": 25}, "must be 24 or less"),
        ("crews", {"name": "A", "truck": "T", "people_count": 2, "weekdays": "890"}, "not a list of weekdays"),
        ("jobs", {"code": "a b", "name": "A", "address": "1"}, "letters, digits, hyphens"),
        ("jobs", {"code": "a", "name": "A", "address": "1", "time_zone": "../etc/passwd"}, "is not a time zone"),
        ("jobs", {"code": "a", "name": "A", "address": "1", "cutoff": "25:00"}, "this is not a time of day"),
        ("jobs", {"code": "a", "name": "A", "address": "1", "starts_on": "2027-02-29"}, "this is not a date"),
    ],
)
def test_what_cannot_be_is_not_stored(noun, body, said, scheduler):
    assert said in problem_of(scheduler.post(f"{API}/{noun}/", body), 400, "invalid")["detail"]
    assert scheduler.get(f"{API}/{noun}/").json()["count"] == 0


def opening_body(detail, **values):
    return {"job": detail.job_id, "detail": detail.pk, "mark": "W1", **SIDES, **values}


def test_an_opening_has_a_unit_that_fits_and_a_detail_of_its_own_job(scheduler):
    detail = DetailFactory()
    for values, said in (
        ({"unit_width_in": 37}, "larger than its rough opening"),
        ({"ro_width_in": 480.5}, "must be 480 or less"),
        ({"job": JobFactory().pk}, "detail of another job"),
    ):
        assert (
            said
            in problem_of(scheduler.post(f"{API}/openings/", opening_body(detail, **values)), 400, "invalid")["detail"]
        )
    made = scheduler.post(f"{API}/openings/", opening_body(detail))
    assert (made.status_code, made.json()["state"], made.json()["schedule_mark"]) == (201, "ready", "W1")
    problem_of(scheduler.post(f"{API}/openings/", opening_body(detail)), 409, "duplicate")


def test_what_other_rows_rely_on_stays_as_it_is(scheduler):
    (opening,) = make_openings(1)
    other, crew = JobFactory(), CrewFactory()
    day = crew.days.create(on=tomorrow(), capacity_person_h=8)
    for path, body in (
        (f"openings/{opening.pk}", {"job": other.pk}),
        (f"details/{opening.detail_id}", {"job": other.pk}),
        (f"crew-days/{day.pk}", {"on": str(tomorrow(2))}),
        (f"crew-days/{day.pk}", {"crew": CrewFactory().pk}),
    ):
        problem = problem_of(scheduler.patch(f"{API}/{path}/", body), 400, "invalid")
        assert [fault["field"] for fault in problem["errors"]] == list(body)
    same = scheduler.patch(f"{API}/crew-days/{day.pk}/", {"on": str(tomorrow()), "capacity_person_h": 4})
    assert (same.status_code, same.json()["capacity_person_h"]) == (200, 4)


def test_an_opening_with_an_install_record_keeps_its_size(scheduler):
    (opening,) = make_assigned()
    start(opening)
    refused = scheduler.patch(f"{API}/openings/{opening.pk}/", {"ro_width_in": 40})
    said = problem_of(refused, 409, "opening-bound")["detail"]
    assert "stays as it is (rough opening width): its install was started " in said
    changed = scheduler.patch(f"{API}/openings/{opening.pk}/", {"remarks": "stair side"})
    assert (changed.json()["remarks"], changed.json()["state"]) == ("stair side", "started")


def test_a_detail_takes_what_is_not_given_from_its_starting_point(scheduler):
    job = JobFactory()
    body = {
        "job": job.pk,
        "name": "bay",
        "starting_point": "box frame replacement",
        "strip_width_in": 10,
        "is_default": True,
    }
    made = scheduler.post(f"{API}/details/", body).json()
    assert (made["mounting"], made["has_straps"], made["strip_width_in"]) == ("box frame", True, 10)
    problem_of(scheduler.post(f"{API}/details/", body), 409, "duplicate")
    problem_of(scheduler.post(f"{API}/details/", body | {"name": "bow"}), 409, "duplicate")
    for values in ({"strip_width_in": 6}, {"jamb_flashing_over_flange": True}, {"starting_point": "none"}):
        problem_of(
            scheduler.post(f"{API}/details/", body | {"name": "bow", "is_default": False} | values), 400, "invalid"
        )
    missing = problem_of(scheduler.post(f"{API}/details/", {"job": job.pk, "name": "bow"}), 400, "invalid")
    assert {fault["field"] for fault in missing["errors"]} == {"mounting", "barrier_before_window"}


def test_a_day_off_has_no_capacity(scheduler):
    crew = CrewFactory()
    for body, capacity in (
        ({"on": "2027-01-04", "off_reason": "funeral"}, 0),
        ({"on": "2027-01-05"}, 24),
        ({"on": "2027-01-06", "capacity_person_h": 4}, 4),
    ):
        made = scheduler.post(f"{API}/crew-days/", {"crew": crew.pk, **body}).json()
        assert made["capacity_person_h"] == capacity
        problem_of(scheduler.post(f"{API}/crew-days/", {"crew": crew.pk, **body}), 409, "duplicate")
    full = {"crew": crew.pk, "on": "2027-01-07", "off_reason": "funeral", "capacity_person_h": 8}
    assert (
        "A day off has no capacity" in problem_of(scheduler.post(f"{API}/crew-days/", full), 400, "invalid")["detail"]
    )


def test_an_assignment_is_refused_with_both_figures_or_the_reason(scheduler):
    (opening,) = make_openings(1)
    crew = CrewFactory(weekdays="12345")
    crew.days.create(on=tomorrow(), capacity_person_h=1)
    sunday = tomorrow(14 - tomorrow(0).isoweekday())
    ask = {"opening": opening.pk, "crew": crew.pk, "on": tomorrow()}
    assert (
        "has 1 of 1 labor hours free"
        in problem_of(scheduler.post(f"{API}/assignments/", ask), 409, "conflict")["detail"]
    )
    for values, status, code in (
        ({"on": date(2001, 1, 1)}, 400, "day-is-past"),
        ({"on": date(9999, 12, 31)}, 400, "day-out-of-reach"),
        ({"on": sunday}, 409, "day-off"),
        ({"on": "soon"}, 400, "invalid"),
        ({"crew": HUGE}, 404, "not-found"),
        ({"opening": HUGE}, 404, "not-found"),
    ):
        problem_of(scheduler.post(f"{API}/assignments/", ask | values), status, code)
    problem_of(scheduler.post(f"{API}/assignments/many/", {**ask, "openings": []}), 400, "invalid")


def test_what_binds_an_opening_is_named_since_when_and_with_what_to_do_first(scheduler):
    (opening,) = make_assigned()
    problem = problem_of(scheduler.post(f"{API}/openings/{opening.pk}/void/"), 409, "opening-bound")
    assert "it is assigned to " in problem["detail"]
    assert "unassign it first" in problem["detail"]


def test_many_are_assigned_together_and_withdrawn_one_by_one(scheduler):
    openings, crew = make_openings(3), CrewFactory(people_count=20)
    ask = {"openings": [o.pk for o in openings], "crew": crew.pk, "on": tomorrow()}
    given = scheduler.post(f"{API}/assignments/many/", ask).json()
    assert [one["opening"] for one in given] == ask["openings"]
    assert {(one["crew"], one["on"]) for one in given} == {(crew.pk, str(tomorrow()))}
    withdraw = f"{API}/assignments/{given[0]['id']}/withdraw/"
    assert scheduler.post(withdraw).json()["withdrawn_at"]
    problem_of(scheduler.post(withdraw), 409, "conflict")


@pytest.mark.parametrize("noun", ["jobs", "openings", "holds", "schedules", "assignments/many", "boards/crews"])
def test_options_are_told(noun, scheduler):
    assert scheduler.options(f"{API}/{noun}/").status_code == 200


def test_measures_are_numbers_that_keep_a_thirty_second(scheduler):
    detail = DetailFactory()
    made = scheduler.post(f"{API}/openings/", opening_body(detail, ro_width_in="36.03125", weight_lb="120.50")).json()
    assert (made["ro_width_in"], made["weight_lb"], made["ro_height_in"]) == (36.03125, 120.5, 54)


@pytest.mark.django_db
def test_a_person_who_is_not_signed_in_is_told_how():
    response = signed_in(None).get(f"{API}/openings/")
    problem_of(response, 401, "not-authenticated")
    assert response["WWW-Authenticate"] == "Token"


@pytest.mark.django_db
def test_a_callback_stays_with_its_opening(scheduler):
    opening, other = make_openings(2)
    callback = opening.callbacks.create(reported_on=tomorrow(0), complaint="whistles")
    refused = scheduler.patch(f"/api/v1/callbacks/{callback.pk}/", {"opening": other.pk})
    fault = problem_of(refused, 400, "invalid")["errors"][0]
    assert (fault["field"], fault["value"]) == ("opening", str(other.pk))
    assert (
        fault["detail"]
        == f"this cannot change from {opening}, which records already rest on; add another callback instead"
    )
    kept = scheduler.patch(f"/api/v1/callbacks/{callback.pk}/", {"opening": opening.pk, "complaint": "leaks"})
    assert (kept.status_code, kept.json()["complaint"]) == (200, "leaks")
