"""A file is read in a process of its own: the same comes back, and what costs too much ends there and in words."""

from __future__ import annotations

import os
import pickle
import signal
import subprocess
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal
from pathlib import Path

import pytest

from openings.calc.labor_rates import Access
from openings.calc.terms import FrameMaterial
from openings.errors import BadSchedule, ReadersBusy, Unreadable
from openings.schedules import FOR_A_REQUEST, FOR_A_WORKER, Budget, Layout, Meaning, apart, read_apart, read_schedule
from openings.schedules.apart import nursery, plain
from openings.schedules.layout import ColumnAnswer
from tests.openings.schedules.files import xlsx
from tests.openings.schedules.ifc_models import model, window

ROOT = Path(__file__).parents[3]
FIXTURES = sorted((ROOT / "fixtures").glob("*/window-schedule.*"))
HEADINGS = "Mark,Qty,RO Width,RO Height,Remarks\n"
SMALL = f"{HEADINGS}A,2,3'-0\",4'-6\",north\n".encode()
LARGE = (HEADINGS + "".join(f"W{row},1,36,54,room {row}\n" for row in range(50_000))).encode()


def budget(*, time_s: float = 60, memory_mb: int = 1_000, wait_s: float = 60) -> Budget:
    return Budget(time_s=time_s, memory_mb=memory_mb, wait_s=wait_s)


@pytest.mark.parametrize("path", FIXTURES, ids=lambda path: path.parent.name)
def test_what_comes_back_is_what_the_reader_says(path):
    content = path.read_bytes()
    found = read_apart(filename=path.name, content=content, budget=FOR_A_REQUEST)
    assert found == read_schedule(filename=path.name, content=content)


def test_what_was_settled_goes_along_and_questions_faults_and_layout_come_back():
    content = b"Mark,Wd,Ht,Floor\nA,915,1370,2\nB,wide,1370,2\n"
    settled = Layout(columns={"Wd": ColumnAnswer(meaning=Meaning.RO_WIDTH, unit="mm")})
    found = read_apart(filename="a.csv", content=content, settled=settled, budget=FOR_A_REQUEST)
    here = read_schedule(filename="a.csv", content=content, settled=settled)
    assert found == here
    assert found.faults or found.questions
    again = read_apart(
        filename="a.csv", content=content, remembered={found.fingerprint: found.layout}, budget=FOR_A_REQUEST
    )
    assert again == read_schedule(filename="a.csv", content=content, remembered={here.fingerprint: here.layout})


def test_every_fact_that_a_row_can_give_comes_back():
    given = {
        "Mark": "A", "RO Width": "36", "RO Height": "54", "Frame material": "vinyl", "Design pressure (psf)": "35",
        "Access": "boom lift", "Storeys up": "3", "Egress": "yes",
    }  # fmt: skip
    content = f"{','.join(given)}\n{','.join(given.values())}\n".encode()
    here = read_schedule(filename="a.csv", content=content)
    assert {type(value) for value in here.rows[0].facts.values()} == {FrameMaterial, Access, Decimal, int, bool}
    assert read_apart(filename="a.csv", content=content, budget=FOR_A_REQUEST) == here


@pytest.mark.parametrize(
    ("filename", "content"),
    [("a.csv", b""), ("a.csv", b"nothing,here\n1,2\n"), ("a.xlsx", b"PK\x03\x04 broken"), ("a.pdf", b"%PDF-1.7 x")],
    ids=["empty", "no schedule", "broken", "another kind"],
)
def test_what_the_reader_refuses_is_refused_alike(filename, content):
    with pytest.raises(BadSchedule) as here:
        read_schedule(filename=filename, content=content)
    with pytest.raises(BadSchedule) as there:
        read_apart(filename=filename, content=content, budget=FOR_A_REQUEST)
    assert (there.value.detail, there.value.faults, there.value.code) == (
        here.value.detail, here.value.faults, here.value.code,
    )  # fmt: skip


def test_a_model_is_read_within_the_same_budget():
    found = read_apart(filename="a.ifc", content=model([window(1)]).encode(), budget=FOR_A_WORKER)
    assert [row.row for row in found.rows] == [101]


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_more_time_than_the_budget_ends_it_and_names_the_limit(kind):
    content = LARGE if kind == "csv" else xlsx([line.split(",") for line in LARGE.decode().splitlines()[:10_000]])
    with pytest.raises(
        Unreadable, match=r"could not be read: reading it takes longer than 0\.1 s\. Copy the s"
    ) as over:
        read_apart(filename=f"a.{kind}", content=content, budget=budget(time_s=0.1))
    assert over.value.is_late


