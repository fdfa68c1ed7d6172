"""`POST /api/v1/compute/cuts`."""

from __future__ import annotations

import pytest

from materials import queries
from materials.errors import NothingToCutFrom
from tests.materials.cut_questions import ANSWERED, SILLS, asked, assert_sound
from tests.openings.api.clients import API, problem_of

pytestmark = pytest.mark.django_db

PATH = f"{API}/compute/cuts/"


@pytest.fixture
def plan(warehouse):
    """Return a function from a question to its answer."""

    def ask(question: dict, path: str = PATH) -> dict:
        answer = warehouse.post(path, question, format="json")
        assert answer.status_code == 200, answer.json()
        return answer.json()

    return ask


@pytest.fixture
def refuse(warehouse):
    """Return a function from a question to the faults that it is refused for, by field."""

    def ask(question: dict, code: str = "invalid", path: str = PATH) -> dict[str, dict]:
        problem = problem_of(warehouse.post(path, question, format="json"), 400, code)
        return {fault["field"]: fault for fault in problem["errors"]}

    return ask


# What is answered


def test_two_sills_are_cut_from_the_remnant(plan):
    said = plan(SILLS)
    assert said.keys() == ANSWERED
    cut = {"length_in": 54, "label": "W3-01 sill"}
    # Hand-worked: 310.5 - 2 × 54 - 2 × 0.25, a trim after each cut.
    assert said["rolls"] == [{"length_in": 310.5, "remnant": True, "cuts": [cut, cut], "left_in": 202}]
    assert [said[name] for name in ("rolls_new", "rolls_lower_bound", "gap", "proven")] == [0, 0, 0, True]
    assert (said["cost"], said["cost_lower_bound"], said["ended_by_time_limit"]) == (None, None, False)
    assert said["verdict"] == "cut from remnants; no new roll"
    assert 0 <= said["seconds"] < SILLS["time_limit_s"]


def test_the_slash_at_the_end_is_optional(plan):
    assert plan(SILLS, path=PATH.rstrip("/"))["rolls_new"] == 0


# Optima of the literature: each is met, and proven to be one.
@pytest.mark.parametrize(
    ("question", "optimum"),
    [
        # Cutting stock problem, the paper-mill example of textbooks and encyclopaedias: 73.
        (
            asked(
                (1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20),
                (2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20), rolls=[5600],
            ),
            73,
        ),
        # V. Chvatal, Linear Programming (1983), ch. 13: 453 (from memory; proven by two exact models).
        (asked((45, 97), (36, 610), (31, 395), (14, 211), rolls=[100]), 453),
        # Fourer, Gay, Kernighan, AMPL, cut.mod: 47; LP bound 46.25.
        (asked((20, 48), (45, 35), (50, 24), (55, 10), (75, 8), rolls=[110]), 47),
        # W. Winston, Operations Research, boards of 17 ft: 19.
        (asked((3, 25), (5, 20), (9, 15), rolls=[17]), 19),
    ],
    ids=["paper mill", "Chvatal 13", "AMPL cut", "Winston 17"],
)  # fmt: skip
def test_examples_of_the_literature(plan, question, optimum):
    said = plan(question)
    assert_sound(said, question)
    assert (said["rolls_new"], said["rolls_lower_bound"], said["proven"]) == (optimum, optimum, True)


def test_with_prices_the_cost_is_told(plan):
    # Three stock lengths with prices, timbers of 8, 10 and 12 ft: 57.84 at least, by exhaustion.
    pieces = [(43.125, 1), (48.875, 1), (44.5, 3)]
    question = asked(*pieces, rolls=[96, 120, 144], roll_prices=[20.57, 29.97, 37.27])
    said = plan(question)
    assert_sound(said, question)
    assert said["cost_lower_bound"] <= 57.84 <= said["cost"]
    assert said["proven"] is (said["cost"] == said["cost_lower_bound"])


def test_a_trim_is_lost_between_cuts_but_not_where_a_cut_ends_the_roll(plan):
    # Hand-worked: 50 + 1/8 + 49-7/8 = 100; two of 50 with a trim do not go into 100.
    said = plan(asked((50, 1), (49.875, 1), rolls=[100], trim_in=0.125))
    assert [roll["left_in"] for roll in said["rolls"]] == [0]
    said = plan(asked((50, 2), rolls=[100], trim_in=0.125))
    assert [roll["left_in"] for roll in said["rolls"]] == [49.875, 49.875]
    assert (said["rolls_new"], said["rolls_lower_bound"], said["verdict"]) == (2, 2, "2 rolls; no plan needs fewer")


