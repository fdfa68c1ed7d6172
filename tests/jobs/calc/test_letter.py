from __future__ import annotations

from jobs.calc.letter import MOST_LINES, Told, text_of
from jobs.calc.notice import EventKind


def test_a_letter_tells_notices_by_kind_and_where_to_choose():
    told = [
        Told(kind=EventKind.STRANDED, said="W1 of weir is stranded."),
        Told(kind=EventKind.NO_SHEET, said="Blue has no pull sheet."),
        Told(kind=EventKind.STRANDED, said="W2 of weir is stranded."),
    ]
    assert text_of(told, page="https://weir.example.test/account/notices/") == (
        "Openings are stranded\n- W1 of weir is stranded.\n- W2 of weir is stranded.\n\n"
        "No pull sheet at the cut-off\n- Blue has no pull sheet.\n\n"
        "Choose what you are told, and how: https://weir.example.test/account/notices/\n"
    )


def test_a_letter_has_an_end():
    told = [Told(kind=EventKind.STRANDED, said="W1.")] * (MOST_LINES + 2)
    text = text_of(told, page="")
    assert text.count("- W1.") == MOST_LINES
    assert "And 2 more notices, on your page of notices." in text
