"""What a crafted file can cost: memory, time and the process itself stay within bounds.

Limit of memory: the project's own requirement, 300 MB for a .csv of 100,000 rows, the framework included.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from openings.schedules.file.archive import MAX_UNPACKED_BYTES
from tests.openings.schedules.broken import (
    GOOD,
    directory_of,
    parts_of,
    understating,
    with_rows,
    with_shared,
    zip_of,
)
from tests.openings.schedules.files import SHEET, xlsx

pytestmark = pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="memory is read from /proc")
ROOT = Path(__file__).parents[3]
BOOK = xlsx(GOOD)

MEASURE = """
import re, sys
def most():  # of this process alone; what getrusage says begins with the memory of the parent
    return int(re.search(r"VmHWM:\\s+(\\d+)", open("/proc/self/status").read())[1]) // 1000
if sys.argv[2:]:
    import django
    django.setup()
    from openings import services
from openings.errors import BadSchedule
from openings.schedules import read_schedule
content = sys.stdin.buffer.read()
before = most()
try:
    found = read_schedule(filename=sys.argv[1], content=content)
    said = f"{len(found.rows)} rows, {len(found.faults)} faults"
except BadSchedule as error:
    said = error.detail
print(before, most(), said)
"""


def cost_of(content: bytes, *, filename: str, with_framework: bool = False) -> tuple[int, int, str]:
    """Return the megabytes that a process held before it read a file and at most, and what came of it."""
    done = subprocess.run(
        [sys.executable, "-c", MEASURE, filename, *["framework"] * with_framework],
        input=content,
        capture_output=True,
        timeout=60,
        cwd=ROOT,
        env={**os.environ, "DJANGO_SETTINGS_MODULE": "config.settings", "PYTHONPATH": str(ROOT)},
        check=False,
    )
    assert done.returncode == 0, done.stderr.decode()[-2_000:]
    before, most, said = done.stdout.decode().split(" ", 2)
    return int(before), int(most), said.strip()


def test_text_of_a_hundred_thousand_rows_takes_less_than_300_mb_with_the_framework() -> None:
    headings = "Mark,Qty,RO Width,RO Height,Unit Width,Unit Height,Operation,Floor,Detail,Remarks\n"
    rows = (
        f"W{row},1,{24 + row % 1152 / 16},{24 + row % 960 / 16},24,23.5,casement,Level {row % 9},Flange,remark {row}\n"
        for row in range(100_000)
    )
    before, most, said = cost_of((headings + "".join(rows)).encode(), filename="a.csv", with_framework=True)
    assert said == "100000 rows, 0 faults"
    assert most < 300, f"{most} MB, of which {before} before the file was read"


TEXT = b"Mark,RO Width,RO Height\nA,36,54\n"
STAYING_SMALL = [
    ("nothing but delimiters", "a.csv", b"," * 19_000_000, "19,000,001 columns"),
    ("nothing but line ends", "a.csv", b"\n" * 19_000_000, "19,000,000 lines"),
    ("a million blank rows", "a.csv", TEXT + b",,\n" * 1_000_000, "1 rows, 0 faults"),
    ("a hundred thousand columns", "a.csv", (b"Mark," * 100_000 + b"\n") * 5, "100,001 columns"),
    ("a cell that never ends", "a.csv", TEXT + b"B,36," + b"5" * 18_000_000, "line 3 does not end"),
    ("a quotation mark that never ends", "a.csv", TEXT + b'B,36,"' + b"5\n" * 900_000, "line 3 does not end"),
    ("one wide row over many", "a.csv", TEXT + b"," * 900 + b"x\n" + b"A,36,54\n" * 100_000, "901 columns"),
    ("letters of four bytes", "a.csv", TEXT + "B,36,54,😀\n".encode() * 100_000, ""),
    ("letters that nobody sees", "a.csv", TEXT + "\u200e".encode() * 6_000_000, "1 rows, 0 faults"),
    ("parts by the hundred thousand", "a.xlsx", directory_of(400_000), "more than 2000 parts"),
    ("a part that unpacks to more than it says", "a.xlsx",
     understating(SHEET, bytes(400_000_000), size=5_000), "damaged"),
    ("a part that is mostly nothing", "a.xlsx", zip_of({"xl/media/a": bytes(MAX_UNPACKED_BYTES)}), "would unpack to"),
    ("a part packed twice over", "a.xlsx", zip_of({"xl/a.zip": zip_of({"b": bytes(99_000_000)})}), "no .xlsx workbook"),
    ("many cells with one long text", "a.xlsx", with_shared(with_rows(b"".join(
        b'<row r="%d"><c r="A%d" t="s"><v>9</v></c></row>' % (row, row) for row in range(4, 9_000))),
        extra=(b"<si><t>" + b"x" * 1_000_000 + b"</t></si>") * 9), "letters together"),
    ("tags within tags", "a.xlsx", zip_of({**parts_of(BOOK), "xl/workbook.xml": b"<a>" * 300_000}), "cannot be read"),
    ("a tag of ten million letters", "a.xlsx", with_rows(b'<row a="' + b"<c t=x " * 1_400_000 + b'"/>'), "damaged"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("filename", "content", "said"), [case[1:] for case in STAYING_SMALL], ids=[case[0] for case in STAYING_SMALL]
)
def test_crafted_file_fills_neither_memory_nor_time(filename: str, content: bytes, said: str) -> None:
    _, most, came = cost_of(content, filename=filename)
    assert said in came
    assert most < 250


def test_mutated_workbooks_crash_nothing() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.openings.schedules.broken", "0", "800"],
        capture_output=True,
        timeout=120,
        cwd=ROOT,
        check=False,
    )
    assert done.returncode == 0, (done.stdout[-20:], done.stderr[-2_000:])