@pytest.mark.parametrize("length", [0.00001, 31.03125, 12345.67891, 99999.99999])
def test_lengths_come_back_to_the_last_place(plan, length):
    said = plan(asked((length, 1), rolls=[99999.99999]))
    assert said["rolls"][0]["length_in"] == 99999.99999
    assert said["rolls"][0]["cuts"][0]["length_in"] == length


def test_lengths_are_read_as_people_write_them(plan):
    # 75 ft are 900 in, 25' 10 1/2" are 310.5 in, 4' 6" is 54 in.
    rows = [{"length_in": "4' 6\"", "count": 2, "label": "W3-01 sill"}]
    written = SILLS | {"roll_lengths_in": ["75'"], "remnants_in": ["25' 10 1/2\""], "trim_in": '1/4"', "pieces": rows}
    assert plan(written)["rolls"] == plan(SILLS)["rolls"]


def test_what_is_not_said_is_the_usual(plan):
    said = plan({"roll_lengths_in": [100], "pieces": [{"length_in": 60}, {"length_in": 40, "label": ""}]})
    # One of each, no trim, no remnant; without a label a piece is told by its place.
    assert [[cut["label"] for cut in roll["cuts"]] for roll in said["rolls"]] == [["piece 1", "piece 2"]]
    assert (said["rolls"][0]["remnant"], said["rolls"][0]["left_in"]) == (False, 0)


def test_a_long_piece_is_cut_in_the_fewest_equal_parts_that_lap(plan):
    # Hand-worked: 2 parts cover 2 × 900 - 4 = 1796 at most; each of (1000 + 4) / 2 = 502.
    question = asked((1000, 1), rolls=[900], lap_in=4)
    cuts = [cut for roll in plan(question)["rolls"] for cut in roll["cuts"]]
    assert sorted((cut["label"], cut["length_in"]) for cut in cuts) == [
        ("strip 1000, part 1 of 2", 502),
        ("strip 1000, part 2 of 2", 502),
    ]


def test_parts_are_rounded_up_so_that_no_lap_is_short(plan):
    # Hand-worked: 200 without a lap in 3 parts of rolls of 70, 66.666… each.
    cuts = [cut for roll in plan(asked((200, 1), rolls=[70], lap_in=0))["rolls"] for cut in roll["cuts"]]
    assert [cut["length_in"] for cut in cuts] == [66.66667] * 3


def test_a_piece_longer_than_new_rolls_is_cut_whole_from_a_remnant_that_holds_it(plan):
    said = plan(asked((120, 1), rolls=[100], remnants_in=[130]))
    assert [(roll["length_in"], roll["remnant"]) for roll in said["rolls"]] == [(130, True)]


# Metric


def test_in_metric_lists_and_all_else_are_millimeters(plan):
    # Inch of 25.4 mm (NIST Handbook 44, appendix C).
    metric = {
        "roll_lengths_mm": [22860],
        "remnants_mm": [7886.7],
        "trim_mm": 6.35,
        "pieces": [{"length_mm": 1371.6, "count": 2, "label": "W3-01 sill"}],
    }
    said = plan(metric, path=f"{PATH}?units=metric")
    cut = {"length_mm": 1371.6, "label": "W3-01 sill"}
    assert said["rolls"] == [{"length_mm": 7886.7, "remnant": True, "cuts": [cut, cut], "left_mm": 5130.8}]


def test_millimeters_add_up_exactly(plan):
    # 4 × 1000 = 4000; 3 × 1333.333 + 0.001 = 4000. In inches of five places the first would be too long by one.
    metric = {"roll_lengths_mm": [4000], "pieces": [{"length_mm": 1000, "count": 4}]}
    (roll,) = plan(metric, path=f"{PATH}?units=metric")["rolls"]
    assert ([cut["length_mm"] for cut in roll["cuts"]], roll["left_mm"]) == ([1000] * 4, 0)
    metric["pieces"] = [{"length_mm": 1333.333, "count": 3}]
    assert [roll["left_mm"] for roll in plan(metric, path=f"{PATH}?units=metric")["rolls"]] == [0.001]


