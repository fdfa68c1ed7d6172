"""Sentences in the language of whoever reads: looked up whole, then filled in."""

from __future__ import annotations

from django.utils.translation import gettext

from jobs.calc.sentence import Sentence


def translated(text: str) -> str:
    """Return a sentence in the language that is active; what is no sentence, a length or a name, as it stands."""
    if not isinstance(text, Sentence):
        return text
    return gettext(text.text).format(**text.figures)
