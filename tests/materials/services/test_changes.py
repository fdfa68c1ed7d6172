"""When an issued sheet gets a new revision, and when it stands."""

from __future__ import annotations

from dataclasses import field, make_dataclass

import pytest

from jobs.models import Job
from materials import services
from materials.calc import caution, pull
from materials.calc.basis import VERSION
from materials.models import PullSheet
from materials.plans import compose
from materials.queries import cautions as looked_up
from openings.models import Assignment, Opening
from tests.factories import JobFactory, make_catalogue
from tests.materials.crew_days import make_crew_day, request, written

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("module", "name"),
    [
        (compose, "OpeningRow"),
        (compose, "JobStop"),
        (compose, "PullSheetBook"),
        (pull, "Pull"),
        (caution, "Caution"),
        (looked_up, "DayOfWork"),
    ],
)
def test_a_release_that_knows_more_of_a_sheet_revises_nothing(monkeypatch, module, name):
    make_catalogue()
    crew_day = make_crew_day(job=JobFactory(built_year=1950))
    issued = written(crew_day)
    row = getattr(module, name)
    monkeypatch.setattr(
        module,
        name,
        make_dataclass(name, [("crane", str, field(default="none"))], bases=(row,), frozen=True, kw_only=True),
    )
    assert request(crew_day) == issued
    Opening.objects.update(floor="3")
    assert written(crew_day).changes == [f"{Opening.objects.get().mark}: floor 3, was none"]


def test_a_caution_in_other_words_revises_nothing(monkeypatch):
    crew_day = make_crew_day(job=JobFactory(built_year=1950))
    issued = written(crew_day)
    worded = caution.Caution.text.fget
    monkeypatch.setattr(caution.Caution, "text", property(lambda one: f"Mind this: {worded(one)}"))
    assert request(crew_day) == issued


def test_a_sheet_from_before_figures_were_kept_is_compared_by_what_it_lists_and_keeps_them_then():
    make_catalogue()
    crew_day = make_crew_day(openings=2)
    issued = written(crew_day)
    PullSheet.objects.update(basis=None)
    Opening.objects.update(floor="3")  # not in its lines
    assert request(crew_day) == issued
    assert PullSheet.objects.get().basis["version"] == VERSION
    Opening.objects.update(floor="4")
    assert {change.partition(": ")[2] for change in written(crew_day).changes} == {"floor 4, was 3"}


def test_a_sheet_from_before_figures_were_kept_is_revised_for_what_its_lines_say():
    make_catalogue()
    crew_day = make_crew_day()
    written(crew_day)
    PullSheet.objects.update(basis=None)
    Opening.objects.update(ro_width_in=48)
    assert "sill-strip: 5' 6\" needed, was 4' 6\"" in written(crew_day).changes


def test_a_new_version_of_the_list_is_taken_over_quietly():
    crew_day = make_crew_day()
    issued = written(crew_day)
    older = issued.basis
    older["version"] = VERSION - 1
    for opening in older["topics"]["openings"].values():
        del opening["floor"]
    PullSheet.objects.update(basis=older)
    assert request(crew_day) == issued
    (opening,) = PullSheet.objects.get().basis["topics"]["openings"].values()
    assert opening["floor"] == ""


def test_a_revision_whose_reason_is_taken_back_before_it_is_written_is_dropped():
    crew_day = make_crew_day()
    issued = written(crew_day)
    Opening.objects.update(floor="3")
    asked = request(crew_day)
    Opening.objects.update(floor="")
    services.write_pull_sheet(sheet_id=asked.pk)
    assert PullSheet.objects.get() == issued
    assert request(crew_day) == issued


def test_hours_and_address_are_named():
    crew_day = make_crew_day(mark="W7")
    written(crew_day)
    Assignment.objects.update(person_h=5)
    Job.objects.update(address="6 Weir Lane")
    assert written(crew_day).changes == [
        "W7: planned work 5 labor hours, was 3 labor hours",
        "address of Weir Cottage: 6 Weir Lane, was 2 Weir Lane",
    ]