def test_in_metric_a_piece_that_is_too_long_is_told_in_millimeters(refuse):
    metric = {"roll_lengths_mm": [4000], "pieces": [{"length_mm": 1000}, {"length_mm": 4000.5, "label": "W1 head"}]}
    (fault,) = refuse(metric, code="piece-too-long", path=f"{PATH}?units=metric").values()
    assert (fault["field"], fault["value"]) == ("pieces.1.length_mm", "4000.5")
    assert fault["detail"].startswith("W1 head is 4000.5 mm long, and the longest roll 4000 mm")


@pytest.mark.parametrize("name", ["roll_lengths_in", "remnants_in", "trim_in"])
def test_inches_are_refused_where_metric_is_asked(refuse, name):
    faults = refuse({name: SILLS[name]}, code="bad-input", path=f"{PATH}?units=metric")
    assert f"write {name.removesuffix('_in')}_mm" in faults[name]["detail"]


# What is refused


@pytest.mark.parametrize(
    ("changes", "field", "value", "right"),
    [
        ({"pieces": [{"length_in": 54}, {"length_in": 0}]}, "pieces.1.length_in", "0", "must be more than 0"),
        ({"pieces": [{"length_in": -54}]}, "pieces.0.length_in", "-54", "must be more than 0"),
        ({"pieces": [{"length_in": "-54"}]}, "pieces.0.length_in", "-54", "negative"),
        ({"pieces": [{"length_in": "wide"}]}, "pieces.0.length_in", "wide", "36 1/2"),
        ({"pieces": [{"length_in": "NaN"}]}, "pieces.0.length_in", "NaN", "36 1/2"),
        ({"pieces": [{"length_in": True}]}, "pieces.0.length_in", "True", "number"),
        ({"pieces": [{"length_in": 10**40}]}, "pieces.0.length_in", str(10**40), "10 digits"),
        ({"pieces": [{"length_in": 54.000001}]}, "pieces.0.length_in", "54.000001", "at most 5 digits"),
        ({"pieces": [{"label": "W1 sill"}]}, "pieces.0.length_in", "", "is missing"),
        ({"pieces": [{"length_in": 54, "count": 0}]}, "pieces.0.count", "0", "1 or more"),
        ({"pieces": [{"length_in": 54, "count": 2.5}]}, "pieces.0.count", "2.5", "whole number"),
        ({"pieces": [{"length_in": 54, "count": 5001}]}, "pieces.0.count", "5001", "at most 5,000"),
        ({"pieces": [{"length_in": 54, "label": "x" * 121}]}, "pieces.0.label", "x" * 121, "120"),
        ({"pieces": [54]}, "pieces.0", "54", "object of names"),
        ({"pieces": []}, "pieces", "[]", "list is empty"),
        ({"pieces": {"length_in": 54}}, "pieces", "{'length_in': 54}", "list"),
        ({"roll_lengths_in": [900, 0]}, "roll_lengths_in.1", "0", "must be more than 0"),
        ({"roll_lengths_in": [900, None]}, "roll_lengths_in.1", "None", "must have a value"),
        ({"roll_lengths_in": 900}, "roll_lengths_in", "900", "list"),
        ({"remnants_in": [-1]}, "remnants_in.0", "-1", "must be more than 0"),
        ({"trim_in": -0.25}, "trim_in", "-0.25", "must not be below 0"),
        ({"shortest_remnant_in": -1}, "shortest_remnant_in", "-1", "must not be below 0"),
        ({"lap_in": -4}, "lap_in", "-4", "must not be below 0"),
        ({"roll_prices": [9, 9]}, "roll_prices", "[9, 9]", "2 prices for 1 roll length; give one for each length"),
        ({"roll_prices": [0]}, "roll_prices.0", "0", "must be more than 0"),
        ({"time_limit_s": 31}, "time_limit_s", "31", "at most 30 s"),
        ({"time_limit_s": 0}, "time_limit_s", "0", "must be more than 0"),
        ({"time_limit_s": "NaN"}, "time_limit_s", "NaN", "number"),
    ],
    ids=[
        "length 0", "negative length", "negative text", "no length", "NaN", "true", "huge", "six places",
        "length missing", "count 0", "half a piece", "count too large", "long label", "row without names", "no pieces",
        "pieces not listed", "roll of 0", "roll of null", "rolls not listed", "negative remnant", "negative trim",
        "negative shortest remnant", "negative lap", "prices of another count", "price 0", "time over 30", "no time",
        "time NaN",
    ],
)  # fmt: skip
def test_bad_input_names_row_field_value_and_what_is_right(refuse, changes, field, value, right):
    faults = refuse(SILLS | changes)
    assert list(faults) == [field]
    assert faults[field]["value"] == value
    assert right in faults[field]["detail"]


