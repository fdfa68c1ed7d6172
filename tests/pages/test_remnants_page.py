"""The stock of remnants as a page. How they are kept: common practice, no source."""

from __future__ import annotations

import re
from decimal import Decimal
from html import unescape

import pytest
from django.test import Client
from django.urls import reverse
from selenium.webdriver.common.by import By
from selenium.webdriver.support.select import Select

from jobs.models import Person
from materials import services
from materials.models import Place, PlannedRoll, Remnant
from tests.factories import CrewFactory, make_remnant, make_stock
from tests.materials.rolls import load, make_day, make_roll, make_sheet, make_strip
from tests.pages.html import html_of
from tests.pages.people import person, signed_in
from tests.pages.test_browser import press, said, sign_in

PAGE = reverse("remnants-page")


def show(client: Client) -> str:
    return html_of(client.get(PAGE))


def a_truck_is_back() -> tuple[PlannedRoll, PlannedRoll]:
    """Return the rolls of a sheet of today: one cut from a remnant, and a new one."""
    product = make_strip(name="Sill strip")
    make_stock(product, 3)
    sheet = make_sheet(make_day(crew=CrewFactory(name="Rowan")))
    old = make_roll(sheet, product, number=1, remnant=make_remnant(product, 500), left_in=12)
    new = make_roll(sheet, product, number=2, left_in=300)
    load(sheet, product, 1)
    return old, new


@pytest.mark.django_db
def test_a_remnant_is_shown_with_its_length_to_scale_place_and_crew(warehouse):
    crew_day = make_day(crew=CrewFactory(name="Rowan"))
    remnant = make_remnant(make_strip(), "310.5", reserved_for=crew_day)
    page = show(warehouse)
    assert f'<th scope="row">{remnant.code}</th>' in page
    assert "25&#x27; 10 1/2&quot;</td>" in page
    assert 'viewBox="0 0 900 1"' in page
    assert '<rect class="piece" width="310.5" height="1"/>' in page
    assert f"Rowan, {crew_day.on:%a, %b} {crew_day.on.day}" in page


@pytest.mark.django_db
def test_rolls_to_settle_stand_first_with_what_is_planned_to_come_back(warehouse):
    old, new = a_truck_is_back()
    page = show(warehouse)
    assert page.index("Returns to settle") < page.index("Remnants on hand")
    for roll, planned in ((old, "1&#x27; 0&quot;<small>not worth keeping</small>"), (new, "25&#x27; 0&quot;")):
        assert f'<td class="figure" data-label="Planned return">{planned}' in page
        (typed,) = re.findall(rf'<input[^>]* name="roll-{roll.pk}"[^>]*>', page)
        assert "value=" not in typed
    assert old.remnant.code in page


@pytest.mark.django_db
def test_what_came_back_is_saved_and_its_code_is_said(warehouse):
    old, new = a_truck_is_back()
    place = Place.objects.get(kind=Place.Kind.WAREHOUSE)
    sent = {
        "act": "settle",
        "sheet": new.sheet_id,
        "place": place.pk,
        f"roll-{old.pk}": "0",
        f"roll-{new.pk}": "24' 6\"",
    }
    page = html_of(warehouse.post(PAGE, sent, follow=True))
    remnant = Remnant.objects.get(fate="")
    assert (remnant.length_in, remnant.place) == (294, place)
    assert f"2 rolls settled. Mark what came back: {remnant.code}, 24&#x27; 6&quot; of Sill strip" in page
    assert 'id="to-settle"' not in page


@pytest.mark.django_db
def test_a_roll_that_nobody_measured_stays_to_be_settled(warehouse):
    old, new = a_truck_is_back()
    place = Place.objects.get(kind=Place.Kind.WAREHOUSE)
    sent = {"act": "settle", "sheet": new.sheet_id, "place": place.pk, f"roll-{old.pk}": "0", f"roll-{new.pk}": ""}
    page = html_of(warehouse.post(PAGE, sent, follow=True))
    assert "1 roll settled" in page
    to_settle = page.partition('id="settled"')[0]
    assert f'name="roll-{new.pk}"' in to_settle
    assert f'name="roll-{old.pk}"' not in to_settle


