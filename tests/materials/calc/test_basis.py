"""What sheets are compared by. That no release revises a sheet, and every revision says why, is our own rule."""

from __future__ import annotations

from decimal import Decimal
from types import SimpleNamespace

import pytest

from materials.calc import basis
from materials.calc.basis import Basis, Packed, Topic, basis_from, differences, figures

LENGTHS = {
    "ro_width_in": "36", "ro_height_in": "54", "built_ro_width_in": "", "built_ro_height_in": "",
    "unit_width_in": "35.5", "unit_height_in": "53.5",
}  # fmt: skip
W1 = {
    "sequence": 1, "job": "heron-house", "mark": "W1", "floor": "2", "detail": "flange", "method": "A1",
    "weight_lb": "80", "weight_is_estimate": True, "people": 2, "needs_aid": False, "person_h": "3", "remarks": "",
    "steps_done": 0, "stopped": "", **LENGTHS,
}  # fmt: skip
TAPE = {
    "name": "Flex tape 9", "code": "ft-9", "parts": "sill strip", "package": "roll", "package_quantity": "900",
    "measure": "in", "width_in": "9", "trim_in": "0.25", "shortest_remnant_in": "24", "quantity": "108",
    "spare_pct": "0", "spare_pieces": 0,
    "attachment": "self-adhered",
}  # fmt: skip
DAY = {"crew": "Rowan", "truck": "Truck 2", "people_count": 3, "capacity_person_h": "24"}
JOB = {"code": "heron-house", "name": "Heron House", "address": "4 Marsh Road"}
TOPICS = {
    "openings": {"1": W1, "2": W1 | {"mark": "W2", "sequence": 2}},
    "jobs": {"7": JOB},
    "day": {"day": DAY},
    "products": {"5": TAPE},
    "cuts": {"5": {"1": "54", "2": "54"}},
    "lacking": {"shim": {"quantity": "8", "measure": "each"}},
    "cautions": {"hold | 3": {"text": "heron-house W3 is on hold."}},
}


def of(version: int = basis.VERSION, **topics: object) -> Basis:
    return Basis(version=version, topics=TOPICS | topics)


def changed(topic: str, key: str, **values: object) -> Basis:
    of_topic = TOPICS[topic]
    return of(**{topic: of_topic | {key: of_topic[key] | values}})


def test_the_list_of_a_version_stays_as_it_is():
    """Whoever changes the list raises VERSION, and writes the new list here."""
    assert basis.VERSION == 2
    assert set(W1) == set(basis.OPENING)
    assert set(TAPE) == set(basis.PRODUCT)
    assert set(DAY) == set(basis.DAY)
    assert set(JOB) == set(basis.JOB)
    assert set(basis.LACKING) == {"quantity", "measure"}
    assert set(basis.CAUTION) == {"text"}
    assert set(TOPICS) == set(Topic)


def test_what_is_the_same_makes_no_difference():
    assert differences(of(), of()) == ()
    assert differences(of(), basis_from(of().as_json())) == ()


