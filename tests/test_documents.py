"""What README.md and DEVELOPERS.md tell people to run and where they send them."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command, get_commands, load_command_class
from django.urls import resolve

from config import demo_content
from jobs.calc.calendar import next_working_day
from jobs.queries import today_on_sites
from openings.models import Opening

ROOT = Path(settings.BASE_DIR)
DOCUMENTS = [ROOT / "README.md", ROOT / "DEVELOPERS.md"]
OURS = {name for name, app in get_commands().items() if app in ("config", "jobs", "openings", "materials")}
PROGRAMS = {"manage.py", "docker", "pip", "python", ".ci/run"}

RUN_HERE = {
    "import_schedule JOB FILE [--dry-run] [--mapping JSON] [--apply KIND …] [--leave MARK …]": [
        ["import_schedule", "mill-lane", "FILE", "--dry-run"],
        ["import_schedule", "mill-lane", "FILE", "--mapping", "{}", "--apply", "added", "--leave", "M8"],
    ],
    "pull_sheets --on DATE [--crew NAME]": [["pull_sheets", "--on", "DATE"]],
    "explain OPENING [--units metric]": [
        ["explain", "heron-house/102-03"],
        ["explain", "heron-house/102-03", "--units", "metric"],
    ],
    "cut_plan FILE.json": [["cut_plan", "-"]],
}
"""Commands that the documents name, each with examples; DATE becomes the next working day, FILE a revision."""

RUN_ELSEWHERE = {
    "manage.py demo --once": "tests/config/test_demo.py",
    "manage.py bench": "tests/config/test_bench.py",
    "manage.py bench --scale": "tests/config/test_bench.py",
    "bench [--only WORD] [--scale [OPENINGS …]]": "tests/config/test_bench.py",
    "manage.py translations": "tests/config/test_translations.py",
    "pip install '.[ifc]'": ".ci/run",
    "docker compose up": "tests/config/test_compose.py",
    "manage.py first_owner": "tests/config/test_first_owner.py",
    "docker compose run --rm web python manage.py first_owner NAME --address https://…": (
        "tests/config/test_first_owner.py"
    ),
    ".ci/run": ".ci/run",
}
"""Commands that need a machine, a server or a time of their own, and what runs them or holds their parts."""


def test_every_command_that_is_named_has_an_example_that_is_run():
    assert set(_commands()) == RUN_HERE.keys() | RUN_ELSEWHERE.keys()
    assert [path for path in set(RUN_ELSEWHERE.values()) if not (ROOT / path).exists()] == []


@pytest.mark.django_db
def test_every_example_does_what_it_is_named_for(monkeypatch, tmp_path):
    demo_content.load(report=lambda _sentence: None)
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(_cut_plan_of_the_readme().encode())))
    day = next_working_day(today_on_sites(), works=lambda on: on.isoweekday() <= 5)
    filled_in = {"DATE": day.isoformat(), "FILE": str(_revision(tmp_path))}
    for examples in RUN_HERE.values():
        for name, *arguments in examples:
            said = io.StringIO()
            call_command(name, *[filled_in.get(word, word) for word in arguments], stdout=said)
            assert said.getvalue().strip(), name
    assert set(Opening.objects.filter(mark__in=["M7", "M8"]).values_list("mark", flat=True)) == {"M7"}


@pytest.mark.django_db
def test_an_opening_that_is_not_there_is_answered_with_one_that_is():
    demo_content.load(report=lambda _sentence: None)
    with pytest.raises(CommandError, match="there is no opening heron-house/Z9") as refused:
        call_command("explain", "heron-house/Z9", stdout=io.StringIO())
    job, _, mark = str(refused.value).rpartition(" such as ")[2].partition("/")
    assert Opening.objects.filter(job__code=job, mark=mark).exists()
    assert job == "heron-house"


def test_every_option_that_is_named_is_one_of_its_command():
    parsers = {name: _options_of(name) for name in OURS}
    for command in _commands():
        name = command.removeprefix("manage.py ").split()[0]
        if name in parsers:
            assert set(re.findall(r"--[a-z-]+", command)) <= parsers[name], command


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_every_path_that_is_named_is_there(document):
    named = re.findall(r"`((?:config|jobs|openings|materials|tests|fixtures|\*)/[\w./*-]*)`", document.read_text())
    assert [path for path in named if not list(ROOT.glob(path))] == []


def test_every_recipe_names_its_files_and_ends_with_a_test():
    recipes = re.search(r"## Recipes\n(.*?)\n## ", (ROOT / "DEVELOPERS.md").read_text(), re.DOTALL)[1]
    steps = [re.findall(r"`((?:jobs|openings|materials|tests)/[\w./]+)`", one) for one in recipes.split("\n- **")[1:]]
    assert len(steps) == 5
    assert [paths for paths in steps if len(paths) < 4 or not any(path.startswith("tests/") for path in paths)] == []


def test_every_address_that_is_named_answers():
    text = (ROOT / "README.md").read_text()
    named = re.findall(r"`(/[a-z0-9/-]+/|compute/[a-z]+)`", text)
    assert {"/people/", "/api/docs/", "compute/cuts"} <= set(named)
    for address in set(named) - {"/var/tmp", "/api/v1/"}:
        assert resolve(address if address.startswith("/") else f"/api/v1/{address}/")


def test_ci_checks_what_developers_are_told_to_check():
    told = next(line for line in (ROOT / "DEVELOPERS.md").read_text().splitlines() if "ruff format . &&" in line)
    checks = {word.split(".venv/bin/")[1].split()[0] for word in told.split("&&")} - {"python"}
    run = (ROOT / ".ci" / "run").read_text()
    assert [check for check in checks if f".venv/bin/{check}" not in run] == []


def _commands() -> Iterator[str]:
    """Yield the commands that stand in the running text; the two that set all up are CI's to run."""
    for document in DOCUMENTS:
        text = re.sub(r"^```.*?^```", "", document.read_text(), flags=re.MULTILINE | re.DOTALL)
        for code in re.findall(r"`([^`\n]+)`", text.replace("\n  ", " ")):
            first, *more = code.split()
            if (first in OURS | PROGRAMS and more) or first == ".ci/run":
                yield code


def _revision(folder: Path) -> Path:
    """Return the schedule of a job of the demo with two rows more."""
    header, *rows = (ROOT / "fixtures/mill-lane/window-schedule.csv").read_text(encoding="utf-8-sig").splitlines()
    added = [rows[2].replace("M3", mark) for mark in ("M7", "M8")]
    path = folder / "second.csv"
    path.write_text("\n".join([header, *rows[:-1], *added]))
    return path


def _cut_plan_of_the_readme() -> str:
    return re.search(r'`(\{"roll_lengths_in".*?\})`', (ROOT / "README.md").read_text(), re.DOTALL)[1]


def _options_of(name: str) -> set[str]:
    parser = load_command_class(get_commands()[name], name).create_parser("manage.py", name)
    return {word for action in parser._actions for word in action.option_strings}
