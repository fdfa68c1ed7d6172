"""`manage.py import_schedule`."""

from __future__ import annotations

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from openings.models import Opening
from tests.factories import DetailFactory
from tests.openings.rows import schedule_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    return DetailFactory(job__code="weir", name="wall type 1").job


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "windows.csv"
    path.write_bytes(schedule_of("W1,2,36,54,", "W2,1,36 1/2,54,"))
    return path


def run(*arguments, **options) -> str:
    said = StringIO()
    call_command("import_schedule", *map(str, arguments), stdout=said, **options)
    return said.getvalue()


def test_a_dry_run_shows_every_opening_and_writes_nothing(job, file):
    said = run("weir", file, dry_run=True)
    assert [line for line in said.splitlines() if line.startswith("row ")] == [
        """row 2: W1-01, rough opening 3' 0" × 4' 6", wall type 1""",
        """row 2: W1-02, rough opening 3' 0" × 4' 6", wall type 1""",
        """row 3: W2, rough opening 3' 0 1/2" × 4' 6", wall type 1""",
    ]
    assert "3 openings would be added; nothing was saved." in said
    assert not Opening.objects.exists()


def test_a_dry_run_tells_wrong_rows_beside_what_must_be_settled(job, file):
    file.write_bytes(b"Mark,Stk,RO Width,RO Height\nW1,2,36,54\nW2,1,36,wide\n")
    said = run("weir", file, dry_run=True).splitlines()
    assert any(line.startswith("needs answer, columns.B.meaning") for line in said)
    assert [line.split(":")[0] for line in said if line.startswith("wrong")] == ["wrong, row 3, RO Height"]
    file.write_bytes(b"Mark,Qty,RO Width,RO Height\nW1,1,36,54\n")
    assert run("weir", file, dry_run=True).splitlines()[-1] == "1 opening would be added; nothing was saved."


def test_a_schedule_is_taken(job, file):
    assert "windows.csv (revision 1): 3 openings added." in run("weir", file)
    assert Opening.objects.count() == 3
    with pytest.raises(CommandError, match="already has this very file"):
        run("weir", file)


def test_every_wrong_row_is_told(job, file):
    file.write_bytes(schedule_of("W1,0,36,54,", "W2,1,36,wide,", "W3,1,36,54,"))
    with pytest.raises(CommandError) as refused:
        run("weir", file)
    sentence, *rows = str(refused.value).splitlines()
    assert "2 rows are wrong; nothing was saved" in sentence
    assert [row.split(":")[0] for row in rows] == ["row 2, Qty", "row 3, RO height"]
    assert not Opening.objects.exists()


def test_what_is_not_there_is_said(job, file):
    with pytest.raises(CommandError, match="there is no job mill; the jobs are: weir"):
        run("mill", file)
    with pytest.raises(CommandError, match="No such file"):
        run("weir", file.with_name("other.csv"))
    with pytest.raises(CommandError, match="no such installation detail"):
        run("weir", file, detail="wall type 9")


def test_rows_of_a_first_file_are_left_out_by_the_mark_of_the_schedule_or_of_one_opening(job, file):
    file.write_bytes(schedule_of("W1,3,36,54,", "D1,2,36,84,", "W2,1,24,36,"))
    run("weir", file, leave=["D1", "W1-02"])
    assert sorted(Opening.objects.values_list("mark", flat=True)) == ["W1-01", "W1-03", "W2"]


def test_a_mark_to_leave_that_is_not_in_the_file_is_refused(job, file):
    with pytest.raises(CommandError, match="W9: no opening of the file or the job has that mark"):
        run("weir", file, leave=["W9"])
    assert not Opening.objects.exists()


def test_a_mapping_leaves_rows_out_and_is_remembered_without_its_total(job, file):
    file.write_text("Mark,Category,Qty,RO width,RO height\nW1,Window,2,36,54\nD1,Door,1,36,84\nTotal,,9\n")
    with pytest.raises(CommandError, match="2 questions need an answer"):
        run("weir", file)
    said = {"columns": {"B": {"meaning": "not read", "leave_out": ["Door"]}}, "totals": "rows as read"}
    run("weir", file, mapping=json.dumps(said))
    assert sorted(Opening.objects.values_list("mark", flat=True)) == ["W1-01", "W1-02"]
    file.write_text("Mark,Category,Qty,RO width,RO height\nW1,Window,3,36,54\nD1,Door,1,36,84\nTotal,,9\n")
    with pytest.raises(CommandError, match="1 question needs an answer") as refused:
        run("weir", file)
    assert "states 9" in str(refused.value)
