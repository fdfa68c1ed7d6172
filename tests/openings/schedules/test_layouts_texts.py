"""Schedules as delimited text: commas, semicolons, tabs, quotes, encodings."""

from __future__ import annotations

import re

import pytest

from openings.schedules import read_schedule
from tests.openings.schedules.files import with_sheet, xlsx
from tests.openings.schedules.layouts import BIM_CSV, NIST, Case, Opening, check, mm, never_silent, said, text_file

W1, W2 = Opening("W1", 2, ro=(36, 54)), Opening("W2", 1, ro=(24, 36.5))

PLAIN = """
Mark,Qty,RO Width,RO Height
W1,2,36,54
W2,1,24,36.5
"""
BARE_MARKS = """
Mark,Qty,RO Width,RO Height
W1,2,3'-0",4'-6"
W2,1,2'-0",3'-0 1/2"
"""

SEPARATORS = [
    text_file("commas", PLAIN, W1, W2),
    text_file("semicolons", PLAIN.replace(",", ";"), W1, W2),
    text_file("tabs", PLAIN.replace(",", "\t"), W1, W2),
    text_file("bars", PLAIN.replace(",", "|"), W1, W2),
    text_file("mixed line ends", PLAIN.lstrip().replace("\n", "\r\n", 2), W1, W2),
    text_file("carriage returns alone", PLAIN.strip().replace("\n", "\r"), W1, W2),
    text_file("separator named in the first line", "sep=;" + PLAIN.replace(",", ";"), W1, W2),
    text_file("empty columns at the end of every line", PLAIN.strip().replace("\n", ",,,\n") + ",,,\n", W1, W2),
    text_file("lines of unlike length", f"Window schedule\n{PLAIN.strip()}\n\nNotes\n1. tempered, see W1\n", W1, W2),
    text_file("spaces behind commas", PLAIN.replace(",", ", "), W1, W2),
    text_file(
        "semicolons and decimal commas",
        """
        Mark;Qty;RO Width;RO Height;Weight (kg)
        W1;2;36,0;54,0;50,5
        W2;1;24;36,5;
        """,
        W1, W2,
    ),
    text_file(
        "semicolons and decimal commas in centimeters",
        """
        Mark;Qty;RO Width (cm);RO Height (cm)
        W1;2;91,5;183,0
        W2;1;61,05;91,5
        """,
        Opening("W1", 2, ro=mm(915, 1830)), Opening("W2", 1, ro=mm(610.5, 915)),
        source=NIST,
    ),
    text_file(
        "semicolons, decimal commas and one combined size",
        """
        Mark;Qty;RO (W x H) cm
        W1;2;91,5 x 183
        """,
        Opening("W1", 2, ro=mm(915, 1830)),
        source=NIST,
    ),
]  # fmt: skip

QUOTES = [
    text_file("inch marks without quotes", BARE_MARKS, W1, W2),
    text_file(
        "inch marks in doubled quotes",
        '''
        Mark,Qty,RO Width,RO Height
        W1,2,"3'-0""","4'-6"""
        W2,1,"2'-0""","3'-0 1/2"""
        ''',
        W1, W2,
    ),
    text_file(
        "inch marks in quotes that are not doubled",
        '''
        "Mark","Qty","RO Width","RO Height"
        "W1","2","3' - 0"","4' - 6""
        "W2","1","2' - 0"","3' - 0 1/2""
        ''',
        W1, W2,
        source=BIM_CSV,
    ),
    text_file(
        "export of a building model: title, headings, empty line",
        '''
        "Window Schedule","","","",""
        "Type Mark","Rough Width","Rough Height","Level","Count"
        "","","","",""
        "W1","3' - 0"","4' - 6"","Level 1","2"
        "W2","2' - 0"","3' - 0 1/2"","Level 1","1"
        "Grand total: 3","","","","3"
        ''',
        W1._replace(floor="Level 1"), W2._replace(floor="Level 1"),
        source=BIM_CSV,
    ),
    text_file("inch marks alone", 'Mark,Qty,RO Width,RO Height\nW1,2,36",54"\nW2,1,24",36 1/2"\n', W1, W2),
    text_file("size with inch marks and a comma in the remarks",
              'Mark,Qty,RO,Remarks\nW1,2,"36"" x 54""","egress, tempered"\n',
              W1._replace(remarks="egress, tempered")),
    text_file("line break within quotes", PLAIN.replace("RO W", '"Rough\nOpening\nW').replace("h,R", 'h",R'), W1, W2),
]  # fmt: skip

ENCODINGS = [
    text_file("UTF-8 with a mark of order", BARE_MARKS, W1, W2, encoding="utf-8-sig"),
    text_file("UTF-16 and tabs", BARE_MARKS.replace(",", "\t"), W1, W2, encoding="utf-16"),
    text_file("UTF-16 and commas", BARE_MARKS, W1, W2, encoding="utf-16"),
    text_file("Windows-1252 with fractions and curly quotes",
              "Mark,Qty,RO Width,RO Height\nW1,2,3’-0”,4’-6”\nW2,1,2’-0”,3’-0½”\n", W1, W2, encoding="cp1252"),
    text_file("UTF-8 with primes", "Mark,Qty,RO Width,RO Height\nW1,2,3′-0″,4′-6″\nW2,1,2′-0″,3′-0½″\n", W1, W2),
    text_file("letters that nobody sees",
              "\u200eMark,Qty,RO\xa0Width,RO Height\nW1\u200f,2,36\xa0,54\n\xa0W2,1\u200e,24,36.5\u200b\n", W1, W2),
    text_file("Windows-1252 with letters of other tongues",
              "Mark,Qty,RO Width,RO Height,Remarks\nW1,2,36,54,façade é ü\n", W1._replace(remarks="façade é ü"),
              encoding="cp1252"),
]  # fmt: skip

CASES: list[Case] = SEPARATORS + QUOTES + ENCODINGS


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_text_is_read(case: Case) -> None:
    check(case)


@pytest.mark.parametrize("text", ["1,200", "3,050", "1,830"])
def test_comma_in_a_bare_number_is_not_guessed(text: str) -> None:
    # "3,050" may be 3050, 3.050 or a call size: section 11.1 of the check values.
    told = never_silent(f'Mark,Qty,RO Width,RO Height\nW1,2,"{text}",54\n'.encode(), filename="windows.csv")
    assert text in said(told) or "comma" in said(told)


def cached(**values: float) -> bytes:
    """Return a workbook of which these formulas have saved values."""

    def value(formula: re.Match[bytes]) -> bytes:
        saved = values.get(formula[2].decode())
        return formula[1] + (b"<v/>" if saved is None else f"<v>{saved}</v>".encode())

    rows = [["Mark", "Qty", "RO Width", "RO Height"], ["W1", "=1+1", "=35+1", "=50+4"], ["W2", 1, 24, 36.5]]
    formula = re.compile(rb'(<c r="(\w+)"[^>]*><f>[^<]*</f>)<v ?/?>(?:</v>)?')
    return with_sheet(xlsx(rows), lambda part: formula.sub(value, part))


def test_formulas_count_with_their_saved_values() -> None:
    check(Case(name="", content=cached(B2=2, C2=36, D2=54), openings=(W1, W2)))


def test_formula_without_a_saved_value_is_reported_where_it_stands() -> None:
    read = read_schedule(filename="windows.xlsx", content=cached(B2=2, D2=54))
    assert [(fault.row, fault.field) for fault in read.faults] == [(2, "RO Width")]
    assert "formula" in read.faults[0].detail
    assert [row.mark for row in read.rows] == ["W2"]
