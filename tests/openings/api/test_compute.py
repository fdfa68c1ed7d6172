from __future__ import annotations

import pytest

from openings.models import LaborRate, Opening
from tests.factories import CrewFactory, DetailFactory, make_openings, tomorrow
from tests.openings.api.clients import API, problem_of

PRESS = {
    "load_lb": 44,
    "origin": {"horizontal_in": 23, "vertical_in": 15, "coupling": "fair"},
    "destination": {"horizontal_in": 23, "vertical_in": 64, "coupling": "fair"},
    "travel_in": 49,
    "lifts_per_min": 0.2,
    "duration_h": 1,
    "mode": "printed",
}
"""Loading punch press stock: DHHS/NIOSH 94-110, example 1, pp. 33-37 (figures from memory, self-checking)."""

FLANGE = {"mounting": "flange", "barrier_before_window": True, "jamb_flashing_over_flange": True}


def test_a_lift_says_each_multiplier_at_both_ends_and_which_governs(scheduler):
    said = scheduler.post(f"{API}/compute/lift/", PRESS, format="json").json()
    # The printed strings of example 1: .44 .89 .86 1 1 .95 → 16.3, LI 2.7; .44 .75 .86 1 1 1 → 14.5, LI 3.0.
    assert [one["value"] for one in said["origin"]["multipliers"]] == [51, 0.44, 0.89, 0.86, 1, 1, 0.95]
    assert [one["value"] for one in said["destination"]["multipliers"]] == [51, 0.44, 0.75, 0.86, 1, 1, 1]
    assert [said[end][figure] for end in ("origin", "destination") for figure in ("rwl_lb", "li")] == [
        16.3,
        2.7,
        14.5,
        3,
    ]
    assert (said["governs"], said["rwl_lb"], said["li"], said["limits"]) == ("destination", 14.5, 3, [])
    assert "competent person" in said["caution"]


def test_a_lift_in_metric_is_the_same_lift(scheduler):
    asked = {
        "load_kg": 19.96,
        "origin": {"horizontal_mm": 584.2, "vertical_mm": 381, "coupling": "fair"},
        "destination": {"horizontal_mm": 584.2, "vertical_mm": 1625.6, "coupling": "fair"},
        "lifts_per_min": 0.2,
        "duration_h": 1,
    }
    said = scheduler.post(f"{API}/compute/lift/?units=metric", asked, format="json").json()
    # 14.15 lb in full precision (check of example 1), 6.42 kg.
    assert said["rwl_kg"] == pytest.approx(6.42, abs=0.01)
    assert "kg" in said["reason"]
    assert " lb" not in said["reason"]


def test_beyond_its_limits_the_equation_gives_no_number_but_says_why(scheduler):
    far = PRESS | {"origin": {"horizontal_in": 26, "vertical_in": 15, "coupling": "fair"}}
    said = scheduler.post(f"{API}/compute/lift/", far, format="json").json()
    assert (said["rwl_lb"], said["li"]) == (None, None)
    assert any("2' 2\"" in limit for limit in said["limits"])  # H above 25 in: 94-110 p. 9
    assert said["needs_decision"] is True
    assert "competent person decide, by name" in said["decision"]


def test_hands_above_70_in_are_never_less_careful_than_at_70_in(scheduler):
    def said(height: float) -> dict:
        hands = {"horizontal_in": 20, "vertical_in": height, "coupling": "good"}
        asked = {"load_lb": 30, "origin": hands, "travel_in": 40, "lifts_per_min": 0.2, "duration_h": 1}
        return scheduler.post(f"{API}/compute/lift/", asked, format="json").json()

    # 94-110 p. 1 and 7: 51 × .50 × .70 × .865 = 15.44 lb; HSE L23: three lift 23.16 lb, so 30 lb takes an aid.
    at_edge, beyond = said(70), said(70.01)
    assert (at_edge["people"], at_edge["needs_aid"], at_edge["needs_decision"]) == (3, True, False)
    assert (beyond["people"], beyond["needs_aid"], beyond["needs_decision"]) == (3, True, True)


