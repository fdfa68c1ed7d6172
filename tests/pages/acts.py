"""Every act of every page as somebody does it in a browser: so that it is done, and so that it is refused."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from functools import partial
from pathlib import Path
from tempfile import mkdtemp

from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.urls import get_resolver, reverse
from django.utils import timezone
from selenium.common.exceptions import StaleElementReferenceException
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.select import Select
from selenium.webdriver.support.ui import WebDriverWait

from jobs import services as jobs
from jobs.calc.notice import EventKind
from jobs.models import CompanyDay, Crew, Job, Person, SignIn, Token, Webhook
from jobs.page import Page
from jobs.queries import today_on_sites
from jobs.services import add_person, make_token
from materials import services as materials
from materials.models import DetailProduct, Place, Product, PullSheet, PullSheetLine, Remnant
from openings import services as openings
from openings.calc.lay_order import steps_for
from openings.calc.readiness import Condition
from openings.models import Hold, InstallationDetail, Opening, ScheduleDraft
from tests.factories import (
    CrewFactory,
    DetailFactory,
    JobFactory,
    PersonFactory,
    ProductFactory,
    make_catalogue,
    make_openings,
    make_remnant,
    make_sign_in,
    make_stock,
    tomorrow,
)
from tests.materials.rolls import make_day, make_loaded_roll, make_sheet
from tests.openings.rows import make_assigned, measure
from tests.pages.people import PASSWORD
from tests.pages.schedules import DETAIL, HEAD, address_of

PATIENCE_S = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """A browser on a page of the service."""

    browser: Chrome
    base: str

    def resize(self, width: int, height: int) -> None:
        size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False}
        self.browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)

    def go(self, address: str) -> None:
        self.browser.get(f"{self.base}{address}")

    def sign_in(self, somebody: Person) -> None:
        """Go on as somebody, as after the sign-in page."""
        session = SessionStore()
        session[SESSION_KEY] = str(somebody.pk)
        session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
        session[HASH_SESSION_KEY] = somebody.get_session_auth_hash()
        session.create()
        self.go("/static/mark.svg")
        self.browser.add_cookie({"name": settings.SESSION_COOKIE_NAME, "value": session.session_key, "path": "/"})

    def find(self, selector: str) -> WebElement:
        return self.browser.find_element(By.CSS_SELECTOR, selector)

    def type(self, selector: str, text: str) -> None:
        """Type into a field, in a closed part of the page after it was opened."""
        field = self.find(selector)
        self._open_around(field)
        field.clear()
        field.send_keys(text)

    def day(self, selector: str, on: date) -> None:
        """Choose a day; how the keys of a date field are typed depends on the machine."""
        self.browser.execute_script("arguments[0].value = arguments[1]", self.find(selector), on.isoformat())

    def choose(self, selector: str, words: str) -> None:
        field = self.find(selector)
        self._open_around(field)
        Select(field).select_by_visible_text(words)

    def tick(self, selector: str) -> None:
        self._in_the_middle(self.find(selector)).click()

    def press(self, selector: str) -> None:
        """Press a button where a person would see it, and wait until the page that it leads to is there."""
        button = self.find(f"button{selector}" if selector.startswith("[value=") else selector)
        self._open_around(button)
        before = self.find("html")
        self._in_the_middle(button).click()
        wait = WebDriverWait(self.browser, PATIENCE_S)
        wait.until(lambda _: self._is_gone(before), f"{selector} sent nothing: {self._refused_by_the_browser()}")
        wait.until(lambda _: self.browser.execute_script("return document.readyState") == "complete")

    def sure(self) -> None:
        """Confirm what is asked."""
        self.press("[name=sure][value=yes]")

    def _is_gone(self, before: WebElement) -> bool:
        try:
            return self.find("html") != before
        except StaleElementReferenceException:
            return True

    def _refused_by_the_browser(self) -> list[str]:
        return self.browser.execute_script(
            "return [...document.querySelectorAll(':invalid')].map((one) => `${one.name}: ${one.validationMessage}`)"
        )

    def _open_around(self, element: WebElement) -> None:
        self.browser.execute_script("arguments[0].closest('details:not([open])')?.setAttribute('open', '')", element)

    def _in_the_middle(self, element: WebElement) -> WebElement:
        self.browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", element)
        return element


Do = Callable[[Screen], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One act: who does it, how it goes well, how it is refused, and what is then said.

    Args:
        done: makes what it needs, goes to the page and presses the button.
        refused: the same, so that it cannot be done.
        said: part of what is answered where it was done.
        why: part of what is answered where it was refused.
        asks: part of what is asked first.
    """

    by: Person.Role
    done: Do
    said: str
    refused: Do
    why: str
    asks: str = ""


def pages() -> Iterator[tuple[str, Page]]:
    """Yield every page of the service with the name of its address."""
    for pattern in get_resolver().url_patterns:
        for inner in getattr(pattern, "url_patterns", [pattern]):
            if isinstance(callback := getattr(inner, "callback", None), Page):
                yield inner.name, callback


def acts() -> set[tuple[str, str]]:
    """Return every act as (name of the page, name of the act)."""
    return {(name, act) for name, page in pages() for act in page.acts}


# Crews by day

BOARD = reverse("crew-board-page")


def _assigned(count: int = 1, *, on: date | None = None) -> list[Opening]:
    given, crew = make_openings(count), CrewFactory()
    openings.assign(opening_ids=[one.pk for one in given], crew_id=crew.pk, on=on or today_on_sites(), by=None)
    return given


def _many_wait() -> list[Opening]:
    """Return more ready openings than fit a screen."""
    return make_openings(30)


def _assign(screen: Screen, *, tick: int) -> None:
    _many_wait()
    crew = CrewFactory()
    screen.go(BOARD)
    for box in screen.browser.find_elements(By.CSS_SELECTOR, "[name=openings]")[:tick]:
        box.click()
    screen.choose(".assign [name=crew]", crew.name)
    screen.day(".assign [name=on]", tomorrow())
    screen.press("[value=assign]")


def _withdraw(screen: Screen, *, is_started: bool = False) -> None:
    (one,) = _assigned()
    _many_wait()
    screen.go(BOARD)
    if is_started:
        openings.start_install(opening_id=one.pk, by=PersonFactory())
    screen.tick("[name=assignments]")
    screen.press("[value=withdraw]")


def _move(screen: Screen, *, tick: int) -> None:
    _assigned(2)
    _many_wait()
    crew = CrewFactory()
    screen.go(BOARD)
    for box in screen.browser.find_elements(By.CSS_SELECTOR, "[form=move][name=assignments]")[:tick]:
        box.click()
    screen.choose("#move [name=crew]", crew.name)
    screen.day("#move [name=on]", tomorrow())
    screen.press("button[value=move]")


def _mend(screen: Screen, *, is_moved_on: bool = False) -> None:
    crew = CrewFactory()
    (one,) = make_openings(1)
    openings.assign(opening_ids=[one.pk], crew_id=crew.pk, on=today_on_sites(), by=None)
    openings.change_crew_day(crew_day_id=crew.days.get().pk, off_reason="sick")
    CrewFactory()
    _many_wait()
    screen.go(BOARD)
    if is_moved_on:
        openings.withdraw(assignment_id=one.assignments.get().pk, by=PersonFactory())
    screen.press("[name=offer]")


def _undo(screen: Screen, *, is_moved_on: bool = False) -> None:
    (one,) = make_openings(1)
    by = PersonFactory()
    openings.assign(opening_ids=[one.pk], crew_id=CrewFactory().pk, on=today_on_sites(), by=by)
    _many_wait()
    screen.go(BOARD)
    if is_moved_on:
        openings.withdraw(assignment_id=one.assignments.get().pk, by=by)
    screen.press("#undo button")


def _next_room(screen: Screen, *, tick: int) -> None:
    _many_wait()
    CrewFactory()
    screen.go(BOARD)
    for box in screen.browser.find_elements(By.CSS_SELECTOR, "[name=openings]")[:tick]:
        box.click()
    screen.press("[value=next_room]")


def _set_day(screen: Screen, *, hours: str) -> None:
    (one,) = _assigned()
    crew = one.assignments.get().crew_day.crew
    _many_wait()
    screen.go(BOARD)
    screen.choose("#set-day [name=crew]", crew.name)
    screen.day("#set-day [name=on]", today_on_sites())
    screen.type("#set-day [name=off_reason]", "first aid course")
    screen.type("#set-day [name=capacity_person_h]", hours)
    screen.press("[value=set_day]")


