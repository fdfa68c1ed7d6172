"""Questions about columns, in sentences."""

from __future__ import annotations

from collections.abc import Sequence

from openings.schedules.columns.guesses import Guess
from openings.schedules.columns.samples import SHOWN
from openings.schedules.layout import NOT_READ, Meaning
from openings.schedules.rows import Question

_NAMES = {
    Meaning.RO_WIDTH: "the width of the rough opening",
    Meaning.RO_HEIGHT: "the height of the rough opening",
    Meaning.RO_SIZE: "the size of the rough opening",
    Meaning.UNIT_WIDTH: "the width of the unit",
    Meaning.UNIT_HEIGHT: "the height of the unit",
    Meaning.UNIT_SIZE: "the size of the unit",
    Meaning.DETAIL: "the installation detail",
    Meaning.REMARKS: "remarks",
    Meaning.COUNT_ON_FLOOR: "how many openings there are on that floor or side",
    Meaning.LITES: "the thicknesses of the lites",
    Meaning.STOREYS_UP: "how many stories up it is",
    Meaning.ACCESS: "the access",
    Meaning.IS_EGRESS: "whether it is for egress",
    Meaning.IS_GRADE_FLOOR: "whether it is on the grade floor",
    Meaning.IS_NEAR_DOOR: "whether it is near a door",
    Meaning.IS_NEAR_WALKWAY: "whether it is near a walkway",
    Meaning.IS_WET_AREA: "whether it is in a wet area",
}


def name_of(meaning: Meaning) -> str:
    """Return the words for a meaning within a sentence.

    >>> name_of(Meaning.SILL_ABOVE_FLOOR)
    'the sill above floor'
    """
    plain = meaning.value.removesuffix("_in").removesuffix("_lb").removesuffix("_psf").replace("_", " ")
    return _NAMES.get(meaning, f"the {plain}")


def question_about(guess: Guess, choices: Sequence[Meaning], *, why: str = "") -> Question:
    """Return the question what a column means.

    Args:
        choices: what it may mean, the likeliest first.
        why: what is doubtful about it; the choices say enough if empty.
    """
    readings = [name_of(meaning) for meaning in choices]
    reason = why or f"{guess.named} may be {_either(readings) if len(readings) > 1 else readings[0]}, or nothing of use"
    return Question(
        field=f"columns.{guess.letter}.meaning",
        heading=guess.text,
        detail=f"{reason}. {below(guess)} What does it say?",
        choices=(*(meaning.value for meaning in choices), NOT_READ),
    )


def question_which(first: Guess, second: Guess, meaning: Meaning) -> Question:
    """Return the question which of two columns to read for one meaning."""
    return Question(
        field=f"columns.{second.letter}.meaning",
        heading=second.text,
        detail=(
            f"{first.named} and {second.named} both say {name_of(meaning)}; {first.named} is read. {below(second)} "
            "Say which of the two is meant, and what the other says."
        ),
        choices=(NOT_READ, meaning.value, *(other.value for other in _other_kind(meaning))),
    )


def question_whether(guess: Guess, meaning: Meaning) -> Question:
    """Return the question whether a column that is not read says something after all."""
    return Question(
        field=f"columns.{guess.letter}.meaning",
        heading=guess.text,
        detail=f"{guess.named} is not read, but may say {name_of(meaning)}. {below(guess)} Does it?",
        choices=(NOT_READ, meaning.value),
    )


def below(guess: Guess) -> str:
    """Return the sentence that says what stands beneath a heading."""
    if not guess.samples:
        return "Nothing is below it."
    return f"Below it: {', '.join(f'“{text}”' for text in guess.samples[:SHOWN])}."


def _either(readings: Sequence[str]) -> str:
    return f"{', '.join(readings[:-1])} or {readings[-1]}"


def _other_kind(meaning: Meaning) -> list[Meaning]:
    """Return the same side of the unit for one of the rough opening, and the other way round."""
    pairs = {"RO": "UNIT", "UNIT": "RO"}
    kind, _, side = meaning.name.partition("_")
    return [Meaning[f"{pairs[kind]}_{side}"]] if kind in pairs else []