def test_more_memory_than_the_budget_ends_it_and_names_the_limit():
    with pytest.raises(Unreadable, match="could not be read: it takes more than 70 MB of memory") as over:
        read_apart(filename="a.csv", content=LARGE, budget=budget(memory_mb=70))
    assert not over.value.is_late
    assert len(read_apart(filename="a.csv", content=SMALL, budget=FOR_A_REQUEST).rows) == 1


def test_a_reader_that_is_killed_is_told_from_one_that_is_late():
    def kill() -> None:
        deadline = time.monotonic() + 20
        while time.monotonic() < deadline:
            for pid in children_of(nurseries()):
                os.kill(pid, signal.SIGKILL)
                return
            time.sleep(0.005)

    read_apart(filename="a.csv", content=SMALL, budget=FOR_A_REQUEST)
    killer = threading.Thread(target=kill)
    killer.start()
    with pytest.raises(Unreadable, match="the process that read it ended; it is damaged or far too large") as over:
        read_apart(filename="a.csv", content=LARGE, budget=FOR_A_REQUEST)
    killer.join()
    assert not over.value.is_late


def test_when_the_nursery_is_killed_the_next_file_is_read():
    read_apart(filename="a.csv", content=SMALL, budget=FOR_A_REQUEST)
    for pid in nurseries():
        os.kill(pid, signal.SIGKILL)
    assert len(read_apart(filename="a.csv", content=SMALL, budget=FOR_A_REQUEST).rows) == 1


def test_of_more_files_at_once_than_it_may_read_some_are_asked_to_come_again(monkeypatch):
    monkeypatch.setattr(apart, "_turns", threading.BoundedSemaphore(1))

    def read(_number: int) -> object:
        try:
            return read_apart(filename="a.csv", content=LARGE, budget=budget(wait_s=0.01))
        except ReadersBusy as busy:
            return busy

    with ThreadPoolExecutor(3) as threads:
        outcomes = list(threads.map(read, range(3)))
    assert sorted(type(outcome).__name__ for outcome in outcomes) == ["ReadersBusy", "ReadersBusy", "ScheduleRead"]
    assert len(read_apart(filename="a.csv", content=SMALL, budget=budget(wait_s=0.01)).rows) == 1


def test_the_reader_gets_no_secrets(monkeypatch):
    monkeypatch.setenv("SECRET_KEY", "hidden-from-readers")
    nursery._way.close()
    read_apart(filename="a.csv", content=SMALL, budget=FOR_A_REQUEST)
    (pid,) = nurseries()
    assert b"hidden-from-readers" not in Path(f"/proc/{pid}/environ").read_bytes()


def test_nothing_is_made_of_what_a_reader_has_no_business_to_say():
    class Evil:
        def __reduce__(self):
            return os.system, ("true",)

    for evil in (Evil(), read_schedule, subprocess.Popen):
        with pytest.raises(pickle.UnpicklingError, match="nothing that a reader says"):
            plain.loaded(pickle.dumps(evil))


def test_the_nursery_ends_with_who_started_it():
    program = (
        "import os; from openings.schedules.apart import FOR_A_REQUEST, nursery, read_apart; "
        f"read_apart(filename='a.csv', content={SMALL!r}, budget=FOR_A_REQUEST); "
        "print(nursery._way._nursery.pid, flush=True); os._exit(1)"
    )
    done = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=False)
    path = Path(f"/proc/{int(done.stdout)}")
    deadline = time.monotonic() + 20
    while time.monotonic() < deadline and path.exists():
        time.sleep(0.05)
    assert not path.exists() or path.joinpath("stat").read_text().rpartition(")")[2].split()[0] == "Z"


def nurseries() -> list[int]:
    name = b"openings.schedules.apart"
    return [pid for pid in children_of(os.getpid()) if name in Path(f"/proc/{pid}/cmdline").read_bytes()]


def children_of(parents: list[int] | int) -> list[int]:
    wanted = {parents} if isinstance(parents, int) else set(parents)
    found = []
    for path in Path("/proc").iterdir():
        if path.name.isdecimal():
            try:
                parent = int(path.joinpath("stat").read_text().rpartition(")")[2].split()[1])
            except OSError:
                continue
            if parent in wanted:
                found.append(int(path.name))
    return sorted(found)