def _held(opening: Opening) -> Hold:
    return openings.place_hold(opening_id=opening.pk, kind=Hold.Kind.WEATHER, reason="gale warning", by=None)


def _hold_on_board(screen: Screen, *, is_held: bool = False) -> None:
    one, *_ = _many_wait()
    screen.go(BOARD)
    if is_held:
        _held(one)
    screen.choose("[name=opening]", f"{one.job.code} {one.mark}")
    _hold(screen)


def _hold(screen: Screen) -> None:
    screen.choose("[name=kind]", "weather")
    screen.type("[name=reason]", "gale warning until noon")
    screen.press("[value=hold]")


def _release_on_board(screen: Screen, *, is_released: bool = False) -> None:
    one, *_ = _many_wait()
    held = _held(one)
    screen.go(BOARD)
    _release(screen, held, is_released=is_released)


def _release(screen: Screen, held: Hold, *, is_released: bool) -> None:
    if is_released:
        openings.release_hold(hold_id=held.pk, by=PersonFactory())
    screen.type("[name=note]", "it is calm")
    screen.press("[value=release]")


# Units, deliveries and what openings wait for


def _on_units(screen: Screen, *, tick: int, is_ordered: bool = True, condition: str = "") -> list[Opening]:
    given = make_openings(2)
    if is_ordered:
        ids = [one.pk for one in given]
        units = openings.order_units(opening_ids=ids, ordered_on=today_on_sites())
        if condition:
            flaws = {one.pk: openings.Flaw(condition=Condition(condition), note="bent") for one in units}
            whole = {} if condition == "whole" else flaws
            openings.receive_units(unit_ids=[one.pk for one in units], by=PersonFactory(), flaws=whole)
    screen.go(reverse("units-page", args=[given[0].job_id]))
    for box in screen.browser.find_elements(By.CSS_SELECTOR, "[name=openings]")[:tick]:
        box.click()
    return given


def _order_units(screen: Screen, *, tick: int) -> None:
    _on_units(screen, tick=tick, is_ordered=False)
    screen.press("[value=order]")


def _reorder_units(screen: Screen, *, condition: str) -> None:
    _on_units(screen, tick=2, condition=condition)
    screen.press("[value=reorder]")


def _bring_units(screen: Screen, *, supplier: str) -> None:
    _on_units(screen, tick=2)
    screen.type("[name=bring-supplier]", supplier)
    screen.press("[value=bring]")


def _receive_units(screen: Screen, *, condition: str) -> None:
    _on_units(screen, tick=2)
    screen.choose("[name=receive-condition]", condition)
    screen.press("[value=receive]")


def _on_deliveries(screen: Screen) -> None:
    given = make_openings(2)
    units = openings.order_units(opening_ids=[one.pk for one in given], ordered_on=today_on_sites())
    openings.add_delivery(job=given[0].job, supplier="Sash works", unit_ids=[one.pk for one in units])
    screen.go(reverse("deliveries-page"))


def _expect_delivery(screen: Screen, *, on: date) -> None:
    _on_deliveries(screen)
    screen.day("[name=expected_on]", on)
    screen.press("[value=expect]")


def _receive_delivery(screen: Screen, *, condition: str) -> None:
    _on_deliveries(screen)
    screen.choose("[name^=condition_]", condition)
    screen.press("[value=receive_delivery]")


def _on_readiness(screen: Screen, *, tick: int = 0, is_held: bool = False) -> list[Opening]:
    given = make_openings(2)
    for one in given if is_held else ():
        _held(one)
    screen.go(reverse("readiness-page", args=[given[0].job_id]))
    for box in screen.browser.find_elements(By.CSS_SELECTOR, "[name=openings]")[:tick]:
        box.click()
    return given


def _hold_many(screen: Screen, *, tick: int) -> None:
    _on_readiness(screen, tick=tick)
    screen.choose("[name=kind]", "access")
    screen.type("[name=reason]", "scaffold is not up")
    screen.press("[value=hold]")


def _release_many(screen: Screen, *, is_held: bool) -> None:
    _on_readiness(screen, tick=2, is_held=is_held)
    screen.choose("[name=release-kind]", "weather")
    screen.press("[value=release]")


def _set_rules(screen: Screen, *, floors: str) -> None:
    _on_readiness(screen)
    screen.type("[name=floor_order]", floors)
    screen.press("[value=set_rules]")


def _add_trade(screen: Screen, *, is_there: bool = False) -> None:
    one, *_ = _on_readiness(screen)
    if is_there:
        openings.add_trade_before(job=one.job, name="WRB")
    screen.type("#trade_name", "WRB")
    screen.press("[value=add_trade]")


def _settle_trade(screen: Screen, *, on: date) -> None:
    (one,) = make_openings(1)
    openings.add_trade_before(job=one.job, name="WRB")
    screen.go(reverse("readiness-page", args=[one.job_id]))
    screen.day("[name=done_on]", on)
    screen.press("[value=settle_trade]")


# One opening


def one_opening(*, is_started: bool = False, is_laid: bool = False, person_h: Decimal | None = None) -> Opening:
    (one,) = _assigned()
    if not is_started:
        return one
    lead = PersonFactory()
    record = openings.start_install(opening_id=one.pk, by=lead)
    for step in steps_for(one.detail.as_facts()) if is_laid else ():
        openings.record_step(record_id=record.pk, step=step.code, by=lead)
    if person_h:
        openings.record_hours(record_id=record.pk, person="Ines", on=today_on_sites(), person_h=person_h, by=lead)
    return one


def on_opening(screen: Screen, one: Opening) -> None:
    screen.go(reverse("opening-page", args=[one.pk]))


def _start(screen: Screen, *, is_held: bool = False) -> None:
    (one,) = _assigned(on=tomorrow())
    on_opening(screen, one)
    if is_held:
        _held(one)
    screen.press("[value=start]")


def _step(screen: Screen, *, is_held: bool = False) -> None:
    one = one_opening(is_started=True)
    on_opening(screen, one)
    if is_held:
        _held(one)
    screen.press("[value=step]")


def hours(screen: Screen, typed: str = "2:15", *, is_recorded: bool = False) -> None:
    on_opening(screen, one_opening(is_started=True, is_laid=True, person_h=Decimal(4) if is_recorded else None))
    screen.type("[name=person]", "Ines")
    screen.type("[name=person_h]", typed)
    screen.press("[value=hours]")


def _finish(screen: Screen, *, is_laid: bool) -> None:
    on_opening(screen, one_opening(is_started=True, is_laid=is_laid, person_h=Decimal("2.5") if is_laid else None))
    screen.press("[value=finish]")


def _measure(screen: Screen, *, width: str) -> None:
    on_opening(screen, one_opening())
    for name in ("width_top_in", "width_middle_in", "width_bottom_in"):
        screen.type(f"[name={name}]", width)
    for name in ("height_left_in", "height_middle_in", "height_right_in"):
        screen.type(f"[name={name}]", "54")
    for name in ("diagonal_rising_in", "diagonal_falling_in"):
        screen.type(f"[name={name}]", "64 7/8")
    screen.press("[value=measure]")


def _accept(screen: Screen, *, is_measured_again: bool = False) -> None:
    one = one_opening()
    measure(one, "36.125", "54")
    on_opening(screen, one)
    if is_measured_again:
        again = measure(one, "36.25", "54")
        openings.accept_measurement(measurement_id=again.pk, by=PersonFactory())
    screen.press("[value=accept]")


def _hold_opening(screen: Screen, *, is_held: bool = False) -> None:
    one = one_opening()
    on_opening(screen, one)
    if is_held:
        _held(one)
    _hold(screen)


def _release_opening(screen: Screen, *, is_released: bool = False) -> None:
    one = one_opening()
    held = _held(one)
    on_opening(screen, one)
    _release(screen, held, is_released=is_released)


# Staging and remnants


def _sheet() -> PullSheet:
    strip = Product.objects.filter(code="sill-strip").first() or make_catalogue()["sill strip"]
    make_stock(strip, 4)
    crew = CrewFactory()
    given = [one.pk for one in make_openings(2)]
    openings.assign(opening_ids=given, crew_id=crew.pk, on=tomorrow(), by=None)
    sheet = materials.request_pull_sheet(crew_id=crew.pk, on=tomorrow(), by=None)
    materials.write_pull_sheet(sheet_id=sheet.pk)
    return sheet


