"""The house keeps its shape: what may know what, what stands at the top, what constraints are called."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.apps import apps
from django.conf import settings
from django.db.models import Model

ROOT = Path(settings.BASE_DIR)
FLOORS = ("jobs", "openings", "materials", "config")
TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "manage.py", "pyproject.toml", "docker-compose.yml",
    "config", "jobs", "openings", "materials", "tests", "fixtures",
}  # fmt: skip
MODELS = [model for floor in FLOORS for model in apps.get_app_config(floor).get_models()]


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_foreign_keys_run_downwards(model: type[Model]):
    floor = FLOORS.index(model._meta.app_label)
    for field in model._meta.get_fields(include_hidden=True):
        if field.is_relation and field.concrete and field.related_model._meta.app_label in FLOORS:
            assert FLOORS.index(field.related_model._meta.app_label) <= floor, field


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_a_lower_floor_does_not_reach_up_by_a_reverse_name(model: type[Model]):
    floor = FLOORS.index(model._meta.app_label)
    for field in model._meta.get_fields():
        if field.is_relation and field.auto_created and field.related_model._meta.app_label in FLOORS:
            assert FLOORS.index(field.related_model._meta.app_label) <= floor, field.get_accessor_name()


def test_every_model_stands_on_a_floor():
    ours = {app.label for app in apps.get_app_configs() if Path(app.path).parent == ROOT}
    assert ours == set(FLOORS)


def test_the_import_contracts_hold():
    checked = subprocess.run(
        [Path(sys.executable).with_name("lint-imports"), "--no-cache"], cwd=ROOT, capture_output=True, text=True
    )
    assert checked.returncode == 0, checked.stdout
    assert "0 broken" in checked.stdout


def test_the_top_level_is_the_card():
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True)
    if listed.returncode:
        pytest.skip("this is no checkout of git")
    top = {path.split("/")[0] for path in listed.stdout.splitlines()}
    assert {name for name in top if not name.startswith(".")} == TOP_LEVEL


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_a_constraint_is_named_as_a_sentence(model: type[Model]):
    for constraint in model._meta.constraints:
        assert len(constraint.name.split("_")) >= 3, constraint.name


def test_what_is_live_open_done_or_newest_is_spelled_in_the_models_alone():
    """Everybody else asks the querysets; the bench's reference for the board says the rule for itself, as a referee."""
    spelling = re.compile(
        r"\b(withdrawn|released|done)_at(__isnull\b| IS (NOT )?NULL)|revision__gt=OuterRef|state=State\.READY"
        r"|(filter|exclude)\([^()]*\bstate=PullSheet\.State\.WRITTEN"
    )
    rooms = [path for floor in FLOORS for path in (ROOT / floor).rglob("*.py")]
    for path in rooms:
        if not {"migrations", "models"}.intersection(path.parts) and path != ROOT / "config/bench/board.py":
            assert not spelling.search(path.read_text()), path


def test_every_verb_goes_through_the_transaction_that_is_done_once_more():
    services = [path for floor in FLOORS[:3] for path in (ROOT / floor).rglob("services*/**/*.py")]
    services += [path for floor in FLOORS[:3] for path in (ROOT / floor).glob("services.py")]
    assert len(services) > 20
    for path in services:
        assert not re.search(r"from django\.db import .*\btransaction\b", path.read_text()), path


def test_the_diagram_has_every_model_and_every_foreign_key():
    diagram = re.search(r"```mermaid\nerDiagram\n(.*?)```", (ROOT / "DEVELOPERS.md").read_text(), re.DOTALL)[1]
    drawn = [line.split() for line in diagram.splitlines() if "%%" not in line]
    names = {word for line in drawn for word in line if word[:1].isupper()}
    arrows = {tuple(re.findall(r"[^\s:\"]+", line)) for line in diagram.splitlines() if "--" in line}
    keys = {(first, mark, other, name.rstrip(",")) for first, mark, other, *fields in arrows for name in fields}
    assert names == {model.__name__ for model in MODELS}
    assert keys == {key for model in MODELS for key in _keys_of(model)}


def _keys_of(model: type[Model]) -> Iterator[tuple[str, str, str, str]]:
    """Yield the relations of a model to models of ours: it, how many of each, the other, and the field."""
    for field in model._meta.get_fields():
        if field.is_relation and field.concrete and field.related_model._meta.app_label in FLOORS:
            many = "|o" if field.one_to_one else "}o"
            one = "o{" if field.many_to_many else "o|" if field.null else "||"
            yield model.__name__, f"{many}--{one}", field.related_model.__name__, field.name