def test_a_stored_opening_has_one_verdict_for_lift_and_labor(scheduler):
    # 60 lb, 53 1/2 in high, onto a sill at 42 in and at 60 in: 28 lb a person and less, so an aid (test_unit_lift).
    (opening,) = make_openings(1, weight_lb=60)
    for sill_in, people, needs_aid, needs_decision in (
        (None, 2, False, False),
        (42, 3, True, False),
        (60, 3, True, True),
    ):
        Opening.objects.filter(pk=opening.pk).update(sill_above_floor_in=sill_in)
        lift = scheduler.get(f"{API}/openings/{opening.pk}/lift/").json()
        assert lift["opening"] == opening.pk
        assert (lift["people"], lift["needs_aid"], lift["needs_decision"]) == (people, needs_aid, needs_decision)
        assert lift["equation"] is None or lift["equation"]["people"] == people
        labor = scheduler.get(f"{API}/openings/{opening.pk}/labor/").json()
        tasks = {line["task"]: line for line in labor["lines"]}
        assert tasks["set"]["quantity"] == people
        assert ("rig lifting aid" in tasks) is needs_aid


def test_a_wrong_lift_names_its_field(scheduler):
    problem = problem_of(
        scheduler.post(f"{API}/compute/lift/", PRESS | {"load_lb": -1}, format="json"), 400, "bad-lift"
    )
    assert [fault["field"] for fault in problem["errors"]] == ["load_lb"]


def test_labor_of_an_opening_that_is_not_stored(scheduler):
    asked = {"opening": {"ro_width_in": "3' 0\"", "ro_height_in": 54}, "detail": FLANGE}
    plain = scheduler.post(f"{API}/compute/labor/", asked, format="json").json()
    assert plain["opening"] is None
    assert plain["crew"] is None
    assert plain["total_person_h"] == pytest.approx(sum(line["person_h"] for line in plain["lines"]), abs=0.01)
    # First-time against professional crews, 2 to 1: JELD-WEN JII032.
    slow = asked | {"conditions": {"experience": "first time"}}
    assert scheduler.post(f"{API}/compute/labor/", slow, format="json").json()["total_person_h"] == pytest.approx(
        2 * plain["total_person_h"], abs=0.02
    )
    assert not Opening.objects.exists()


def test_labor_tells_the_days_of_a_crew_by_the_navy_formula(scheduler):
    # NAVEDTRA 14045: man-days / crew size / availability / man-day equivalent; 10 h less 2.5 h is 0.9375.
    asked = {
        "opening": {"ro_width_in": 36, "ro_height_in": 54},
        "detail": FLANGE,
        "crew": {"people": 3, "availability": 0.75, "workday_h": 10, "lost_h": 2.5},
    }
    said = scheduler.post(f"{API}/compute/labor/", asked, format="json").json()
    assert said["crew"]["days_exact"] == pytest.approx(said["total_person_h"] / 8 / 3 / 0.75 / 0.9375, abs=0.001)
    assert said["crew"]["days"] == 1


@pytest.mark.parametrize(
    ("changes", "code", "field"),
    [
        ({"mounting": "box frame"}, "bad-detail", "jamb_flashing_over_flange"),
        ({"pan_turn_up_in": 60}, "bad-detail", "pan_turn_up_in"),
        ({"strip_width_in": 6}, "bad-detail", "strip_width_in"),
        ({"back_dam_in": 0}, "bad-detail", "back_dam_in"),
        ({"sill_bead": "full"}, "bad-detail", "sill_bead"),
    ],
    ids=["flashing over no flange", "pan above the head", "6 in strip", "pan that drains inward", "sealed pan"],
)
def test_a_detail_that_contradicts_itself_names_the_field(scheduler, changes, code, field):
    asked = {"opening": {"ro_width_in": 36, "ro_height_in": 54}, "detail": FLANGE | changes}
    problem = problem_of(scheduler.post(f"{API}/compute/labor/", asked, format="json"), 400, code)
    assert [fault["field"] for fault in problem["errors"]] == [field]


def test_a_stored_detail_that_contradicts_itself_names_the_field(scheduler):
    detail = DetailFactory()
    problem = problem_of(
        scheduler.patch(f"{API}/details/{detail.pk}/", {"back_dam_in": 0}, format="json"), 400, "invalid"
    )
    assert [fault["field"] for fault in problem["errors"]] == ["back_dam_in"]


