import copy
import pickle

import pytest

from jobs.calc.sentence import Sentence


@pytest.mark.parametrize("again", [copy.copy, copy.deepcopy, lambda one: pickle.loads(pickle.dumps(one))])
def test_a_copy_knows_text_and_figures(again):
    sentence = again(Sentence("lap it {lap} at {mark}", lap='2"', mark="W{1}"))
    assert (sentence, sentence.text, sentence.figures) == (
        'lap it 2" at W{1}',
        "lap it {lap} at {mark}",
        {"lap": '2"', "mark": "W{1}"},
    )
