"""What the pull sheets, the explanations and the refusals say, an installer would say."""

from __future__ import annotations

import io
from collections.abc import Iterator

import openpyxl
import pytest
from django.db import transaction

from config import demo_content
from jobs.models import Crew, Person
from jobs.queries import today_on_sites
from materials import services
from materials.explain import explanation
from materials.models import Product, PullSheet
from materials.queries import everything_computed
from openings.calc.lay_order import StepCode
from openings.calc.units import BY_NAME
from openings.models import Assignment, Opening
from tests.openings.api.clients import API, signed_in
from tests.plain_words import faults


@pytest.fixture(scope="module")
def demo(django_db_setup: None, django_db_blocker: pytest.FixtureRequest) -> Iterator[None]:
    """The demo's jobs, loaded once."""
    with django_db_blocker.unblock(), transaction.atomic():
        demo_content.load(report=lambda _sentence: None)
        yield
        transaction.set_rollback(True)


def require_plain(texts: dict[str, str], *, codes: list[str]) -> None:
    found = {f"{place}: {fault}": None for place, text in texts.items() for fault in faults(text, codes=codes)}
    assert not found, "\n".join(found)


STEP_CODES = [code for code in StepCode if "-" in code and code is not StepCode.COUNTER_FLASHING]
"""Those that no person says: a pan, a shim and a counter-flashing strip are called so."""


def codes_of_steps_and_products() -> list[str]:
    return [*STEP_CODES, *Product.objects.values_list("code", flat=True)]


def test_a_workbook_says_nothing_that_no_installer_says(demo):
    for crew in Crew.objects.all():
        given = Assignment.objects.filter(crew_day__crew=crew, crew_day__on__gt=today_on_sites())
        on = given.order_by("crew_day__on").values_list("crew_day__on", flat=True).first()
        services.write_pull_sheet(sheet_id=services.request_pull_sheet(crew_id=crew.pk, on=on, by=None).pk)
    cells = {}
    for sheet in PullSheet.objects.all():
        for table in openpyxl.load_workbook(io.BytesIO(sheet.workbook)):
            # The shelf is searched by the code of a product, which stands beside its name.
            coded = {cell.column for row in table.iter_rows(max_row=2) for cell in row if cell.value == "Code"}
            cells |= {
                f"{table.title} {cell.coordinate}": cell.value
                for row in table.iter_rows()
                for cell in row
                if isinstance(cell.value, str) and cell.column not in coded
            }
    assert cells
    require_plain(cells, codes=codes_of_steps_and_products())


@pytest.mark.parametrize("units", BY_NAME.values(), ids=BY_NAME)
def test_an_explanation_says_nothing_that_no_installer_says(demo, units):
    marks: dict[tuple[int, str], int] = {}
    for pk, job, mark in Opening.objects.order_by("pk").values_list("pk", "job", "schedule_mark"):
        marks.setdefault((job, mark), pk)
    said = {str(mark): explanation(everything_computed(pk, units=units)) for mark, pk in marks.items()}
    assert said
    require_plain(said, codes=codes_of_steps_and_products())


SIDES = {"ro_width_in": 36.5, "ro_height_in": 54.5, "unit_width_in": 36, "unit_height_in": 54}
REFUSED = {
    "nothing": ("openings", {}),
    "a word for a length": ("openings", SIDES | {"ro_width_in": "wide"}),
    "a unit larger than its opening": ("compute/labor", {"opening": SIDES | {"unit_width_in": 40}, "detail": {}}),
    "nobody": ("assignments", {"openings": [0], "crew": 0, "on": "2027-02-29"}),
    "a date far ahead": ("crew-days", {"crew": 0, "on": "9999-12-31"}),
    "a crew of none": ("crews", {"name": "", "truck": None, "people_count": 0, "shift_h": 25, "weekdays": "890"}),
    "a job nowhere": ("jobs", {"code": "a b", "name": "A", "address": "1", "cutoff": "25:00"}),
    "a heavy lift": ("compute/lift", {"load_lb": -1}),
    "a piece too long": ("compute/cuts", {"roll_lengths_in": [300], "pieces": [{"length_in": 300.5}]}),
    "a list of nothing": ("compute/cuts", {"roll_lengths_in": "long", "pieces": []}),
    "a strip too narrow": (
        "compute/draw",
        {"opening": SIDES, "detail": {"starting_point": "flange over, wrap after", "strip_width_in": 6}},
    ),
    "a pan that does not drain": (
        "compute/draw",
        {"opening": SIDES, "detail": {"starting_point": "flange over, wrap after", "sill_bead": "full"}},
    ),
    "no product": ("products", {"code": "x", "name": "X", "measure": "in", "package_quantity": -1, "trim_in": -1}),
}


@pytest.mark.django_db
@pytest.mark.parametrize(("noun", "body"), REFUSED.values(), ids=REFUSED)
def test_a_refusal_says_nothing_that_no_installer_says(noun, body):
    office = signed_in(Person.objects.create(username="office", role=Person.Role.SCHEDULER, is_superuser=True))
    answer = office.post(f"{API}/{noun}/", body, format="json")
    problem = answer.json()
    assert answer.status_code in (400, 409), problem
    said = {"detail": problem["detail"]} | {fault["field"]: fault["detail"] for fault in problem["errors"]}
    require_plain(said, codes=STEP_CODES)