def test_a_detail_is_not_changed_into_what_its_openings_cannot_take(scheduler):
    (opening,) = make_openings(1)
    path = f"{API}/details/{opening.detail_id}/"
    problem = problem_of(scheduler.patch(path, {"pan_turn_up_in": 54}, format="json"), 409, "conflict")
    assert opening.mark in problem["detail"]
    assert scheduler.get(path).json()["pan_turn_up_in"] == 6


def test_an_opening_too_low_for_its_pan_is_refused(scheduler):
    detail = DetailFactory()
    asked = {
        "job": detail.job_id, "detail": detail.pk, "mark": "W9", "ro_width_in": 36, "ro_height_in": 6,
        "unit_width_in": 35.5, "unit_height_in": 5.5,
    }  # fmt: skip
    problem = problem_of(scheduler.post(f"{API}/openings/", asked, format="json"), 400, "invalid")
    assert "pan turn-up" in problem["detail"]


def test_the_shop_sets_its_own_rate_and_takes_it_back(scheduler):
    (opening,) = make_openings(1)
    before = scheduler.get(f"{API}/openings/{opening.pk}/labor/").json()
    rate = {"person_h": 0.5, "source": "our records of spring"}
    assert scheduler.put(f"{API}/labor-rates/pan/", rate, format="json").json()["person_h"] == 0.5
    after = scheduler.get(f"{API}/openings/{opening.pk}/labor/").json()
    assert after["total_person_h"] == pytest.approx(before["total_person_h"] + 0.25, abs=0.01)
    assert any("our records of spring" in line["source"] for line in after["lines"])
    assert scheduler.delete(f"{API}/labor-rates/pan/").status_code == 204
    assert scheduler.get(f"{API}/openings/{opening.pk}/labor/").json() == before
    assert not LaborRate.objects.exists()


def test_every_rate_is_listed_and_an_unknown_one_is_refused(scheduler):
    names = [rate["name"] for rate in scheduler.get(f"{API}/labor-rates/").json()]
    assert {"prepare", "flash", "set_unit", "strap"} <= set(names)
    rate = {"person_h": 1, "source": "x"}
    problem_of(scheduler.put(f"{API}/labor-rates/dance/", rate, format="json"), 404, "not-found")


def test_a_crew_new_to_the_work_is_planned_with_more_hours(scheduler):
    first, second = make_openings(2)
    hours = {}
    for opening, experience in ((first, "professional"), (second, "first time")):
        crew = CrewFactory(experience=experience)
        body = {"opening": opening.pk, "crew": crew.pk, "on": tomorrow().isoformat()}
        hours[experience] = scheduler.post(f"{API}/assignments/", body, format="json").json()["person_h"]
    # JELD-WEN JII032: 2 h to 1 h.
    assert hours["first time"] == pytest.approx(2 * hours["professional"], abs=0.02)


def test_checks_of_a_measurement_say_limit_reading_and_order_size(scheduler):
    (opening,) = make_openings(1)
    asked = {
        "opening": opening.pk, "width_top_in": 36, "width_middle_in": "35 7/8", "width_bottom_in": 36,
        "height_left_in": 54, "height_middle_in": 54, "height_right_in": 54,
        "diagonal_rising_in": 64.9, "diagonal_falling_in": 64.9, "twist_in": 0.125,
    }  # fmt: skip
    measured = scheduler.post(f"{API}/measurements/", asked, format="json").json()
    assert measured["is_within_tolerance"] is False  # face twist is less than 1/8 in: JELD-WEN JII023 p. 3
    said = scheduler.get(f"{API}/measurements/{measured['id']}/checks/").json()
    assert [check["name"] for check in said["checks"] if check["passed"] is False] == ["face twists by"]
    # Smallest of three less 1/4 in: Polaris installation page.
    assert (said["order_size"]["width_in"], said["order_size"]["height_in"]) == (35.625, 53.75)
    said = scheduler.get(f"{API}/measurements/{measured['id']}/checks/?has_head_expander=true").json()
    assert said["order_size"]["height_in"] == 53.25