@pytest.mark.parametrize(
    ("now", "said"),
    [
        (changed("openings", "1", job="mill-lane"), "heron-house W1 is now called mill-lane W1"),
        (changed("openings", "1", mark="W9"), "W1 is now called W9"),
        (changed("openings", "1", floor="3"), "W1: floor 3, was 2"),
        (changed("openings", "1", ro_width_in="48"), "W1: rough opening width 4' 0\", was 3' 0\""),
        (changed("openings", "1", ro_height_in="54.01"), "W1: rough opening height 54.01, was 54"),
        (changed("openings", "1", built_ro_width_in="39"), "W1: rough opening width as built 3' 3\", was none"),
        (changed("openings", "1", built_ro_height_in="54"), "W1: rough opening height as built 4' 6\", was none"),
        (changed("openings", "1", unit_width_in="35"), "W1: unit width 2' 11\", was 2' 11 1/2\""),
        (changed("openings", "1", unit_height_in="53"), "W1: unit height 4' 5\", was 4' 5 1/2\""),
        (changed("openings", "1", detail="casing"), "W1: detail casing, was flange"),
        (changed("openings", "1", method="B"), "W1: flashing method B, was A1"),
        (changed("openings", "1", weight_lb="120"), "W1: weight 120 lb, was 80 lb"),
        (changed("openings", "1", weight_is_estimate=False), "W1: weight given, was estimated"),
        (changed("openings", "1", people=3), "W1: people to set it 3, was 2"),
        (changed("openings", "1", needs_aid=True), "W1: lifting aid needed, was not needed"),
        (changed("openings", "1", person_h="1"), "W1: planned work 1 labor hour, was 3 labor hours"),
        (changed("openings", "1", remarks="tempered"), "W1: remarks tempered, was none"),
        (changed("openings", "1", steps_done=2), "W1: steps done 2, was 0"),
        (changed("openings", "1", stopped=basis.WAITS), "W1: work on this day stopped, was goes on"),
        (changed("openings", "1", sequence=3), "openings in another order: W2, W1"),
        (of(openings={"1": W1}), "W2 removed"),
        (of(openings=TOPICS["openings"] | {"3": W1 | {"mark": "W3-04", "sequence": 3}}), "W3-04 added"),
        (changed("jobs", "7", code="heron"), "job heron-house is now called heron"),
        (changed("jobs", "7", name="Heron Court"), "job Heron House is now called Heron Court"),
        (changed("jobs", "7", address="6 Marsh Road"), "address of Heron House: 6 Marsh Road, was 4 Marsh Road"),
        (changed("day", "day", crew="Aspen"), "crew Aspen, was Rowan"),
        (changed("day", "day", truck="Truck 5"), "truck Truck 5, was Truck 2"),
        (changed("day", "day", people_count=2), "crew of 2, was 3"),
        (changed("day", "day", capacity_person_h="16"), "crew has 16 labor hours that day, was 24"),
        (changed("products", "5", name="Flex tape"), "Flex tape 9 is now called Flex tape"),
        (changed("products", "5", code="ft"), "Flex tape 9: code ft, was ft-9"),
        (changed("products", "5", parts="head strip"), "Flex tape 9: used for head strip, was sill strip"),
        (changed("products", "5", package="box"), "Flex tape 9: comes by the box, was roll"),
        (changed("products", "5", package_quantity="600"), "Flex tape 9: in one package 600, was 900"),
        (changed("products", "5", measure="each"), "Flex tape 9: counted in each, was in"),
        (changed("products", "5", width_in="12"), "Flex tape 9: width 1' 0\", was 9\""),
        (changed("products", "5", trim_in="0.5"), "Flex tape 9: lost at each cut 1/2\", was 1/4\""),
        (changed("products", "5", shortest_remnant_in="36"), "Flex tape 9: shortest piece kept 3' 0\", was 2' 0\""),
        (
            changed("products", "5", attachment="mechanically attached"),
            "Flex tape 9: attachment mechanically attached, was self-adhered",
        ),
        (changed("products", "5", quantity="120"), "Flex tape 9: 10' 0\" needed, was 9' 0\""),
        (of(products={}, cuts={}), "Flex tape 9 no longer needed"),
        (of(products=TOPICS["products"] | {"6": TAPE | {"name": "Shim pack"}}), "Shim pack added"),
        (changed("cuts", "5", **{"1": "60", "2": "48"}), "Flex tape 9: other cuts for W1, W2"),
        (changed("lacking", "shim", quantity="12"), "shim, still without a product: 12 needed, was 8"),
        (of(lacking={}), "shim: no longer without a product"),
        (of(lacking=TOPICS["lacking"] | {"drip cap": {"quantity": "8", "measure": "in"}}), "no product for drip cap"),
        (of(cautions={}), "no longer a caution: heron-house W3 is on hold."),
        (of(cautions=TOPICS["cautions"] | {"x": {"text": "Wind of 30 mph."}}), "new caution: Wind of 30 mph."),
    ],
)  # fmt: skip
def test_each_figure_that_matters_is_named_with_what_it_was(now, said):
    assert differences(of(), now) == (said,)


def test_no_listed_figure_changes_without_a_reason():
    for topic, key in (("openings", "1"), ("jobs", "7"), ("day", "day"), ("products", "5")):
        for name, value in TOPICS[topic][key].items():
            other = (not value) if isinstance(value, bool) else 9 if isinstance(value, int) else "9.5"
            assert differences(of(), changed(topic, key, **{name: other})), (topic, name)


def test_a_caution_in_other_words_is_the_same():
    assert differences(of(), changed("cautions", "hold | 3", text="W3 waits for its hold.")) == ()


def test_what_only_one_version_lists_makes_no_difference():
    with_more = of(
        2, openings={key: one | {"crane": "yes"} for key, one in TOPICS["openings"].items()}, tides={"1": {}}
    )
    assert differences(of(), with_more) == ()
    assert differences(with_more, of()) == ()
    fewer = {key: {"job": one["job"], "mark": one["mark"]} for key, one in TOPICS["openings"].items()}
    old = Basis(version=0, topics={"openings": fewer})
    assert differences(old, of()) == ()
    assert differences(old, of(openings={"1": W1})) == ("W2 removed",)


def test_rolls_are_told_once_they_are_planned():
    more = changed("products", "5", quantity="2000")
    assert differences(of(), more, packed={"5": Packed(was=3, now=5)}) == ("2 more rolls of Flex tape 9 (5, was 3)",)
    assert differences(of(), of(), packed={"5": Packed(was=3, now=2)}) == ("1 fewer roll of Flex tape 9 (2, was 3)",)
    both = of(products=TOPICS["products"] | {"6": TAPE | {"name": "Wide tape"}})
    assert differences(of(), both, packed={"6": Packed(was=0, now=1)}) == ("Wide tape added: 1 roll",)


def test_marks_are_told_with_their_job_where_the_day_has_two():
    two = TOPICS["openings"] | {"3": W1 | {"mark": "M1", "job": "mill-lane", "sequence": 3}}
    assert differences(of(), of(openings=two)) == ("mill-lane M1 added",)


def test_many_marks_are_not_all_listed():
    openings = {str(n): W1 | {"mark": f"W{n}", "sequence": n} for n in range(1, 10)}
    cuts = [{"5": dict.fromkeys(openings, length_in)} for length_in in ("54", "60")]
    was, now = (of(openings=openings, cuts=one) for one in cuts)
    assert differences(was, now) == ("Flex tape 9: other cuts for W1, W2, W3, W4, W5, W6 and 3 more",)


def test_figures_are_compared_as_they_count_and_not_as_they_are_padded():
    one, other = (SimpleNamespace(a=Decimal(text), b=None) for text in ("9.500", "9.5"))
    assert figures(one, ["a", "b"]) == figures(other, ["a", "b"]) == {"a": "9.5", "b": ""}