@pytest.mark.django_db
def test_one_press_with_nothing_typed_enters_nothing(warehouse):
    _, new = a_truck_is_back()
    place = Place.objects.get(kind=Place.Kind.WAREHOUSE)
    response = warehouse.post(PAGE, {"act": "settle", "sheet": new.sheet_id, "place": place.pk, f"roll-{new.pk}": ""})
    assert response.status_code == 400
    assert "enter the length that came back" in html_of(response)
    assert Remnant.objects.filter(left_of__isnull=False).count() == 0


@pytest.mark.django_db
def test_a_sheet_that_nobody_entered_as_loaded_leads_to_staging(warehouse):
    product, sheet = make_strip(), make_sheet(make_day(crew=CrewFactory(name="Rowan")))
    roll = make_roll(sheet, product)
    page = show(warehouse)
    assert f'name="roll-{roll.pk}"' not in page
    assert "Not entered as loaded: 1 pull sheet<" in page
    assert f"/boards/staging/?on={sheet.crew_day.on}#sheet-{sheet.pk}" in page


@pytest.mark.django_db
def test_a_wrong_length_is_corrected_where_it_was_entered(warehouse):
    _, new = a_truck_is_back()
    sent = {"act": "settle", "sheet": new.sheet_id}
    warehouse.post(PAGE, sent | {f"roll-{new.pk}": "24' 6\""})
    remnant = Remnant.objects.get(left_of=new)
    settled = show(warehouse).partition('id="settled"')[2]
    assert "24&#x27; 6&quot; entered" in settled
    assert f"{remnant.code} is at Warehouse" in settled
    page = html_of(warehouse.post(PAGE, sent | {f"roll-{new.pk}": "20'"}, follow=True))
    assert f"{remnant.code}, 20&#x27; 0&quot; of Sill strip, is at Warehouse" in page
    remnant.refresh_from_db()
    assert (remnant.length_in, remnant.fate) == (240, "")
    services.scrap_remnant(remnant_id=remnant.pk, by=None)
    refused = warehouse.post(PAGE, sent | {f"roll-{new.pk}": "21'"})
    assert refused.status_code == 409
    assert "has since been scrapped" in html_of(refused)
    assert "<details open><summary>Entered since" in html_of(refused)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("sent", "status", "shown"),
    [
        ("76' 0\"", 400, "had 75' 0\"; 76' 0\" cannot come back"),
        ("75' 0\"", 400, "is still a full roll, not a remnant"),
        ("a lot", 400, "is not a length"),
    ],
)
def test_what_cannot_have_come_back_is_refused_and_nothing_of_the_form_is_lost(warehouse, sent, status, shown):
    old, new = a_truck_is_back()
    place = Place.objects.get(kind=Place.Kind.WAREHOUSE)
    asked = {"act": "settle", "sheet": new.sheet_id, "place": place.pk, f"roll-{old.pk}": "7", f"roll-{new.pk}": sent}
    response = warehouse.post(PAGE, asked)
    page = html_of(response)
    assert response.status_code == status
    assert shown in unescape(page)
    assert f'name="roll-{old.pk}" value="7"' in page
    assert not PlannedRoll.objects.filter(came_back_in__isnull=False).exists()


@pytest.mark.django_db
def test_one_that_was_found_is_entered_or_refused_as_it_was_typed(warehouse):
    product = make_strip(name="Sill strip")
    place = make_stock(product, 1)
    sent = {"act": "enter", "product": product.pk, "length_in": "80'", "place": place.pk}
    refused = warehouse.post(PAGE, sent)
    assert refused.status_code == 400
    assert "a remnant cannot be longer" in html_of(refused)
    assert 'value="80&#x27;"' in html_of(refused)
    page = html_of(warehouse.post(PAGE, sent | {"length_in": "8'"}, follow=True))
    assert f"Mark it: {Remnant.objects.get().code}, 8&#x27; 0&quot; of Sill strip" in page


