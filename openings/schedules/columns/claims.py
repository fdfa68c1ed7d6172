"""One column for each meaning: which of those that claim it is read, and what must be asked about the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import TypeGuard

from jobs.errors import Fault
from openings.errors import BadSchedule
from openings.schedules.columns.asking import name_of, question_about, question_whether, question_which
from openings.schedules.columns.guesses import Guess
from openings.schedules.columns.samples import are_marks, are_numbers, are_small_counts, read_as_marks
from openings.schedules.headings.of_table import NEEDED
from openings.schedules.headings.plain import is_foreign
from openings.schedules.layout import PAIRS, SIZES, Meaning
from openings.schedules.rows import Question
from openings.schedules.tables.enough import is_enough, is_type

_MUST_BE_PLAIN = {Meaning.MARK, Meaning.QUANTITY, *SIZES}
_CROSSWISE = (
    (Meaning.RO_WIDTH, Meaning.RO_HEIGHT, Meaning.UNIT_HEIGHT, Meaning.UNIT_WIDTH),
    (Meaning.RO_HEIGHT, Meaning.RO_WIDTH, Meaning.UNIT_WIDTH, Meaning.UNIT_HEIGHT),
)
"""A side of the rough opening, its partner, what a bare heading makes of that partner, and the partner of the bare."""

_TYPE_AS_MARK = Decimal("0.85")
_DOUBTFUL_TYPE_AS_MARK = _DOUBTFUL_SIDE = _DOUBTFUL_MARK = _DOUBTFUL_QUANTITY = Decimal("0.7")


@dataclass(slots=True)
class Claims:
    """Which column is read for what.

    Args:
        chosen: one for each meaning but counts.
        counts: columns that count the openings of one floor each.
        inches: columns of the inches of lengths whose feet are in the column that is chosen.
    """

    chosen: dict[Meaning, Guess] = field(default_factory=dict)
    counts: list[Guess] = field(default_factory=list)
    inches: dict[Meaning, Guess] = field(default_factory=dict)
    questions: list[Question] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    @property
    def indexes(self) -> set[int]:
        return {guess.index for guess in (*self.chosen.values(), *self.counts, *self.inches.values())}


def claims_of(guesses: Sequence[Guess]) -> Claims:
    """Return one column for each meaning.

    Raises:
        BadSchedule: two columns were settled to mean the same, a side has no partner, or mark or size is missing.
    """
    inches = [guess for guess in guesses if guess.feet_at is not None]
    guesses = [guess for guess in guesses if guess.feet_at is None]
    claims = Claims(counts=[guess for guess in guesses if guess.meaning is Meaning.COUNT_ON_FLOOR])
    claims.questions.extend(question_about(guess, guess.choices) for guess in claims.counts if guess.choices)
    _take_settled(claims, guesses)
    _take_plain(claims, [guess for guess in guesses if not guess.is_settled and not guess.choices])
    _take_open(claims, [guess for guess in guesses if guess.choices and guess not in claims.counts])
    if Meaning.MARK not in claims.chosen:
        _take_type_as_mark(claims, guesses)
    _prefer_marks_to_numbers(claims, guesses)
    _complete(claims)
    for pair in PAIRS:
        _keep_one_way(claims, *pair)
    if not is_enough(set(claims.chosen)):
        raise BadSchedule(_not_enough(claims, guesses))
    by_feet = {guess.feet_at: guess for guess in inches}
    claims.inches = {meaning: by_feet[one.index] for meaning, one in claims.chosen.items() if one.index in by_feet}
    claims.questions.extend(
        question_about(
            one, one.choices, why=f"{claims.chosen[meaning].named} and {one.named} can be feet and inches of one length"
        )
        for meaning, one in claims.inches.items()
        if one.choices
    )
    _ask_for_quantity(claims, guesses)
    return claims


def _take_settled(claims: Claims, guesses: Sequence[Guess]) -> None:
    for guess in guesses:
        if guess.is_settled and guess.meaning and guess.meaning is not Meaning.COUNT_ON_FLOOR:
            first = claims.chosen.setdefault(guess.meaning, guess)
            if first is not guess:
                sentence = (
                    f"The mapping says of both {first.named} and {guess.named} that they are "
                    f"{name_of(guess.meaning)} ({guess.meaning}); keep one"
                )
                fault = Fault(field=f"mapping.columns.{guess.letter}", value=guess.meaning, detail=sentence)
                raise BadSchedule(sentence, faults=[fault])


def _take_plain(claims: Claims, guesses: Sequence[Guess]) -> None:
    ranked = [(guess.heading.rank, guess) for guess in guesses if guess.heading]
    for rank, guess in sorted(ranked, key=lambda one: one[0]):
        meaning = guess.meaning
        if meaning is None or meaning is Meaning.COUNT_ON_FLOOR:
            continue
        first = claims.chosen.setdefault(meaning, guess)
        if first is guess or first.is_settled or first.heading is None:
            continue
        if first.heading.rank == rank and meaning in _MUST_BE_PLAIN:
            claims.questions.append(question_which(first, guess, meaning))
        elif meaning is Meaning.MARK:
            claims.notes.append(f"{first.named} is read as the mark, and {guess.named} is not.")


def _take_open(claims: Claims, guesses: Sequence[Guess]) -> None:
    for guess in sorted(guesses, key=lambda guess: -guess.confidence):
        free = [meaning for meaning in guess.choices if meaning not in claims.chosen]
        free += [
            lack for have, lack, bare, _ in _CROSSWISE if _is_lacking(claims, have, lack) and bare in guess.choices
        ]
        if free:
            free.sort(key=lambda meaning: _partner(claims, meaning) is None)
            _ask_as(claims, guess, free)


def _ask_as(claims: Claims, guess: Guess, choices: Sequence[Meaning], *, why: str = "") -> None:
    """Read a column by the likeliest of several meanings, and ask."""
    claims.chosen[choices[0]] = guess.meant_as(choices[0])
    claims.questions.append(question_about(guess, choices, why=why))


def _partner(claims: Claims, meaning: Meaning) -> Guess | None:
    """Return the column that a side lacks its partner without."""
    for width, height, _ in PAIRS:
        if meaning in (width, height):
            return claims.chosen.get(height if meaning is width else width)
    return None


def _take_type_as_mark(claims: Claims, guesses: Sequence[Guess]) -> None:
    """Read a column of types as the marks where there is no other; ask, unless the operation stands elsewhere."""
    types = [guess for guess in guesses if not guess.is_settled and is_type(guess.text) and are_marks(guess.samples)]
    if not types:
        return
    guess = types[0]
    others = [one for one in guesses if one.meaning is Meaning.OPERATION and one is not guess]
    confidence = _TYPE_AS_MARK if others else _DOUBTFUL_TYPE_AS_MARK
    claims.chosen[Meaning.MARK] = guess.meant_as(Meaning.MARK, confidence=confidence)
    if claims.chosen.get(Meaning.OPERATION) is guess:
        del claims.chosen[Meaning.OPERATION]
        if others:
            claims.chosen[Meaning.OPERATION] = others[0]
    if others:
        claims.notes.append(f"{guess.named} is read as the mark, for no other column gives one.")
    else:
        why = f"No column is headed Mark; {guess.named} may be the marks or the ways of opening"
        claims.questions.append(question_about(guess, (Meaning.MARK, Meaning.OPERATION), why=why))


def _prefer_marks_to_numbers(claims: Claims, guesses: Sequence[Guess]) -> None:
    """Read a column of marks such as W1 instead of one of bare numbers that is headed like marks, and ask."""
    mark = claims.chosen.get(Meaning.MARK)
    if mark is None or mark.is_settled or not are_numbers(mark.samples):
        return
    for guess in guesses:
        claimed = claims.chosen.get(guess.meaning) if guess.meaning else None
        is_type_too = claimed is guess and guess.meaning is Meaning.OPERATION and is_type(guess.text)
        is_headed = guess.meaning is Meaning.MARK or Meaning.MARK in guess.choices
        if guess.is_settled or (claimed is guess and not is_type_too) or (is_foreign(guess.text) and not is_headed):
            continue
        if guess is mark or not read_as_marks(guess.samples):
            continue
        field_name = f"columns.{guess.letter}.meaning"
        claims.questions = [one for one in claims.questions if one.field != field_name]
        why = f"{mark.named} is headed like the marks but holds numbers, and {guess.named} reads as marks"
        if is_type_too:
            choices: tuple[Meaning, ...] = (Meaning.OPERATION, Meaning.MARK)
        else:
            choices = (Meaning.MARK,)
            claims.chosen[Meaning.MARK] = guess.meant_as(Meaning.MARK, confidence=_DOUBTFUL_MARK)
        claims.questions.append(question_about(guess, choices, why=why))
        return


def _ask_for_quantity(claims: Claims, guesses: Sequence[Guess]) -> None:
    """Ask about columns of small whole numbers where no column is known to give quantities; read the likeliest so."""
    quantity = claims.chosen.get(Meaning.QUANTITY)
    if claims.counts or (quantity and not quantity.choices):
        return
    read = claims.indexes
    unread = [guess for guess in guesses if guess.index not in read and not guess.is_settled]
    candidates = [guess for guess in unread if are_small_counts(guess.samples)]
    for guess in sorted(candidates, key=lambda guess: is_foreign(guess.text)):
        if Meaning.QUANTITY in claims.chosen or is_foreign(guess.text):
            asked = question_whether(guess, Meaning.QUANTITY)
        else:
            claims.chosen[Meaning.QUANTITY] = guess.meant_as(Meaning.QUANTITY, confidence=_DOUBTFUL_QUANTITY)
            why = f"{guess.named} holds small whole numbers, and no column is headed as the quantity"
            asked = question_about(guess, (Meaning.QUANTITY,), why=why)
        claims.questions = [one for one in claims.questions if one.field != asked.field]
        claims.questions.append(asked)


def _complete(claims: Claims) -> None:
    """Take a bare Width or Height to the other kind where that lacks it, and ask."""
    for have, lack, bare, bare_partner in _CROSSWISE:
        guess = claims.chosen.get(bare)
        if not _is_lacking(claims, have, lack) or bare_partner in claims.chosen or not _is_bare(guess):
            continue
        del claims.chosen[bare]
        claims.questions = [question for question in claims.questions if question.heading != guess.text]
        why = f"{guess.named} says of no side whether it is of the rough opening; {claims.chosen[have].named} is"
        _ask_as(claims, replace(guess, confidence=_DOUBTFUL_SIDE), (lack, bare), why=why)


def _is_bare(guess: Guess | None) -> TypeGuard[Guess]:
    """Return whether a heading says Width or Height and not of what."""
    return guess is not None and not guess.is_settled and guess.heading is not None and guess.heading.caveat != ""


def _is_lacking(claims: Claims, have: Meaning, lack: Meaning) -> bool:
    return have in claims.chosen and lack not in claims.chosen


def _keep_one_way(claims: Claims, width: Meaning, height: Meaning, size: Meaning) -> None:
    """Drop the pair of columns or the column of whole sizes: the less plain one, or the unfinished pair."""
    chosen = claims.chosen
    pair = [chosen[meaning] for meaning in (width, height) if meaning in chosen]
    whole = chosen.get(size)
    if not pair or (len(pair) == 2 and not whole):
        return
    if whole and len(pair) == 2 and max(map(_rank, pair)) <= _rank(whole):
        del chosen[size]
        return
    if not whole and not (claims.questions and is_enough(set(chosen) - {width, height})):
        raise BadSchedule(f"The column {pair[0].named} has no partner; give width and height both.")
    for meaning in (width, height):
        if meaning in chosen:
            dropped = chosen.pop(meaning)
            if not whole:
                why = f"{dropped.named} has no partner, so it is not read"
                claims.questions.append(question_about(dropped, (meaning,), why=why))


def _rank(guess: Guess) -> int:
    return guess.heading.rank if guess.heading else 0


def _not_enough(claims: Claims, guesses: Sequence[Guess]) -> str:
    understood = ", ".join(guess.named for guess in guesses if guess.heading)
    found = f"The table has the headings {understood}" if understood else "The table has no heading that is understood"
    return f"{found}, but a schedule needs {NEEDED}."