def test_more_pieces_than_are_planned_at_once_are_refused(refuse):
    row = {"length_in": 54, "count": 2501}
    assert "5,002 pieces in all; at most 5,000" in refuse(SILLS | {"pieces": [row, row]})["pieces"]["detail"]
    assert "5000" in refuse(SILLS | {"pieces": [{"length_in": 54}] * 5001})["pieces"]["detail"]
    assert "1000" in refuse(SILLS | {"remnants_in": [30] * 1001})["remnants_in"]["detail"]
    assert "20" in refuse(SILLS | {"roll_lengths_in": [900] * 21})["roll_lengths_in"]["detail"]


def test_the_parts_of_long_pieces_count_too(refuse):
    # 99,999 in of rolls of 0.001 in: no such list is ever made.
    faults = refuse(asked((99999, 5000), rolls=[0.001], lap_in=0), code="bad-input")
    assert "at most 5,000" in faults["pieces"]["detail"]


@pytest.mark.parametrize("body", ['{"pieces": [{"length_in": NaN}]}', '{"trim_in": 1e400}', "{", "[]", '"x"', ""])
def test_a_body_that_is_no_question_is_refused(warehouse, body):
    answer = warehouse.generic("POST", PATH, body, content_type="application/json")
    problem_of(answer, 400, answer.json()["code"])


def test_every_piece_that_is_too_long_is_named(refuse):
    question = asked((54, 1), (900.5, 2), rolls=[900, 600], remnants_in=[310.5])
    question["pieces"].append({"length_in": 1000})
    faults = refuse(question, code="piece-too-long")
    assert {field: fault["value"] for field, fault in faults.items()} == {
        "pieces.1.length_in": "900.5",
        "pieces.2.length_in": "1000",
    }
    assert "strip 900.5 is 75' 0 1/2\" long, and the longest roll 75' 0\"" in faults["pieces.1.length_in"]["detail"]
    assert "piece 3 is 83' 4\" long" in faults["pieces.2.length_in"]["detail"]
    assert all("or a lap" in fault["detail"] for fault in faults.values())


def test_a_lap_of_more_than_half_a_roll_is_refused(refuse):
    fault = refuse(asked((1000, 1), rolls=[100], lap_in=51), code="lap-too-long")["lap_in"]
    assert (fault["value"], "at most 4' 2\"" in fault["detail"]) == ("51", True)


def test_what_is_to_be_bought_where_there_is_nothing_to_cut_from_is_told_for_the_rolls(refuse, monkeypatch):
    def nothing(*_pieces, **_stock):
        raise NothingToCutFrom("buy a roll of at least 54 in")

    monkeypatch.setattr("materials.queries.cuts.plan_cuts", nothing)
    fault = refuse(SILLS | {"roll_lengths_in": []}, code="nothing-to-cut-from")["roll_lengths_in"]
    assert fault["detail"] == "buy a roll of at least 54 in"


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("remnants", [[], [60], [40, 40]], ids=["none", "one strip short", "all too short"])
def test_remnants_that_do_not_hold_everything_ask_for_rolls(refuse, remnants, units):
    us = {"remnants_in": remnants, "pieces": [{"length_in": 54, "count": 2, "label": "W3-01 sill"}]}
    metric = {
        "remnants_mm": [length * 25.4 for length in remnants],
        "pieces": [{"length_mm": 1371.6, "count": 2, "label": "W3-01 sill"}],
    }
    question = metric if units == "metric" else us
    faults = refuse(question, code="nothing-to-cut-from", path=f"{PATH}?units={units}")
    assert list(faults) == ["roll_lengths_mm" if units == "metric" else "roll_lengths_in"]


def test_remnants_alone_do_where_they_hold_everything(plan):
    said = plan(asked((54, 2), rolls=[], remnants_in=[60, 60]))
    assert (said["rolls_new"], [roll["left_in"] for roll in said["rolls"]]) == (0, [6, 6])


def test_a_day_of_2000_strips_is_planned_to_the_bound(plan):
    question = asked((54, 700), (71, 800), (36.5, 500), rolls=[900], trim_in=0.125, time_limit_s=2)
    said = plan(question)
    assert_sound(said, question)
    assert (said["proven"], said["ended_by_time_limit"]) == (True, False)


def test_a_limit_is_over_once_its_seconds_have_passed():
    assert queries.time_limit(0)()
    assert not queries.time_limit(60)()
