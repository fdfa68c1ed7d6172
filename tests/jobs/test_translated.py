from __future__ import annotations

from django.utils.translation import override

from jobs.calc.sentence import Sentence
from jobs.translated import translated

CUT = Sentence("it turns up {length} at each trimmer", length='6"')


def test_a_sentence_is_looked_up_whole_and_then_filled_in():
    assert translated(CUT) == 'it turns up 6" at each trimmer'
    with override("es"):
        assert translated(CUT) == 'sube 6" en cada montante'


def test_what_is_no_sentence_stays_as_it_is():
    with override("es"):
        assert translated("Strip 12 in") == "Strip 12 in"
        assert translated("strip") == "strip"