@pytest.mark.django_db
def test_one_is_scrapped(warehouse):
    remnant = make_remnant(make_strip(), 100, reserved_for=make_day())
    page = html_of(warehouse.post(PAGE, {"act": "scrap", "sure": "yes", "remnant": remnant.pk}, follow=True))
    assert f"{remnant.code} is scrapped" in page
    assert "No remnants on hand" in page


@pytest.mark.django_db
@pytest.mark.parametrize("role", list(Person.Role))
def test_everybody_sees_the_page_and_who_keeps_the_stock_acts(role):
    a_truck_is_back()
    client, may = signed_in(role), role in (Person.Role.WAREHOUSE, Person.Role.SCHEDULER)
    page = show(client)
    assert ("<button" in page.split("<main")[1]) == may
    for act in ("settle", "enter", "scrap"):
        assert client.post(PAGE, {"act": act}).status_code == (400 if may else 403)


@pytest.mark.django_db
def test_a_stranger_is_asked_to_sign_in():
    assert Client().get(PAGE)["Location"] == f"/login/?next={PAGE}"


@pytest.mark.django_db
@pytest.mark.parametrize("count", [1, 6])
def test_the_page_takes_as_many_queries_however_much_there_is(warehouse, django_assert_num_queries, count):
    product = make_strip()
    make_stock(product, 1)
    for _ in range(count):
        sheet = make_sheet()
        make_roll(sheet, product, remnant=make_remnant(product, 500))
        settled = make_roll(sheet, product, number=2)
        load(sheet, product, 1)
        services.settle_roll(roll_id=settled.pk, came_back_in=Decimal(300), by=None)
        make_roll(make_sheet(), product)
    # Session, person; places with their count, remnants; rolls to settle, never loaded, and settled with their entries,
    # time zones of the jobs before each; products.
    with django_assert_num_queries(13):
        page = show(warehouse)
    assert page.count('class="settle"') == 2 * count


@pytest.mark.django_db(transaction=True)
def test_the_page_fits_its_screen_and_every_control_has_a_name(browser, live_server):
    # WCAG 2.2, success criteria 1.3.1, 1.4.10 and 4.1.2.
    a_truck_is_back()
    sign_in(browser, live_server.url, person(Person.Role.WAREHOUSE))
    browser.get(f"{live_server.url}{PAGE}")
    widths = browser.execute_script("return [document.documentElement.scrollWidth, window.innerWidth]")
    assert widths[0] <= widths[1]
    browser.execute_script("document.querySelectorAll('details').forEach((one) => { one.open = true })")
    controls = browser.find_elements(By.CSS_SELECTOR, "input:not([type=hidden]), select, button, a, summary")
    assert not [control.get_attribute("outerHTML") for control in controls if not control.accessible_name]
    assert not browser.get_log("browser")


@pytest.mark.django_db(transaction=True)
def test_a_truck_is_settled_and_a_remnant_entered_on_a_phone(phone, live_server):
    old, new = a_truck_is_back()
    sign_in(phone, live_server.url, person(Person.Role.WAREHOUSE))
    phone.get(f"{live_server.url}{PAGE}")
    for roll, typed in ((old, "0"), (new, "20'")):
        field = phone.find_element(By.NAME, f"roll-{roll.pk}")
        assert field.get_attribute("value") == ""
        field.send_keys(typed)
    press(phone, "[value=settle]")
    assert "2 rolls settled" in said(phone)
    assert Remnant.objects.get(fate="").length_in == 240
    phone.find_element(By.CSS_SELECTOR, "[aria-labelledby=on-hand] summary").click()
    Select(phone.find_element(By.NAME, "product")).select_by_visible_text("Sill strip")
    phone.find_element(By.NAME, "length_in").send_keys("8' 3\"")
    press(phone, "[value=enter]")
    assert "8' 3\" of Sill strip" in said(phone)
