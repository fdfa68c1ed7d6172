"""One opening as a page: drawn, drawn from stock, laid, measured, held."""

from __future__ import annotations

from decimal import Decimal
from html import unescape

import pytest
from django.urls import reverse

from jobs.models import Person
from openings import services
from openings.calc.lay_order import steps_for
from openings.calc.readings import DEVIATION_NAMES
from openings.models import FieldMeasurement, Hold, InstallRecord
from tests.factories import CrewFactory, DetailFactory, OpeningFactory, PersonFactory, make_catalogue, tomorrow
from tests.openings.rows import measure
from tests.pages.html import html_of
from tests.pages.people import signed_in

PLACES = ("top", "middle", "bottom")
MEASURED = {
    **{f"width_{place}_in": "3' 0\"" for place in PLACES},
    **{f"height_{place}_in": "54" for place in ("left", "middle", "right")},
    **{f"diagonal_{which}_in": "5'-4 7/8\"" for which in ("rising", "falling")},
}


@pytest.fixture
def opening(db):
    """An opening that a crew sets tomorrow, flashed with 9 in strips."""
    opening = OpeningFactory(mark="W3-01")
    services.assign(opening_ids=[opening.pk], crew_id=CrewFactory().pk, on=tomorrow(0), by=None)
    return opening


@pytest.fixture
def lead(opening):
    crew = opening.assignments.get().crew_day.crew
    return signed_in(Person.Role.CREW_LEAD, crew=crew)


def post(client, opening, act: str, **sent):
    return client.post(reverse("opening-page", args=[opening.pk]), {"act": act, **sent}, follow=True)


def get(client, opening) -> str:
    return html_of(client.get(reverse("opening-page", args=[opening.pk])))


@pytest.mark.django_db
def test_the_page_shows_draw_labor_and_lift_with_reasons(lead, opening):
    make_catalogue()
    page = get(lead, opening)
    # AAMA 2400-10 note 3: rough-opening width + 2 × strip width, so 36 + 18 = 54 in.
    assert 'sill strip, 4\' 6": rough-opening width 3\' 0" + 2 × 9" strip width' in unescape(page)
    assert "AAMA 2400-10 note 3" in page
    assert "A guide, not a clearance to lift" in page
    assert "Spacing by common practice" in page
    assert "prepare and measure" in page


@pytest.mark.django_db
def test_the_install_is_recorded_step_by_step_until_it_is_done(lead, opening):
    post(lead, opening, "start")
    steps = [step.code for step in steps_for(opening.detail.as_facts())]
    for number, step in enumerate(steps, start=1):
        page = html_of(post(lead, opening, "step", step=step, lot="L-7"))
        assert f"{number} of {len(steps)} recorded" in page
    assert page.count("lot L-7") == len(steps)
    page = html_of(post(lead, opening, "hours", person="Ines", on=tomorrow(0), person_h="2.5"))
    assert "2.5 recorded" in page
    page = html_of(post(lead, opening, "finish", sure="yes"))
    assert f"{opening} is complete" in page
    assert InstallRecord.objects.get(opening=opening).done_at


@pytest.mark.django_db
def test_only_the_steps_that_rest_on_nothing_missing_can_be_recorded(lead, opening):
    post(lead, opening, "start")
    page = get(lead, opening)
    # Method A1 starts with the flap of the barrier and one thing only (AAMA 2400-10 cl. 5.7.3: order of laying).
    assert page.count('name="act" value="step"') == 1
    assert 'name="step" value="fold-barrier"' in page


@pytest.mark.django_db
def test_a_step_out_of_order_is_refused_with_the_step_that_comes_first(lead, opening):
    post(lead, opening, "start")
    response = post(lead, opening, "step", step="head-strip")
    assert response.status_code == 409
    assert "Record that first" in html_of(response)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("act", "sent", "status", "sentence"),
    [
        ("finish", {}, 409, "has not been started; start it first"),
        ("step", {"step": "sill-strip"}, 409, "has not been started; start it first"),
        ("hours", {"person": "", "on": "soon", "person_h": "25"}, 400, "<strong>Labor hours:</strong>"),
        ("hold", {"kind": "boredom", "reason": ""}, 400, "<strong>Kind of hold:</strong>"),
        ("release", {"hold": 10**6}, 404, "there is no hold"),
    ],
    ids=["done before start", "step before start", "hours", "hold", "release"],
)
def test_what_cannot_be_recorded_is_said_on_the_page(lead, opening, act, sent, status, sentence):
    response = post(lead, opening, act, **sent)
    page = html_of(response)
    assert response.status_code == status
    assert sentence in page
    assert "Install steps" in page


@pytest.mark.django_db
def test_a_measurement_is_read_in_tape_notation(lead, opening):
    page = html_of(post(lead, opening, "measure", **MEASURED))
    measured = FieldMeasurement.objects.get()
    assert (measured.width_top_in, measured.diagonal_rising_in) == (Decimal(36), Decimal("64.875"))
    assert "within tolerance" in page
    assert "JELD-WEN JII023 p. 3" in page


