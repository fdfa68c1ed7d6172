"""`POST /api/v1/compute/water-path`, and the water path of a stored detail.

Order and extents: AAMA 2400-10 cl. 5.7.3. Pan: Building Science Corp. Info-302.
"""

from __future__ import annotations

from typing import Any

import pytest

from openings.calc.starting_details import STARTING_DETAILS
from tests.factories import DetailFactory, PersonFactory
from tests.openings.api.clients import API, problem_of, signed_in

PATH = f"{API}/compute/water-path/"


def place(left: float, top: float, right: float, bottom: float) -> dict[str, float]:
    return {"left_in": left, "top_in": top, "right_in": right, "bottom_in": bottom}


def layer(name: str, role: str, *places: dict[str, float], **answers: Any) -> dict[str, Any]:
    return {"name": name, "role": role, "places": list(places), **answers}


def makers_wall() -> dict[str, Any]:
    """A flanged unit of 36 × 54 in, strips behind its flange, the WRB last: method B as a maker might print it."""
    sealed = {"top": "bonded", "sides": "bonded"}
    return {
        "ro_width_in": 36,
        "ro_height_in": "4' 6\"",
        "layers": [
            layer("sill", "sill strip", place(-12, 54, 48, 66), top="fastened"),
            layer("pan", "pan", place(0, 54, 36, 56), sides="bonded"),
            layer("jambs", "jamb strip", place(-12, -11.5, 0, 65.5), place(36, -11.5, 48, 65.5), top="fastened"),
            layer("unit", "unit", place(-1.125, -1.125, 37.125, 55.125), **sealed),
            layer("head", "head strip", place(-12, -12, 48, 0), top="fastened"),
            layer("paper 1", "WRB", place(-22, 54, 58, 76), behind=[{"layer": "sill"}]),
            layer("paper 2", "WRB", place(-22, -22, 0, 56), place(0, -22, 36, 0), place(36, -22, 58, 56)),
        ],
        "pan": {"turn_up_in": 6, "length_in": 48, "back_dam_in": 0.5, "front_lap_in": 2},
    }


@pytest.mark.parametrize("name", STARTING_DETAILS)
def test_a_starting_detail_sheds_water_or_says_that_it_cannot_be_judged(name: str, scheduler) -> None:
    said = scheduler.post(PATH, {"detail": {"starting_point": name}}, format="json").json()
    assert (said["passes"], said["leaks"], said["faults"]) == (True, False, [])
    assert bool(said["not_judged"]) == (name == "box frame replacement")
    assert "wind-driven rain" in said["caution"]
    assert {"AAMA 2400-10", "IRC R703.2", "IRC R703.4", "Building Science Corp. Info-302"} <= set(said["sources"])


def test_a_detail_is_judged_on_an_opening(scheduler) -> None:
    asked = {
        "opening": {"ro_width_in": 72, "ro_height_in": 60},
        "detail": {"starting_point": "flange behind, wrap after", "pan_front_lap_in": 0},
    }
    (fault,) = scheduler.post(PATH, asked, format="json").json()["faults"]
    assert (fault["name"], fault["severity"], fault["step"]) == ("pan-no-front-lap", "leak", "pan")
    assert fault["mend"].startswith("Fold its front edge down")


def test_an_order_of_ones_own_is_judged_with_place_and_step(scheduler) -> None:
    steps = ["sill-strip", "corner-pieces", "pan", "setting-bead", "head-strip", "jamb-strips", "set-unit"]
    rest = ["shim", "fasten", "head-membrane", "air-seal"]
    asked = {"detail": {"starting_point": "flange behind, wrap after", "own_order": [*steps, *rest]}}
    said = scheduler.post(PATH, asked, format="json").json()
    fault = next(fault for fault in said["faults"] if fault["name"] == "head-before-jambs")
    assert said["leaks"]
    assert (fault["step"], fault["layers"][:2]) == ("jamb-strips", ["left jamb strip", "head strip"])
    assert all(one["left_in"] < one["right_in"] and one["top_in"] < one["bottom_in"] for one in fault["places"])