def load(screen: Screen, packages: str) -> None:
    sheet = _sheet()
    screen.go(f"{reverse('staging-page')}?on={tomorrow()}")
    line_id = PullSheetLine.objects.get(sheet=sheet, parts="sill strip").pk
    screen.type(f"[name=line-{line_id}]", packages)
    screen.press(f"#truck-{sheet.crew_day_id} [value=load]")


def _ask(screen: Screen, *, is_withdrawn: bool = False) -> None:
    crew_day_id = _sheet().crew_day_id
    if is_withdrawn:
        given = openings.assign(opening_ids=[make_openings(1)[0].pk], crew_id=CrewFactory().pk, on=tomorrow(), by=None)
        crew_day_id = given[0].crew_day_id
    screen.go(f"{reverse('staging-page')}?on={tomorrow()}")
    if is_withdrawn:
        openings.withdraw(assignment_id=given[0].pk, by=PersonFactory())
    screen.press(f"#truck-{crew_day_id} [value=ask]")


REMNANTS = reverse("remnants-page")


def _many_lie() -> Remnant:
    """Return one of more remnants than fit a screen, which a crew counts on."""
    product = ProductFactory(measure="in", package="roll", package_quantity=900)
    remnants = [make_remnant(product, length_in) for length_in in range(100, 700, 20)]
    kept = remnants[len(remnants) // 2]
    Remnant.objects.filter(pk=kept.pk).update(reserved_for=make_day(crew=CrewFactory()))
    return kept


def settle(screen: Screen, length: str) -> None:
    _many_lie()
    product = ProductFactory(measure="in", package="roll", package_quantity=900)
    make_stock(product, 3)
    roll = make_loaded_roll(make_sheet(make_day(crew=CrewFactory())), product, left_in=300)
    screen.go(REMNANTS)
    screen.type(f"[name=roll-{roll.pk}]", length)
    screen.press(f"#sheet-{roll.sheet_id} [value=settle]")


def enter(screen: Screen, length: str) -> None:
    kept = _many_lie()
    screen.go(REMNANTS)
    screen.choose("[name=product]", str(kept.product))
    screen.type("[name=length_in]", length)
    screen.press("[value=enter]")


def _scrap(screen: Screen, *, is_cut_up: bool = False) -> None:
    kept = _many_lie()
    screen.go(REMNANTS)
    if is_cut_up:
        gone_at = kept.entered_at + timedelta(hours=1)
        Remnant.objects.filter(pk=kept.pk).update(fate=Remnant.Fate.CUT_UP, gone_at=gone_at, reserved_for=None)
    screen.press(f"[aria-label^='Scrap {kept.code}']")


# Details


def _reorder(screen: Screen, *, first: str) -> None:
    """Lay something first of all: the sill strip before the WRB is folded up, or the head strip."""
    (one,) = make_openings(1)
    screen.go(reverse("detail-page", args=[one.detail_id]))
    screen.type(f"[name={first}]", "1")
    screen.type("[name=fold-barrier]", "2")
    screen.press("form[method=get] button")
    screen.press("[value=reorder]")


def _accept_leak(screen: Screen, *, is_fixed: bool = False) -> None:
    detail = DetailFactory(pan_turn_up_in=Decimal(2))
    screen.go(reverse("detail-page", args=[detail.pk]))
    if is_fixed:
        InstallationDetail.objects.filter(pk=detail.pk).update(pan_turn_up_in=6)
    screen.type("[name=why]", "under a deep porch")
    screen.press("[value=accept_leak]")


# The catalogue, the products of each part, stock and places


def _type_product(screen: Screen, holds: str) -> None:
    screen.type("[name=code]", "strip-9")
    screen.type("[name=name]", "Strip, 9 in")
    screen.choose("[name=measure]", "inches")
    screen.choose("[name=package]", "Roll")
    screen.type("[name=package_quantity]", holds)


def _add_product(screen: Screen, *, holds: str) -> None:
    Product.objects.filter(code="strip-9").delete()
    screen.go(reverse("new-product-page"))
    _type_product(screen, holds)
    screen.press("[value=add_product]")


def _product_page(screen: Screen, product: Product) -> None:
    screen.go(reverse("product-page", args=[product.pk]))


def _save_product(screen: Screen, *, holds: str) -> None:
    _product_page(screen, ProductFactory())
    screen.type("[name=package_quantity]", holds)
    screen.press("[value=save]")


def _retire(screen: Screen, *, is_chosen: bool) -> None:
    product = ProductFactory()
    make_stock(product, 2)
    if is_chosen:
        materials.choose_product(part="shim", product=product)
    _product_page(screen, product)
    screen.press("[value=retire]")


def _reinstate(screen: Screen, *, holds: str) -> None:
    product = materials.retire_product(product_id=ProductFactory().pk)
    _product_page(screen, product)
    if holds:
        screen.browser.execute_script("document.querySelector('[value=reinstate]').value = arguments[0]", holds)
        screen.press(f"[value={holds}]")
    else:
        screen.press("[value=reinstate]")


def _start_catalogue(screen: Screen, *, tick: bool) -> None:
    Product.objects.filter(code="shim-84").update(code=f"shim-{Product.objects.count()}")
    screen.go(reverse("starting-products-page"))
    screen.browser.execute_script("document.querySelectorAll('[name=codes]').forEach((one) => {one.checked = false})")
    if tick:
        screen.tick("[value='shim-84']")
    screen.press("[value=start]")


def _look(screen: Screen, *, holds: str) -> None:
    file = Path(mkdtemp()) / "products.csv"
    file.write_text(
        f"Code,Name,Counted in,Package,One package holds\nlist-{Product.objects.count()},Shim,each,box,{holds}\n"
    )
    screen.go(reverse("product-list-page"))
    screen.find("[name=file]").send_keys(str(file))
    screen.press("[value=look]")


def _look_at_crews(screen: Screen, *, people: str) -> None:
    file = Path(mkdtemp()) / "crews.csv"
    name = f"Listed {Crew.objects.count()}"
    file.write_text(f"Crew,People,Truck\n{name},{people},Truck of {name}\n")
    screen.go(reverse("import-page"))
    screen.choose("[name=kind]", "Crews")
    screen.find("[name=file]").send_keys(str(file))
    screen.press("[value=look]")


def _take_crews(screen: Screen, *, lines: str = "") -> None:
    _look_at_crews(screen, people="3")
    if lines:
        screen.browser.execute_script("document.querySelector('[name=lines]').value = arguments[0]", lines)
    screen.press("[value=take]")


def _take_list(screen: Screen, *, lines: str = "") -> None:
    _look(screen, holds="84")
    if lines:
        screen.browser.execute_script("document.querySelector('[name=lines]').value = arguments[0]", lines)
    screen.press("[value=take]")


def _sill_strip(width_in: int) -> Product:
    return ProductFactory(measure="in", package="roll", package_quantity=900, width_in=width_in)


def _choose(screen: Screen, *, detail: InstallationDetail | None, is_refused: bool) -> None:
    strip = _sill_strip(12)
    screen.go(reverse("detail-products-page", args=[detail.pk]) if detail else reverse("standards-page"))
    screen.choose("[aria-label='Product for sill strip']", strip.name)
    if is_refused:
        Product.objects.filter(pk=strip.pk).update(width_in=Decimal(6))
    screen.press("[aria-label='Choose for sill strip']")


def _choose_standard(screen: Screen, *, is_refused: bool) -> None:
    DetailFactory(strip_width_in=Decimal(12))
    _choose(screen, detail=None, is_refused=is_refused)


def _choose_own(screen: Screen, *, is_refused: bool) -> None:
    _choose(screen, detail=DetailFactory(strip_width_in=Decimal(12)), is_refused=is_refused)


def _drop(screen: Screen, *, is_relied_on: bool) -> None:
    InstallationDetail.objects.filter(strip_width_in=12).update(strip_width_in=Decimal(11))
    if is_relied_on:
        DetailFactory(strip_width_in=Decimal(12))
    DetailProduct.objects.filter(detail=None).delete()
    strip = _sill_strip(12)
    if is_relied_on or not InstallationDetail.objects.exists():
        materials.choose_product(part="sill strip", product=strip)
    else:
        DetailProduct.objects.create(part="sill strip", product=strip)
    screen.go(reverse("standards-page"))
    screen.press(f"[aria-label='Remove {strip.name} from the standards for sill strip']")


def _use_standard(screen: Screen, *, has_standard: bool) -> None:
    detail = DetailFactory(strip_width_in=Decimal(12))
    DetailProduct.objects.filter(detail=None).delete()
    strip = _sill_strip(12)
    if has_standard:
        materials.choose_product(part="sill strip", product=strip)
    materials.choose_product(part="sill strip", product=strip, detail=detail)
    screen.go(reverse("detail-products-page", args=[detail.pk]))
    screen.press("[value=use_standard]")


def _count(screen: Screen, *, packages: str) -> None:
    for _ in range(20):
        product = ProductFactory()
    place, _ = Place.objects.get_or_create(kind="warehouse", name="Yard")
    screen.go(f"{reverse('stock-page')}?place={place.pk}")
    if packages:
        screen.type(f"[name=packages-{product.pk}]", packages)
    screen.press("[value=count]")


def _add_place(screen: Screen, *, is_named_twice: bool) -> None:
    name = f"Yard {Place.objects.count()}"
    if is_named_twice:
        Place.objects.create(kind="supplier", name=name)
    screen.go(reverse("places-page"))
    screen.choose("[name=kind]", "Warehouse")
    screen.type(".row [name=name]", name)
    screen.press("[value=add_place]")


def _rename(screen: Screen, *, is_named_twice: bool) -> None:
    place = Place.objects.create(kind="warehouse", name=f"Yard {Place.objects.count()}")
    other = Place.objects.create(kind="supplier", name=f"Supplier {Place.objects.count()}")
    screen.go(reverse("places-page"))
    screen.type(f"[aria-label='Name of {place}']", other.name if is_named_twice else f"{place} north")
    screen.press(f"[aria-label='Rename {place}']")


def _record_evidence(screen: Screen, *, is_same: bool) -> None:
    one, other = ProductFactory(), ProductFactory()
    screen.go(reverse("compatibility-page"))
    screen.choose("[name=product]", one.name)
    screen.choose("#id_neighbor", one.name if is_same else other.name)
    screen.type("[name=document]", "letter of May")
    screen.press("[value=record]")


def _judge(screen: Screen, *, source: str) -> None:
    screen.go(reverse("compatibility-page"))
    screen.type("[name=chemistry]", "butyl")
    screen.type("input[name=neighbor]", "silicone")
    screen.browser.execute_script("document.querySelector('[name=source]').removeAttribute('required')")
    screen.type("[name=source]", source)
    screen.press("[value=judge]")


def _begin(screen: Screen, *, is_taken: bool = False) -> None:
    job = JobFactory()
    start = "flange over, wrap after"
    if is_taken:
        DetailFactory(job=job, name=start)
    screen.go(reverse("details-page", args=[job.pk]))
    screen.choose("[name=begin]", start)
    screen.press("button[value=begin]")


def _answer_detail(screen: Screen, act: str, *, strip: str = "9") -> None:
    screen.go(reverse("edit-detail-page", args=[DetailFactory().pk]))
    screen.type("[name=strip_width_in]", strip)
    screen.press(f"button[value={act}]")


# Openings by hand


def _add_opening(screen: Screen, *, width: str) -> None:
    job = DetailFactory().job
    screen.go(reverse("new-opening-page", args=[job.pk]))
    screen.type("[name=mark]", "W3")
    screen.type("[name=count]", "3")
    screen.type("[name=ro_width_in]", width)
    screen.type("[name=ro_height_in]", "4' 6\"")
    screen.press("[value=add]")


def _on_edit(screen: Screen, act: str, *, is_refused: bool = False, **typed: str) -> None:
    (one,) = make_openings(1, is_void=act == "restore")
    if act == "void" and is_refused:
        openings.assign(opening_ids=[one.pk], crew_id=CrewFactory().pk, on=tomorrow(), by=None)
    screen.go(reverse("edit-opening-page", args=[one.pk]))
    if act == "restore" and is_refused:
        openings.restore_opening(opening_id=one.pk)
    for name, text in typed.items():
        screen.type(f"form:has([value={act}]) [name={name}]", text)
    screen.press(f"button[value={act}]")


# Labor rates


def _set_rate(screen: Screen, *, hours: str) -> None:
    screen.go(reverse("labor-rates-page"))
    screen.type("form:has([value=prepare]) [name=person_h]", hours)
    screen.type("form:has([value=prepare]) [name=source]", "our records, 40 openings")
    screen.press("form:has([value=prepare]) [value=set_rate]")


def _reset_rate(screen: Screen, *, name: str = "prepare") -> None:
    openings.set_rate(name="prepare", person_h=Decimal("0.3"), source="our records")
    screen.go(reverse("labor-rates-page"))
    screen.browser.execute_script(
        "document.querySelector('form [name=name][value=prepare]').value = arguments[0]", name
    )
    screen.press("[value=reset_rate]")


# The firm


def _press(
    screen: Screen, page: str, act: str, *, of: int | None = None, is_no_office: bool = False, **typed: object
) -> None:
    """Fill in the form of an act and press its button; meanwhile somebody may have become no office."""
    Person.objects.update(role=Person.Role.SCHEDULER)
    screen.go(reverse(page, args=[of] if of else []))
    for name, value in typed.items():
        field = f"#id_{name}"
        if isinstance(value, date):
            screen.day(field, value)
        elif screen.find(field).tag_name == "select":
            screen.choose(field, str(value))
        else:
            screen.type(field, str(value))
    if is_no_office:
        Person.objects.update(role=Person.Role.WAREHOUSE)
    screen.press(f"button[value={act}]")


def _on_company(screen: Screen, **values: bool) -> None:
    _press(screen, "company-page", "save", name="Weir Windows", us_state="Colorado", **values)


def _on_calendar(screen: Screen, act: str, **values: bool) -> None:
    on = tomorrow(1 + CompanyDay.objects.count())
    if act == "unset":
        CompanyDay.objects.create(on=on, name="inventory", shift_h=0, confirmed_by=PersonFactory())
        _press(screen, "calendar-page", act, **values)
    else:
        make_assigned(on=on)
        _press(screen, "calendar-page", act, on=on, name="inventory", **values)


def _on_job(screen: Screen, act: str, **values: bool) -> None:
    closed_at = timezone.now() if act in ("archive", "reopen") else None
    _press(screen, "job-edit-page", act, of=JobFactory(closed_at=closed_at).pk, **values)


def _add_job(screen: Screen, **values: bool) -> None:
    code = f"weir-{Job.objects.count()}"
    _press(screen, "job-new-page", "add", name="Weir Cottage", code=code, address="2 Weir Lane", **values)


def _add_crew(screen: Screen, **values: bool) -> None:
    name = f"Crew of {Crew.objects.count()}"
    _press(screen, "crew-new-page", "add", name=name, people_count=3, truck=f"Truck of {name}", **values)


def _on_crew(screen: Screen, act: str, **values: bool) -> None:
    crew = CrewFactory(people_count=20, retired_at=timezone.now() if act == "put_back" else None)
    if act == "work":
        crew.days.create(on=tomorrow(), capacity_person_h=0, off_reason="vacation")
    if act == "set_off":
        make_assigned(crew=crew)
        _press(screen, "crew-page", act, of=crew.pk, first=tomorrow(), off_reason="vacation", **values)
    else:
        _press(screen, "crew-page", act, of=crew.pk, **values)


def _enter_forecast(screen: Screen, **values: bool) -> None:
    job = JobFactory()
    _press(screen, "forecasts-page", "enter", job=str(job), on=tomorrow(), low_f=30, high_f=40, **values)


def _on_limits(screen: Screen, act: str, **values: bool) -> None:
    _press(screen, "weather-limits-page", act, **values)


# Window schedules


def _send(screen: Screen, text: str) -> None:
    file = Path(mkdtemp()) / "windows.csv"
    file.write_text(text)
    screen.go(reverse("schedule-page", args=[JobFactory().pk]))
    screen.find("[name=file]").send_keys(str(file))
    screen.press("[value=send]")


def _draft(job: Job | None = None, **values: object) -> ScheduleDraft:
    """Return a draft of a file that could be taken, long enough to be scrolled."""
    text = HEAD + "".join(f"W{number},1,36,54,{DETAIL}\n" for number in range(1, 40))
    job_id = (job or JobFactory()).pk
    draft = openings.send_schedule(job_id=job_id, filename="windows.csv", content=text.encode(), by=None)
    openings.read_draft(draft_id=draft.pk)
    ScheduleDraft.objects.filter(pk=draft.pk).update(**values)
    return draft


def _on_draft(screen: Screen, act: str, *, is_being_taken: bool = False, **values: object) -> None:
    draft = _draft(**values)
    screen.go(address_of(draft))
    if is_being_taken:
        ScheduleDraft.objects.filter(pk=draft.pk).update(state=ScheduleDraft.State.TAKING)
    screen.press(f"[value={act}]")


def _settle_layout(screen: Screen, *, mark: str = "mark") -> None:
    screen.go(address_of(_draft()))
    screen.choose("[name=meaning-A]", mark)
    screen.press("[value=settle]")


def _place(screen: Screen, letter: str) -> None:
    problem = {"detail": "No heading is known.", "code": "bad-schedule", "errors": []}
    screen.go(address_of(_draft(state=ScheduleDraft.State.REFUSED, problem=problem)))
    screen.type("#place-mark", letter)
    screen.press("[value=place]")


def _confirm(screen: Screen, *, tick: int) -> None:
    light = f"Mark,Unit width,Unit height,Glass thickness,Weight,Detail\nW1,72,60,1/4 + 1/4,90,{DETAIL}\n"
    draft = openings.send_schedule(job_id=JobFactory().pk, filename="windows.csv", content=light.encode(), by=None)
    openings.read_draft(draft_id=draft.pk)
    screen.go(address_of(draft))
    for box in screen.browser.find_elements(By.CSS_SELECTOR, "[name=weights]")[:tick]:
        box.click()
    screen.press("[value=confirm]")


def _take(screen: Screen, *, is_stale: bool = False) -> None:
    job = JobFactory()
    screen.go(address_of(_draft(job)))
    screen.press("[value=take]")
    if is_stale:
        make_openings(1, job=job, mark="W1", schedule_mark="W1")
        screen.sure()


STALE = {"detail": "The job has changed since these changes were checked.", "code": "conflict", "errors": []}
SETTLED = {"columns": {"A": {"meaning": "mark"}}}
# Notices, calendars and webhooks


def _choose_notices(screen: Screen, *, how: str = "") -> None:
    screen.go(reverse("notices-page"))
    if how:
        script = "document.querySelector('[name=stranded] option:checked').value = arguments[0]"
        screen.browser.execute_script(script, how)
    screen.press("button[value=choose]")


INTEGRATIONS = reverse("integrations-page")


def _make_link(screen: Screen, *, is_of_nobody: bool = False) -> None:
    crew = CrewFactory()
    screen.go(INTEGRATIONS)
    if not is_of_nobody:
        screen.choose("[name=crew]", crew.name)
    screen.type("[name=label]", "Ines")
    screen.press("[value=make_link]")


def _revoke_link(screen: Screen, *, is_revoked: bool = False) -> None:
    made = [jobs.make_calendar_link(crew=CrewFactory(), label="Ines", by=PersonFactory()) for _ in range(12)][6]
    screen.go(INTEGRATIONS)
    if is_revoked:
        jobs.revoke_calendar_link(link_id=made.link.pk)
    screen.press(f"[aria-label='Revoke the link to {made.link}']")


def _webhook() -> Webhook:
    """Return the second of several webhooks, with a call that waits."""
    made = [
        jobs.add_webhook(name=f"payroll {name}", address="https://hooks.example.test/", kinds=[], by=PersonFactory())
        for name in range(Webhook.objects.count(), Webhook.objects.count() + 4)
    ]
    event = jobs.tell_event(kind=EventKind.NO_SHEET, said="Blue has no pull sheet.")
    made[1].tries.create(event=event)
    return made[1]


def _add_webhook(screen: Screen, *, address: str) -> None:
    name = f"billing {_webhook().pk}"
    screen.go(INTEGRATIONS)
    screen.type("[name=name]", name)
    screen.type("[name=address]", address)
    screen.press("[value=add_webhook]")


def _draw_secret(screen: Screen, *, is_gone: bool = False) -> None:
    webhook = _webhook()
    screen.go(INTEGRATIONS)
    if is_gone:
        script = "document.querySelector(arguments[0]).value = '1000000'"
        screen.browser.execute_script(script, f"[name=webhook][value='{webhook.pk}']")
    screen.press(f"[aria-label='Another secret for {webhook}']")


def _stop_webhook(screen: Screen, *, is_stopped: bool = False) -> None:
    webhook = _webhook()
    screen.go(INTEGRATIONS)
    if is_stopped:
        jobs.stop_webhook(webhook_id=webhook.pk)
    screen.press(f"[aria-label='Stop calling {webhook}']")


def _resume_webhook(screen: Screen, *, is_resumed: bool = False) -> None:
    webhook = jobs.stop_webhook(webhook_id=_webhook().pk)
    screen.go(INTEGRATIONS)
    if is_resumed:
        jobs.resume_webhook(webhook_id=webhook.pk)
    screen.press(f"[aria-label='Call {webhook} again']")


UNDER_WAY = {"is_being_taken": True}


# People


def _ivo() -> Person:
    return Person.objects.filter(username="ivo").first() or PersonFactory(username="ivo")


def _fill(screen: Screen, username: str) -> None:
    screen.type("[name=first_name]", "Ann")
    screen.type("[name=username]", username or f"ann-{Person.objects.count()}")
    screen.choose("[name=role]", "Warehouse")


def _invite(screen: Screen, *, username: str) -> None:
    _ivo()
    screen.go(reverse("people-page"))
    _fill(screen, username)
    screen.press("[value=invite]")


def _enter_drive(screen: Screen, *, minutes: str) -> None:
    JobFactory()
    other = JobFactory()
    screen.go(reverse("drives-page"))
    screen.browser.execute_script(
        "document.querySelector(arguments[0]).removeAttribute('max')", f"[name=to_{other.pk}]"
    )
    screen.type(f"[name=to_{other.pk}]", minutes)
    screen.press("[value=enter]")


def on_person(screen: Screen, act: str, *, then: dict[str, object] | None = None, **values: object) -> None:
    """Press a button about somebody, who meanwhile is changed by `then`."""
    one = PersonFactory(first_name="Ann", **values)
    screen.go(reverse("person-page", args=[one.pk]))
    Person.objects.filter(pk=one.pk).update(**(then or {}))
    screen.press(f"[value={act}]")


def _change_person(screen: Screen, *, username: str) -> None:
    _ivo()
    screen.go(reverse("person-page", args=[PersonFactory().pk]))
    _fill(screen, username)
    screen.press("[value=change]")


def _end_link(screen: Screen, *, then: dict[str, object] | None = None) -> None:
    one = add_person(invited_by=None, username=f"ann-{Person.objects.count()}", first_name="Ann")
    screen.go(reverse("person-page", args=[one.pk]))
    Person.objects.filter(pk=one.pk).update(**(then or {}))
    screen.press("[value=take_back]")


MADE_OWNER = {"role": Person.Role.OWNER}


def _me() -> Person:
    """Return who is signed in: the newest."""
    return Person.objects.latest("pk")


def _set_password(screen: Screen, *, old: str) -> None:
    screen.go(reverse("account-page"))
    screen.type("[name=old_password]", old)
    screen.type("[name=new_password]", PASSWORD)
    screen.press("[value=set_password]")


def _sign_out(screen: Screen, *, password: str) -> None:
    screen.go(reverse("account-page"))
    screen.type("form:has([value=sign_out_everywhere]) [name=password]", password)
    screen.press("[value=sign_out_everywhere]")


def _make_token(screen: Screen, *, password: str) -> None:
    screen.go(reverse("account-page"))
    screen.type("[name=name]", "Gate board")
    screen.type("form:has([value=make_token]) [name=password]", password)
    screen.press("[value=make_token]")


def _revoke(screen: Screen, *, is_gone: bool = False) -> None:
    Token.objects.all().delete()
    make_token(person=_me(), name="Gate board")
    screen.go(reverse("account-page"))
    if is_gone:
        Token.objects.all().delete()
    screen.press("[value=revoke]")


def _unlock(screen: Screen, *, is_gone: bool = False) -> None:
    SignIn.objects.all().delete()
    make_sign_in()
    screen.go(reverse("sign-ins-page"))
    if is_gone:
        SignIn.objects.all().delete()
    screen.press("[value=unlock]")


OFFICE, STORES = Person.Role.SCHEDULER, Person.Role.WAREHOUSE

NO_OFFICE = "only the office scheduler"

CASES: dict[tuple[str, str], Case] = {
    ("company-page", "save"): Case(
        by=OFFICE,
        done=_on_company, said="Weir Windows is saved",
        refused=partial(_on_company, is_no_office=True), why=NO_OFFICE,
    ),
    ("calendar-page", "confirm"): Case(
        by=OFFICE,
        done=partial(_on_calendar, act="confirm"), said="is confirmed", asks="would be without a crew",
        refused=partial(_on_calendar, act="confirm", is_no_office=True), why=NO_OFFICE,
    ),
    ("calendar-page", "unset"): Case(
        by=OFFICE,
        done=partial(_on_calendar, act="unset"), said="is worked as usual",
        refused=partial(_on_calendar, act="unset", is_no_office=True), why=NO_OFFICE,
    ),
    ("job-new-page", "add"): Case(
        by=OFFICE,
        done=_add_job, said="is added",
        refused=partial(_add_job, is_no_office=True), why=NO_OFFICE,
    ),
    ("job-edit-page", "save"): Case(
        by=OFFICE,
        done=partial(_on_job, act="save"), said="is saved",
        refused=partial(_on_job, act="save", is_no_office=True), why=NO_OFFICE,
    ),
    ("job-edit-page", "close"): Case(
        by=OFFICE,
        done=partial(_on_job, act="close"), said="is closed",
        refused=partial(_on_job, act="close", is_no_office=True), why=NO_OFFICE,
    ),
    ("job-edit-page", "archive"): Case(
        by=OFFICE,
        done=partial(_on_job, act="archive"), said="is archived",
        refused=partial(_on_job, act="archive", is_no_office=True), why=NO_OFFICE,
    ),
    ("job-edit-page", "reopen"): Case(
        by=OFFICE,
        done=partial(_on_job, act="reopen"), said="is open again",
        refused=partial(_on_job, act="reopen", is_no_office=True), why=NO_OFFICE,
    ),
    ("crew-new-page", "add"): Case(
        by=OFFICE,
        done=_add_crew, said="is added",
        refused=partial(_add_crew, is_no_office=True), why=NO_OFFICE,
    ),
    ("import-page", "look"): Case(
        by=OFFICE,
        done=partial(_look_at_crews, people="3"), said="crews.csv is checked",
        refused=partial(_look_at_crews, people=f"3\n{'x,' * 300}"), why="a list has at most",
    ),
    ("import-page", "take"): Case(
        by=OFFICE,
        done=_take_crews, said="1 crew added",
        refused=partial(_take_crews, lines="[1]"), why="upload its file again",
    ),
    ("crew-page", "save"): Case(
        by=OFFICE,
        done=partial(_on_crew, act="save"), said="is saved",
        refused=partial(_on_crew, act="save", is_no_office=True), why=NO_OFFICE,
    ),
    ("crew-page", "set_off"): Case(
        by=OFFICE,
        done=partial(_on_crew, act="set_off"), said="is off on", asks="without a crew",
        refused=partial(_on_crew, act="set_off", is_no_office=True), why=NO_OFFICE,
    ),
    ("crew-page", "work"): Case(
        by=OFFICE,
        done=partial(_on_crew, act="work"), said="works on",
        refused=partial(_on_crew, act="work", is_no_office=True), why=NO_OFFICE,
    ),
    ("crew-page", "retire"): Case(
        by=OFFICE,
        done=partial(_on_crew, act="retire"), said="is retired",
        refused=partial(_on_crew, act="retire", is_no_office=True), why=NO_OFFICE,
    ),
    ("crew-page", "put_back"): Case(
        by=OFFICE,
        done=partial(_on_crew, act="put_back"), said="is in service again",
        refused=partial(_on_crew, act="put_back", is_no_office=True), why=NO_OFFICE,
    ),
    ("forecasts-page", "enter"): Case(
        by=OFFICE,
        done=_enter_forecast, said="is saved",
        refused=partial(_enter_forecast, is_no_office=True), why=NO_OFFICE,
    ),
    ("weather-limits-page", "set_limits"): Case(
        by=OFFICE,
        done=partial(_on_limits, act="set_limits"), said="The limits are saved",
        refused=partial(_on_limits, act="set_limits", is_no_office=True), why=NO_OFFICE,
    ),
    ("weather-limits-page", "reset"): Case(
        by=OFFICE,
        done=partial(_on_limits, act="reset"), said="that the service starts with",
        refused=partial(_on_limits, act="reset", is_no_office=True), why=NO_OFFICE,
    ),
    ("account-page", "set_password"): Case(
        by=STORES,
        done=partial(_set_password, old=PASSWORD), said="Your password is changed",
        refused=partial(_set_password, old="wrong"), why="this is not your password",
    ),
    ("account-page", "sign_out_everywhere"): Case(
        by=STORES,
        done=partial(_sign_out, password=PASSWORD), said="You are signed out everywhere but here",
        refused=partial(_sign_out, password="wrong"), why="this is not your password",
    ),
    ("account-page", "make_token"): Case(
        by=STORES,
        done=partial(_make_token, password=PASSWORD), said="The token for Gate board is",
        refused=partial(_make_token, password="wrong"), why="this is not your password",
    ),
    ("account-page", "revoke"): Case(
        by=STORES,
        done=_revoke, said="The token for Gate board has ended", asks="Revoke the token for Gate board",
        refused=partial(_revoke, is_gone=True), why="you have no such token",
    ),
    ("sign-ins-page", "unlock"): Case(
        by=Person.Role.OWNER,
        done=_unlock, said="can try to sign in again at once",
        refused=partial(_unlock, is_gone=True), why="there is no such sign-in",
    ),
    ("drives-page", "enter"): Case(
        by=OFFICE,
        done=partial(_enter_drive, minutes="35"), said="1 drive changed",
        refused=partial(_enter_drive, minutes="601"), why="this must be 600 or less",
    ),
    ("people-page", "invite"): Case(
        by=OFFICE,
        done=partial(_invite, username=""), said="Ann is invited",
        refused=partial(_invite, username="Ivo"), why="somebody signs in as Ivo already",
    ),
    ("person-page", "change"): Case(
        by=OFFICE,
        done=partial(_change_person, username=""), said="Ann is saved",
        refused=partial(_change_person, username="Ivo"), why="somebody signs in as Ivo already",
    ),
    ("person-page", "send_link"): Case(
        by=OFFICE,
        done=partial(on_person, act="send_link"), said="There is a new link",
        refused=partial(on_person, act="send_link", then=MADE_OWNER), why="only an owner",
    ),
    ("person-page", "take_back"): Case(
        by=OFFICE,
        done=_end_link, said="The link can be used no more",
        refused=partial(_end_link, then=MADE_OWNER), why="only an owner",
    ),
    ("person-page", "deactivate"): Case(
        by=OFFICE,
        done=partial(on_person, act="deactivate"), said="is deactivated", asks="is signed out everywhere at once",
        refused=partial(on_person, act="deactivate", then=MADE_OWNER), why="only an owner",
    ),
    ("person-page", "reactivate"): Case(
        by=OFFICE,
        done=partial(on_person, act="reactivate", is_active=False), said="can sign in again",
        refused=partial(on_person, act="reactivate", is_active=False, then=MADE_OWNER), why="only an owner",
    ),
    ("crew-board-page", "assign"): Case(
        by=OFFICE,
        done=partial(_assign, tick=2), said="2 assigned to",
        refused=partial(_assign, tick=0), why="select at least one opening",
    ),
    ("crew-board-page", "withdraw"): Case(
        by=OFFICE,
        done=_withdraw, said="is unassigned", asks="It loses its place on that day",
        refused=partial(_withdraw, is_started=True), why="cannot go back to ready",
    ),
    ("crew-board-page", "mend"): Case(
        by=OFFICE,
        done=_mend, said="1 moved to",
        refused=partial(_mend, is_moved_on=True), why="that is offered no more",
    ),
    ("crew-board-page", "undo"): Case(
        by=OFFICE,
        done=_undo, said="everything is back where it was",
        refused=partial(_undo, is_moved_on=True), why="was assigned, moved or unassigned again since",
    ),
    ("crew-board-page", "next_room"): Case(
        by=OFFICE,
        done=partial(_next_room, tick=2), said="2 assigned to", asks="Assign 2 openings to",
        refused=partial(_next_room, tick=0), why="select at least one opening",
    ),
    ("crew-board-page", "move"): Case(
        by=OFFICE,
        done=partial(_move, tick=2), said="2 moved to",
        refused=partial(_move, tick=0), why="select at least one assigned opening",
    ),
    ("crew-board-page", "set_day"): Case(
        by=OFFICE,
        done=partial(_set_day, hours=""), said="is off: first aid course", asks="without a crew that day",
        refused=partial(_set_day, hours="8"), why="a day off has no labor hours",
    ),
    ("crew-board-page", "hold"): Case(
        by=OFFICE,
        done=_hold_on_board, said="is on hold: weather",
        refused=partial(_hold_on_board, is_held=True), why="already",
    ),
    ("crew-board-page", "release"): Case(
        by=OFFICE,
        done=_release_on_board, said="hold released (weather)",
        refused=partial(_release_on_board, is_released=True), why="was already released",
    ),
    ("units-page", "order"): Case(
        by=OFFICE,
        done=partial(_order_units, tick=2), said="2 units ordered",
        refused=partial(_order_units, tick=0), why="select at least one opening",
    ),
    ("units-page", "reorder"): Case(
        by=OFFICE,
        done=partial(_reorder_units, condition="damaged"), said="2 units ordered again",
        refused=partial(_reorder_units, condition="whole"), why="is there and whole",
    ),
    ("units-page", "bring"): Case(
        by=STORES,
        done=partial(_bring_units, supplier="Sash works"), said="2 units on the delivery Sash works",
        refused=partial(_bring_units, supplier=""), why="Supplier",
    ),
    ("units-page", "receive"): Case(
        by=STORES,
        done=partial(_receive_units, condition="whole"), said="2 units received whole",
        refused=partial(_receive_units, condition="damaged"), why="write what is damaged or wrong",
    ),
    ("deliveries-page", "expect"): Case(
        by=OFFICE,
        done=partial(_expect_delivery, on=tomorrow(5)), said="Sash works is expected",
        refused=partial(_expect_delivery, on=tomorrow(4000)), why="is too far ahead",
    ),
    ("deliveries-page", "receive_delivery"): Case(
        by=STORES,
        done=partial(_receive_delivery, condition="did not come"), said="Sash works is received: 1 unit whole",
        refused=partial(_receive_delivery, condition="damaged"), why="write what is damaged or wrong",
    ),
    ("readiness-page", "hold"): Case(
        by=OFFICE,
        done=partial(_hold_many, tick=2), said="2 openings on hold: access",
        refused=partial(_hold_many, tick=0), why="select openings from the list",
    ),
    ("readiness-page", "release"): Case(
        by=OFFICE,
        done=partial(_release_many, is_held=True), said="2 holds released: weather",
        refused=partial(_release_many, is_held=False), why="select at least one hold",
    ),
    ("readiness-page", "set_rules"): Case(
        by=OFFICE,
        done=partial(_set_rules, floors="1"), said="The rules are saved",
        refused=partial(_set_rules, floors="1\n1"), why="more than once",
    ),
    ("readiness-page", "add_trade"): Case(
        by=OFFICE,
        done=_add_trade, said="Openings wait for: WRB",
        refused=partial(_add_trade, is_there=True), why="is entered already",
    ),
    ("readiness-page", "settle_trade"): Case(
        by=OFFICE,
        done=partial(_settle_trade, on=tomorrow(-1)), said="WRB is done",
        refused=partial(_settle_trade, on=tomorrow(5)), why="has not come yet",
    ),
    ("notices-page", "choose"): Case(
        by=STORES,
        done=_choose_notices, said="Your choice is kept",
        refused=partial(_choose_notices, how="sometimes"), why="Openings are stranded",
    ),
    ("integrations-page", "make_link"): Case(
        by=OFFICE,
        done=_make_link, said="it is shown this once: http",
        refused=partial(_make_link, is_of_nobody=True), why="Choose one crew or one job",
    ),
    ("integrations-page", "revoke_link"): Case(
        by=OFFICE,
        done=_revoke_link, said="is revoked", asks="does not come back",
        refused=partial(_revoke_link, is_revoked=True), why="revoked already",
    ),
    ("integrations-page", "add_webhook"): Case(
        by=OFFICE,
        done=partial(_add_webhook, address="https://hooks.example.test/"), said="it is shown this once",
        refused=partial(_add_webhook, address="https://127.0.0.1/"), why="private network",
    ),
    ("integrations-page", "draw_secret"): Case(
        by=OFFICE,
        done=_draw_secret, said="it is shown this once", asks="is signed with it",
        refused=partial(_draw_secret, is_gone=True), why="there is no webhook",
    ),
    ("integrations-page", "stop_webhook"): Case(
        by=OFFICE,
        done=_stop_webhook, said="is called no more", asks="will never be made",
        refused=partial(_stop_webhook, is_stopped=True), why="is stopped already",
    ),
    ("integrations-page", "resume_webhook"): Case(
        by=OFFICE,
        done=_resume_webhook, said="is called again",
        refused=partial(_resume_webhook, is_resumed=True), why="is not stopped",
    ),
    ("detail-page", "reorder"): Case(
        by=OFFICE,
        done=partial(_reorder, first="sill-strip"), said="in an order of its own",
        refused=partial(_reorder, first="head-strip"), why="laid before the jamb strips",
    ),
    ("detail-page", "accept_leak"): Case(
        by=OFFICE,
        done=_accept_leak, said="is accepted as it is",
        refused=partial(_accept_leak, is_fixed=True), why="nothing to accept",
    ),
    ("details-page", "begin"): Case(
        by=OFFICE,
        done=_begin, said="change what differs in this job",
        refused=partial(_begin, is_taken=True), why="there is one already",
    ),
    ("edit-detail-page", "revise"): Case(
        by=OFFICE,
        done=partial(_answer_detail, act="revise"), said="is saved",
        refused=partial(_answer_detail, act="revise", strip="wide"), why="“wide” is not a length",
    ),
    ("edit-detail-page", "preview"): Case(
        by=OFFICE,
        done=partial(_answer_detail, act="preview"), said="Nothing is saved yet",
        refused=partial(_answer_detail, act="preview", strip="6"), why="strip",
    ),
    ("new-opening-page", "add"): Case(
        by=OFFICE,
        done=partial(_add_opening, width="3'"), said="3 openings added: W3-01 to W3-03",
        refused=partial(_add_opening, width="wide"), why="“wide” is not a length",
    ),
    ("edit-opening-page", "revise"): Case(
        by=OFFICE,
        done=partial(_on_edit, act="revise", floor="Level 2"), said="is saved",
        refused=partial(_on_edit, act="revise", ro_width_in="wide"), why="“wide” is not a length",
    ),
    ("edit-opening-page", "copy"): Case(
        by=OFFICE,
        done=partial(_on_edit, act="copy", count="2"), said="2 openings added",
        refused=partial(_on_edit, act="copy", first_mark="W" * 50, count="2"), why="at most 50",
    ),
    ("edit-opening-page", "void"): Case(
        by=OFFICE,
        done=partial(_on_edit, act="void", why="a door instead"), said="is void", asks="no later window schedule",
        refused=partial(_on_edit, act="void", is_refused=True), why="unassign it first",
    ),
    ("edit-opening-page", "restore"): Case(
        by=OFFICE,
        done=partial(_on_edit, act="restore"), said="is restored",
        refused=partial(_on_edit, act="restore", is_refused=True), why="is not void",
    ),
    ("labor-rates-page", "set_rate"): Case(
        by=OFFICE,
        done=partial(_set_rate, hours="0.3"), said="Saved: ",
        refused=partial(_set_rate, hours="0"), why="or more",
    ),
    ("labor-rates-page", "reset_rate"): Case(
        by=OFFICE,
        done=_reset_rate, said="is back to what the service began with",
        refused=partial(_reset_rate, name="none"), why="is not one of the choices",
    ),
    ("opening-page", "start"): Case(
        by=OFFICE,
        done=_start, said="is started", asks="Start it today",
        refused=partial(_start, is_held=True), why="is on hold: weather",
    ),
    ("opening-page", "step"): Case(
        by=OFFICE,
        done=_step, said="Recorded: Cut the WRB",
        refused=partial(_step, is_held=True), why="is on hold: weather",
    ),
    ("opening-page", "hours"): Case(
        by=OFFICE,
        done=hours, said="Ines: 2.25 labor hours",
        refused=partial(hours, is_recorded=True), why="are recorded already, Ines: ",
    ),
    ("opening-page", "finish"): Case(
        by=OFFICE,
        done=partial(_finish, is_laid=True), said="is complete", asks="with 2.5 labor hours in all?",
        refused=partial(_finish, is_laid=False), why="is not recorded yet",
    ),
    ("opening-page", "measure"): Case(
        by=OFFICE,
        done=partial(_measure, width="36"), said="within tolerance",
        refused=partial(_measure, width="wide"), why="“wide” is not a length",
    ),
    ("opening-page", "accept"): Case(
        by=OFFICE,
        done=_accept, said="as built (drawn 3' 0\" × 4' 6\")",
        refused=partial(_accept, is_measured_again=True), why="was measured again",
    ),
    ("opening-page", "hold"): Case(
        by=OFFICE,
        done=_hold_opening, said="On hold: weather",
        refused=partial(_hold_opening, is_held=True), why="already",
    ),
    ("opening-page", "release"): Case(
        by=OFFICE,
        done=_release_opening, said="Hold released: weather",
        refused=partial(_release_opening, is_released=True), why="was already released",
    ),
    ("staging-page", "load"): Case(
        by=STORES,
        done=partial(load, packages="1"), said="1 line saved",
        refused=partial(load, packages="999"), why="cannot leave it",
    ),
    ("staging-page", "ask"): Case(
        by=STORES,
        done=_ask, said="is up to date",
        refused=partial(_ask, is_withdrawn=True), why="nothing that can be set is assigned",
    ),
    ("remnants-page", "settle"): Case(
        by=STORES,
        done=partial(settle, length="20' 6\""), said="1 roll settled",
        refused=partial(settle, length="a lot"), why="is not a length",
    ),
    ("remnants-page", "enter"): Case(
        by=STORES,
        done=partial(enter, length="8'"), said="Mark it",
        refused=partial(enter, length="80'"), why="a remnant cannot be longer",
    ),
    ("remnants-page", "scrap"): Case(
        by=STORES,
        done=_scrap, said="is scrapped", asks="will not have it",
        refused=partial(_scrap, is_cut_up=True), why="is already cut up",
    ),
    ("new-product-page", "add_product"): Case(
        by=STORES,
        done=partial(_add_product, holds="75 ft"), said="Strip, 9 in is added",
        refused=partial(_add_product, holds="a roll"), why="is not a length",
    ),
    ("product-page", "save"): Case(
        by=STORES,
        done=partial(_save_product, holds="50"), said="is saved",
        refused=partial(_save_product, holds="a box"), why="is no count of pieces",
    ),
    ("product-page", "retire"): Case(
        by=STORES,
        done=partial(_retire, is_chosen=False), said="is retired", asks="though there is stock of it?",
        refused=partial(_retire, is_chosen=True), why="still serves: shim",
    ),
    ("product-page", "reinstate"): Case(
        by=STORES,
        done=partial(_reinstate, holds=""), said="is back in service",
        refused=partial(_reinstate, holds="something"), why="this page knows only",
    ),
    ("starting-products-page", "start"): Case(
        by=STORES,
        done=partial(_start_catalogue, tick=True), said="1 product added",
        refused=partial(_start_catalogue, tick=False), why="select at least one product",
    ),
    ("product-list-page", "look"): Case(
        by=STORES,
        done=partial(_look, holds="84"), said="products.csv is checked",
        refused=partial(_look, holds=f"84\n{'x,' * 300}"), why="a list has at most",
    ),
    ("product-list-page", "take"): Case(
        by=STORES,
        done=_take_list, said="1 product added",
        refused=partial(_take_list, lines="[1]"), why="upload its file again",
    ),
    ("standards-page", "choose"): Case(
        by=OFFICE,
        done=partial(_choose_standard, is_refused=False), said="sill strip:",
        refused=partial(_choose_standard, is_refused=True), why="cannot serve sill strip",
    ),
    ("standards-page", "drop"): Case(
        by=OFFICE,
        done=partial(_drop, is_relied_on=False), said="is no longer a standard",
        refused=partial(_drop, is_relied_on=True), why="would no longer serve",
    ),
    ("detail-products-page", "choose_own"): Case(
        by=OFFICE,
        done=partial(_choose_own, is_refused=False), said="sill strip:",
        refused=partial(_choose_own, is_refused=True), why="cannot serve sill strip",
    ),
    ("detail-products-page", "use_standard"): Case(
        by=OFFICE,
        done=partial(_use_standard, has_standard=True), said="takes the standard again",
        refused=partial(_use_standard, has_standard=False), why="would no longer serve",
    ),
    ("stock-page", "count"): Case(
        by=STORES,
        done=partial(_count, packages="12"), said="1 product changed",
        refused=partial(_count, packages=""), why="at least one product",
    ),
    ("places-page", "add_place"): Case(
        by=STORES,
        done=partial(_add_place, is_named_twice=False), said="is added",
        refused=partial(_add_place, is_named_twice=True), why="already",
    ),
    ("places-page", "rename"): Case(
        by=STORES,
        done=partial(_rename, is_named_twice=False), said="is saved",
        refused=partial(_rename, is_named_twice=True), why="already",
    ),
    ("compatibility-page", "record"): Case(
        by=STORES,
        done=partial(_record_evidence, is_same=False), said="compatible",
        refused=partial(_record_evidence, is_same=True), why="no evidence against itself",
    ),
    ("compatibility-page", "judge"): Case(
        by=STORES,
        done=partial(_judge, source="a letter"), said="butyl and silicone",
        refused=partial(_judge, source=" "), why="",
    ),
    ("schedule-page", "send"): Case(
        by=OFFICE,
        done=partial(_send, text=f"{HEAD}W3,2,36,54,{DETAIL}\n"), said="windows.csv is checked",
        refused=partial(_send, text=""), why="empty",
    ),
    ("schedule-draft-page", "settle"): Case(
        by=OFFICE,
        done=_settle_layout, said="windows.csv is checked",
        refused=partial(_settle_layout, mark="not read"), why="Say which column is the mark",
    ),
    ("schedule-draft-page", "place"): Case(
        by=OFFICE,
        done=partial(_place, letter="A"), said="windows.csv is checked",
        refused=partial(_place, letter="1"), why="give the letter of a column",
    ),
    ("schedule-draft-page", "confirm"): Case(
        by=OFFICE,
        done=partial(_confirm, tick=1), said="windows.csv is checked",
        refused=partial(_confirm, tick=0), why="select the weights",
    ),
    ("schedule-draft-page", "again"): Case(
        by=OFFICE,
        done=partial(_on_draft, act="again", problem=STALE), said="windows.csv is checked",
        refused=partial(_on_draft, act="again", problem=STALE, **UNDER_WAY), why="is already being applied",
    ),
    ("schedule-draft-page", "anew"): Case(
        by=OFFICE,
        done=partial(_on_draft, act="anew", mapping=SETTLED), said="windows.csv is checked",
        asks="has to be answered again",
        refused=partial(_on_draft, act="anew", mapping=SETTLED, **UNDER_WAY), why="is already being applied",
    ),
    ("schedule-draft-page", "take"): Case(
        by=OFFICE,
        done=_take, said="is applied as revision 1", asks="39 added?",
        refused=partial(_take, is_stale=True), why="has changed since",
    ),
    ("schedule-draft-page", "discard"): Case(
        by=OFFICE,
        done=partial(_on_draft, act="discard"), said="is discarded", asks="Discard windows.csv?",
        refused=partial(_on_draft, act="discard", **UNDER_WAY), why="is already being applied",
    ),
}  # fmt: skip