@pytest.mark.django_db
def test_a_measurement_out_of_tolerance_places_a_hold(lead, opening):
    # Diagonals may differ by 1/8 in up to 20 sq ft (JELD-WEN JII023 p. 3).
    post(lead, opening, "measure", **MEASURED | {"diagonal_rising_in": "65 1/8"})
    assert Hold.objects.get(opening=opening).kind == Hold.Kind.OUT_OF_TOLERANCE


@pytest.mark.django_db
def test_nothing_is_filled_in_for_a_measurement_and_what_stays_empty_is_not_measured(lead, opening):
    form = get(lead, opening).split('class="measure"')[1].split("</form>")[0]
    assert (
        'value="'
        not in form.replace('value="measure"', "")
        .replace('value="rough opening"', "")
        .replace('value="set unit"', "")
        .split('name="at"')[1]
        .split('">', 1)[1]
    )
    page = html_of(post(lead, opening, "measure", **MEASURED))
    kept = FieldMeasurement.objects.get()
    assert {getattr(kept, name) for name in DEVIATION_NAMES} == {None}
    assert page.count('<li class="not-measured">') == len(DEVIATION_NAMES)
    assert "within tolerance as far as measured, 7 not measured" in page
    assert "sill out of level: not measured" in page


# A fraction of an inch on a tape; 3.175 mm is 1/8 in (NIST Handbook 44, appendix C).
@pytest.mark.django_db
@pytest.mark.parametrize(
    ("written", "inches"),
    [("1/8", "0.125"), ("1/2", "0.5"), ("3/8 in", "0.375"), ('1/16"', "0.0625"), (".125", "0.125"), ("0", "0"),
     ("1/32", "0.03125"), ("3.175 mm", "0.125"), ("⅛", "0.125"), ("1 1/4", "1.25")],
)  # fmt: skip
def test_a_small_reading_is_a_fraction_of_an_inch(lead, opening, written, inches):
    post(lead, opening, "measure", **MEASURED, left_out_of_plumb_in=written)
    assert FieldMeasurement.objects.get().left_out_of_plumb_in == Decimal(inches)


@pytest.mark.django_db
@pytest.mark.parametrize("written", ["5/0", "1/10", "9/8", "3-0", "-1/8", "true"])
def test_what_is_no_small_reading_is_said_at_its_field(lead, opening, written):
    response = post(lead, opening, "measure", **MEASURED, twist_in=written)
    assert response.status_code == 400
    assert f'value="{written}"' in html_of(response)
    assert not FieldMeasurement.objects.exists()


@pytest.mark.django_db
def test_a_diagonal_that_cannot_be_is_said_at_its_field_with_what_would_be_right(lead, opening):
    # Pythagoras: 36 × 54 in has diagonals of 64.9 in.
    response = post(lead, opening, "measure", **MEASURED | {"diagonal_falling_in": "46"})
    page = html_of(response)
    assert response.status_code == 400
    assert 'id="id_diagonal_falling_in"' in page
    at_its_field = page.split('id="id_diagonal_falling_in"')[1].split("</p>")[0]
    assert "would be right" in at_its_field
    assert "5&#x27; 4 15/16&quot;" in at_its_field
    assert "would be right" not in page.split('id="id_diagonal_rising_in"')[1].split("</p>")[0]
    assert not FieldMeasurement.objects.exists()


@pytest.mark.django_db
def test_a_length_that_cannot_be_read_is_said_at_its_field_and_the_others_stay(lead, opening):
    response = post(lead, opening, "measure", **MEASURED | {"width_top_in": "wide"})
    page = html_of(response)
    assert response.status_code == 400
    assert "“wide” is not a length" in page
    assert 'value="wide"' in page
    assert page.count('value="54"') == 3
    assert not FieldMeasurement.objects.exists()


@pytest.mark.django_db
def test_a_hold_is_placed_and_released(lead, opening):
    post(lead, opening, "hold", kind="access", reason="scaffold missing")
    assert "scaffold missing" in get(lead, opening)
    post(lead, opening, "release", hold=Hold.objects.get().pk, note="it stands")
    assert Hold.objects.get().released_at


@pytest.mark.django_db
@pytest.mark.parametrize("mounting", ["flange", "casing", "box frame"])
def test_every_mounting_can_be_drawn(owner, mounting):
    casing = {"casing_width_in": Decimal(2)} if mounting == "casing" else {}
    detail = DetailFactory(mounting=mounting, jamb_flashing_over_flange=False, **casing)
    page = get(owner, OpeningFactory(job=detail.job, detail=detail))
    assert 'class="unit"' in page


@pytest.mark.django_db
def test_an_opening_that_is_not_there_is_said(owner):
    response = owner.get(reverse("opening-page", args=[10**6]))
    assert response.status_code == 404
    assert "there is no opening" in html_of(response)