def test_a_makers_sequence_is_judged_layer_by_layer(scheduler) -> None:
    said = scheduler.post(PATH, {"wall": makers_wall()}, format="json").json()
    assert (said["passes"], said["faults"]) == (True, [])
    order = ["sill", "pan", "head", "jambs", "unit", "paper 1", "paper 2"]
    said = scheduler.post(PATH, {"wall": makers_wall() | {"order": order}}, format="json").json()
    assert {"head-before-jambs", "unit-over-head"} <= {fault["name"] for fault in said["faults"]}


def test_a_wall_in_metric_is_the_same_wall(scheduler) -> None:
    wall = {
        "ro_width_mm": 914.4,
        "ro_height_mm": 1371.6,
        "layers": [
            {
                "name": "sill",
                "role": "sill strip",
                "places": [{"left_mm": -304.8, "top_mm": 1371.6, "right_mm": 1219.2, "bottom_mm": 1676.4}],
            }
        ],
    }
    said = scheduler.post(f"{PATH}?units=metric", {"wall": wall}, format="json").json()
    assert {"no-unit", "no-jamb-strip", "no-wrb"} <= {fault["name"] for fault in said["faults"]}
    places = [one for fault in said["faults"] for one in fault["places"]]
    assert all(set(one) == {"left_mm", "top_mm", "right_mm", "bottom_mm"} for one in places)


def many_cells() -> dict[str, Any]:
    """40 rectangles of each of 23 layers, no two edges alike: a million cells."""
    layers = [
        layer(f"sheet {n}", "WRB", *(place(at + n / 32, at + n / 32, at + 1.5, at + 1.75) for at in range(40)))
        for n in range(23)
    ]
    return {"ro_width_in": 36, "ro_height_in": 54, "layers": layers}


def many_pieces() -> dict[str, Any]:
    """24 sheets one over another on a wall that is cut into 58 × 58 cells."""
    layers = [
        layer(
            f"sheet {n}", "WRB", place(0, 0, 100, 100), *(place(at, at, at + 1, at + 1) for at in range(2 * n, 60, 2))
        )
        for n in range(24)
    ]
    return {"ro_width_in": 36, "ro_height_in": 54, "layers": layers}


def changed(**values: Any) -> dict[str, Any]:
    return {"wall": makers_wall() | values}