def test_an_opening_given_in_millimeters_comes_back_in_millimeters(scheduler):
    detail = DetailFactory()
    asked = {
        "job": detail.job_id, "detail": detail.pk, "mark": "W9", "ro_width_mm": 915, "ro_height_mm": 1372.5,
        "unit_width_mm": 900, "unit_height_mm": 1350.125, "lites_mm": [3, 4],
    }  # fmt: skip
    added = scheduler.post(f"{API}/openings/?units=metric", asked, format="json").json()
    assert {name: added[name] for name in asked} == asked
    inside = scheduler.get(f"{API}/openings/{added['id']}/").json()
    assert inside["ro_width_in"] == 36.02362  # 915 / 25.4, NIST Handbook 44 appendix C


def test_a_side_of_the_unit_that_is_given_counts_though_the_other_is_not(scheduler):
    asked = {"opening": {"ro_width_in": 36, "ro_height_in": 54, "unit_width_in": 40}, "detail": FLANGE}
    problem = problem_of(scheduler.post(f"{API}/compute/labor/", asked, format="json"), 400, "bad-length")
    assert [fault["field"] for fault in problem["errors"]] == ["unit_width_in"]


def test_more_anchors_than_a_side_has_room_for_are_refused(scheduler):
    thin = FLANGE | {"fastener_penetration_in": 0.00001, "fastener_diameter_in": 0.00001}
    asked = {"opening": {"ro_width_in": 36, "ro_height_in": 54, "design_pressure_psf": 50}, "detail": thin}
    problem = problem_of(scheduler.post(f"{API}/compute/labor/", asked, format="json"), 400, "bad-detail")
    assert [fault["field"] for fault in problem["errors"]] == ["design_pressure_psf"]


def test_a_detail_says_which_of_its_ways_are_preferred_and_what_the_next_trade_finds(scheduler):
    # Through the casing with heads to seal, straps preferred: common practice, no source.
    (opening,) = make_openings(1)
    detail = opening.detail
    detail.mounting, detail.casing_width_in, detail.jamb_flashing_over_flange = "casing", 2, False
    detail.save()
    of_detail = scheduler.get(f"{API}/details/{detail.pk}/ways/").json()
    of_opening = scheduler.get(f"{API}/openings/{opening.pk}/ways/?units=metric").json()
    for said, why in ((of_detail, "Every fastener is a hole"), (of_opening, "holes go through the sealed face")):
        (fastening,) = (way for way in said["ways"] if way["about"] == "fastening")
        assert fastening["standing"] == "allowed"
        assert why in fastening["why"]
        assert said["next_trade"]
    assert [one["rule"] for one in of_detail["advice"]] == ["setting bead on the wall"]
    assert [one["rule"] for one in of_opening["advice"]] == ["setting bead on the wall", "corners under a heavy unit"]


def test_the_install_steps_say_why_and_what_is_left_for_the_next_trade(scheduler):
    (opening,) = make_openings(1)
    said = scheduler.get(f"{API}/openings/{opening.pk}/lay-order/").json()
    assert all(step["why"].endswith(".") for step in said["steps"])
    assert said["next_trade"]


@pytest.mark.parametrize(
    ("turn", "wrong"),
    [
        (lambda codes: codes[1:], "missing: sill-strip"),
        (lambda codes: [*codes, codes[0]], "there more than once: sill-strip"),
        (lambda codes: [*codes, "drip-cap"], "not a step of this detail: drip-cap"),
        (lambda codes: [*codes, "paint"], "paint: no such install step"),
    ],
    ids=["missing", "twice", "of another detail", "unknown"],
)
def test_an_order_of_ones_own_is_kept_and_followed_or_said_to_be_wrong(scheduler, turn, wrong):
    (opening,) = make_openings(1)
    path = f"{API}/details/{opening.detail_id}/"
    opening.detail.barrier_before_window = False
    opening.detail.save()
    steps = scheduler.get(f"{API}/openings/{opening.pk}/lay-order/").json()["steps"]
    codes = [step["step"] for step in steps]
    problem = problem_of(scheduler.patch(path, {"own_order": turn(codes)}, format="json"), 400, "invalid")
    assert [fault["field"] for fault in problem["errors"]] == ["own_order"]
    assert wrong in problem["detail"]
    own = [codes[-1], *codes[:-1]]
    assert scheduler.patch(path, {"own_order": own}, format="json").json()["own_order"] == own
    followed = scheduler.get(f"{API}/openings/{opening.pk}/lay-order/").json()["steps"]
    assert [step["step"] for step in followed] == own
    assert scheduler.patch(path, {"own_order": []}, format="json").json()["own_order"] == []