@pytest.mark.django_db
def test_the_page_speaks_metric_where_it_is_asked_to(lead, opening):
    make_catalogue()
    page = html_of(lead.get(reverse("opening-page", args=[opening.pk]), {"units": "metric"}))
    # 36 + 2 × 9 = 54 in of 25.4 mm (NIST Handbook 44, appendix C).
    assert "sill strip, 1371.6 mm: rough-opening width 914.4 + 2 × 228.6 strip width" in page
    assert "RO 914.4 mm" in page
    assert "?units=us" in page


@pytest.mark.django_db
def test_the_page_says_what_products_do_not_do_and_what_may_touch_what(lead, opening):
    page = get(lead, opening)
    assert "No product." in page
    assert "no product is chosen for sill strip" in page
    assert "test first" in page
    assert "AAMA 713" in page
    assert "hold point: stop for inspection" in page


@pytest.mark.django_db
def test_the_lifting_equation_is_shown_where_the_sill_height_is_known(lead, opening):
    opening.sill_above_floor_in = Decimal(24)
    opening.save()
    page = get(lead, opening)
    assert "by the lifting equation" in page
    assert "DHHS/NIOSH 94-110" in page


@pytest.mark.django_db
def test_a_lift_beyond_the_equation_asks_first(lead, opening):
    assert "is not known, so the lift is not held against the lifting equation" in get(lead, opening)
    opening.sill_above_floor_in = Decimal(60)  # hands above 70 in: DHHS/NIOSH 94-110 p. 6
    opening.save()
    page = get(lead, opening)
    assert "ask before you lift" in page
    assert "competent person decide, by name" in page.replace("&#x27;", "'")


@pytest.mark.django_db
def test_a_twist_over_its_limit_places_a_hold(lead, opening):
    post(lead, opening, "measure", **MEASURED, twist_in="3/16")
    # Opening face twist less than 1/8 in: JELD-WEN JII023 p. 3.
    assert Hold.objects.get(opening=opening).kind == Hold.Kind.OUT_OF_TOLERANCE


@pytest.mark.django_db
def test_the_multipliers_of_the_governing_end_stand_in_a_table(lead, opening):
    opening.sill_above_floor_in = Decimal(24)
    opening.save()
    page = get(lead, opening)
    assert "Multipliers at the" in page
    # LC, HM, VM, DM, AM, FM, CM: DHHS/NIOSH 94-110, equation p. 1-22.
    for symbol in ("LC", "HM", "VM", "DM", "AM", "FM", "CM"):
        assert f'<th scope="row">{symbol}</th>' in page


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("conditions", "is_cautioned"),
    [({}, False), ({"storeys_up": 1}, True), ({"access": "ladder"}, True)],
    ids=["ground floor", "one story up", "ladder"],
)
def test_hours_above_the_ground_come_with_a_caution(lead, opening, conditions, is_cautioned):
    for name, value in conditions.items():
        setattr(opening, name, value)
    opening.save()
    assert ("not leave to climb" in get(lead, opening)) == is_cautioned


@pytest.mark.django_db
def test_what_another_crew_carries_on_is_recorded_by_their_lead_alone(lead, opening):
    post(lead, opening, "start")
    assert '<button type="submit" name="act" value="step">' in get(lead, opening)
    birch = CrewFactory(name="Birch")
    given = opening.assignments.get().pk
    services.move(assignment_ids=[given], crew_id=birch.pk, on=tomorrow(), by=PersonFactory())
    page = get(lead, opening)
    assert "Birch has it now: their lead records it." in page
    assert not any(f'<button type="submit" name="act" value="{act}"' in page for act in ("step", "hours", "finish"))
    page = get(signed_in(Person.Role.CREW_LEAD, crew=birch), opening)
    assert '<button type="submit" name="act" value="step">' in page
    assert "has it now" not in page


@pytest.mark.django_db
def test_a_measured_size_is_accepted_where_it_is_shown_and_says_what_follows(lead, opening):
    post(lead, opening, "measure", **MEASURED | dict.fromkeys([f"width_{place}_in" for place in PLACES], "36 1/8"))
    page = unescape(get(lead, opening))
    assert "Accepted, the rough opening is 3' 0 1/8\" × 4' 6\" as built (drawn 3' 0\" × 4' 6\")" in page
    measured = FieldMeasurement.objects.get()
    page = unescape(html_of(post(lead, opening, "accept", measurement=measured.pk)))
    assert "Draw, cuts and labor are figured for it, and an issued pull sheet is updated within a minute" in page
    assert "Accepted as built" in page
    assert page.count("as built (drawn 3' 0\" × 4' 6\")") >= 2
    assert "RO 3' 0 1/8\" (drawn 3' 0\")" in page
    assert 'value="accept"' not in page


@pytest.mark.django_db
def test_the_warehouse_accepts_nothing(opening):
    measure(opening, "36.125", "54")
    warehouse = signed_in(Person.Role.WAREHOUSE)
    assert 'value="accept"' not in get(warehouse, opening)