WRONG: dict[str, tuple[dict[str, Any], str, str]] = {
    "nothing": ({}, "invalid", "give a detail"),
    "both": ({"wall": makers_wall(), "detail": {"starting_point": "box frame replacement"}}, "invalid", "give a wall"),
    "too many cells": ({"wall": many_cells()}, "bad-wall", "cells; at most"),
    "too many pieces": ({"wall": many_pieces()}, "bad-wall", "pieces; at most"),
    "too many layers": (changed(layers=[layer(str(n), "WRB", place(0, 0, 1, 1)) for n in range(25)]), "invalid", "24"),
    "no width": (changed(ro_width_in=0), "bad-wall", "must be above 0"),
    "a wall too high": (changed(ro_height_in=5000), "bad-wall", "at most 40'"),
    "no layers": (changed(layers=[]), "invalid", "list at least 1 here"),
    "a pan of which nothing is said": (changed(pan=None), "bad-wall", "how far it turns up"),
    "a pan that slopes too far": (
        changed(pan={"turn_up_in": 6, "length_in": 48, "front_lap_in": 2, "slope_deg": 120}),
        "invalid",
        "45 or less",
    ),
    "right before left": (changed(layers=[layer("a", "WRB", place(5, 0, 1, 1))]), "bad-wall", "left before right"),
    "a cut that is no line": (
        changed(layers=[layer("a", "WRB", place(0, 0, 9, 9), cuts=[place(0, 0, 5, 5)])]),
        "bad-wall",
        "no line",
    ),
    "behind in a place that is none": (
        changed(
            layers=[
                layer("a", "WRB", place(0, 0, 9, 9)),
                layer("b", "WRB", place(0, 0, 9, 9), behind=[{"layer": "a", "where": place(5, 0, 1, 1)}]),
            ]
        ),
        "bad-wall",
        "without width or height",
    ),
    "a pan that turns up higher than the opening": (
        {"detail": {"starting_point": "flange behind, wrap after"}, "opening": {"ro_width_in": 36, "ro_height_in": 5}},
        "bad-detail",
        'only 5" high',
    ),
    "an order that leaves one out": (changed(order=["sill"]), "invalid", "name each layer once"),
    "a name twice": (changed(layers=2 * [layer("a", "WRB", place(0, 0, 1, 1))]), "bad-wall", "a name of its own"),
    "behind nothing": (
        changed(layers=[layer("a", "WRB", place(0, 0, 1, 1), behind=[{"layer": "b"}])]),
        "bad-wall",
        "no other layer",
    ),
    "no extent": (changed(layers=[layer("a", "WRB", place(0, 0, 0, 1))]), "bad-wall", "without width or height"),
    "far away": (changed(layers=[layer("a", "WRB", place(0, 0, 1, 9000))]), "bad-wall", "further than"),
    "a step missing": (
        {"detail": {"starting_point": "flange behind, wrap after", "own_order": ["pan"]}},
        "bad-detail",
        "missing: ",
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_what_cannot_be_judged_is_refused_with_what_would_be_right(name: str, scheduler) -> None:
    asked, code, said = WRONG[name]
    problem = problem_of(scheduler.post(PATH, asked, format="json"), 400, code)
    assert said in problem["detail"] + "".join(fault["detail"] for fault in problem["errors"])


@pytest.mark.django_db
def test_a_stored_detail_says_its_water_path(scheduler) -> None:
    detail = DetailFactory(pan_turn_up_in=2)
    said = scheduler.get(f"{API}/details/{detail.pk}/water-path/").json()
    assert [fault["name"] for fault in said["faults"]] == ["pan-low-turn-up"]


@pytest.mark.django_db
def test_a_leaking_detail_is_refused_until_somebody_accepts_it_by_name(scheduler) -> None:
    detail = DetailFactory(pan_turn_up_in=2)
    sizes = {"ro_width_in": 36, "ro_height_in": 54, "unit_width_in": 35, "unit_height_in": 53}
    body = {"job": detail.job_id, "detail": detail.pk, "mark": "W1"} | sizes
    problem = problem_of(scheduler.post(f"{API}/openings/", body, format="json"), 409, "detail-leaks")
    assert 'Turn it up 4" to 6"' in problem["errors"][0]["detail"]
    assert problem["conflicts"][0]["id"] == detail.pk
    crew_lead = signed_in(PersonFactory(role="crew_lead"))
    accept = f"{API}/details/{detail.pk}/accept-leak/"
    problem_of(crew_lead.post(accept, {"why": "porch"}, format="json"), 403, "permission-denied")
    problem_of(scheduler.post(accept, {}, format="json"), 400, "invalid")
    accepted = scheduler.post(accept, {"why": "under a deep porch"}, format="json").json()
    assert (accepted["leak_accepted_why"], bool(accepted["leak_accepted_by"])) == ("under a deep porch", True)
    assert scheduler.post(f"{API}/openings/", body, format="json").status_code == 201


@pytest.mark.parametrize(
    ("units", "least", "usual"), [("us", '4"', '6"'), ("metric", "101.6 mm", "152.4 mm")], ids=["us", "metric"]
)
def test_a_fault_names_its_lengths_in_the_units_asked_for(units: str, least: str, usual: str, scheduler) -> None:
    # 4 to 6 in up each jamb: Fine Homebuilding, sill pan. Inch of 25.4 mm: NIST Handbook 44, appendix C.
    detail = DetailFactory(pan_turn_up_in=2)
    (low,) = scheduler.get(f"{API}/details/{detail.pk}/water-path/?units={units}").json()["faults"]
    assert f"turns up less than {least} at the jambs" in low["what"]
    assert low["mend"] == f"Turn it up {least} to {usual} at each jamb."
