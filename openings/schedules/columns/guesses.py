"""What each column of a table seems to mean: settled, plain, likely or open."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from openings.schedules.columns.samples import are_counts, are_feet_and_inches, are_small_counts, beneath, fits, rows_of
from openings.schedules.grid import Cell, column_letter
from openings.schedules.headings.levels import floor_counted, may_count
from openings.schedules.headings.plain import Heading, height_stated_first, is_foreign, read_heading, unit_named
from openings.schedules.headings.similar import LIKELY, MARGIN, POSSIBLE, similar_headings
from openings.schedules.layout import LENGTHS, SIDES_IN, WHOLE_SIZES, ColumnAnswer, Meaning
from openings.schedules.lines.asides import sets_rows_apart
from openings.schedules.tables.table import Table

UNKNOWN = Decimal("0.7")
"""How sure it is that a column need not be read whose heading resembles none (our choice)."""

_MOST_LIKENED = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """What a column seems to mean.

    Args:
        text: its heading; without one, its letter.
        samples: different texts beneath it.
        heading: None if it is not read.
        choices: what it may mean, the likeliest first; empty if there is nothing to ask.
        is_settled: whether a person said so.
        leave_out: the values of rows that are left out; None if nobody settled it.
        feet_at: the column of the feet to which the inches of this one belong; None if it stands for itself.
    """

    index: int
    text: str
    samples: tuple[str, ...] = ()
    heading: Heading | None = None
    choices: tuple[Meaning, ...] = ()
    is_settled: bool = False
    confidence: Decimal = Decimal(1)
    leave_out: tuple[str, ...] | None = None
    feet_at: int | None = None

    @property
    def letter(self) -> str:
        return column_letter(self.index)

    @property
    def meaning(self) -> Meaning | None:
        return self.heading.meaning if self.heading else None

    def meant_as(self, meaning: Meaning, *, confidence: Decimal | None = None) -> Guess:
        """Return the guess that the column has that meaning, with nothing left to assume about it."""
        sure = self.confidence if confidence is None else confidence
        heading = replace(self.heading or Heading(meaning=meaning), meaning=meaning, caveat="", confidence=sure)
        return replace(self, heading=_with_order(heading, self.text), confidence=sure)

    @property
    def named(self) -> str:
        """Return the words for the column within a sentence."""
        return f"“{self.text}” ({self.letter})"


def guesses_of(table: Table, settled: Mapping[int, ColumnAnswer]) -> list[Guess]:
    """Return a guess for every column that has a heading or was settled, from left to right."""
    block = table.block
    rows = rows_of(table.grid.lines, first=block.bottom, last=table.last_line)
    found: list[Guess] = []
    for index in sorted({*block.texts, *settled, *_unheaded(table, rows)}):
        guess = Guess(
            index=index,
            text=block.texts.get(index) or f"column {column_letter(index)}",
            samples=beneath(rows, index, heading=block.texts.get(index, "")),
        )
        found.append(_as_settled(guess, settled[index]) if index in settled else _guessed(guess, len(found)))
    return _with_inches(_with_counts(found), headed=block.texts)


def _with_inches(guesses: Sequence[Guess], *, headed: Container[int]) -> list[Guess]:
    """Return the guesses with the inches of lengths joined to the column that has their feet.

    They stand right of it under the same heading or under none but the unit, or a person said so of both. Under no
    heading at all, or where only theirs names a unit, they are joined and asked about.
    """
    found = list(guesses)
    for at, feet in enumerate(guesses):
        if feet.heading is None or feet.meaning not in SIDES_IN or feet.heading.unit not in ("", "ft"):
            continue
        inches = replace(feet.heading, unit="in", is_settled=True)
        for place, guess in enumerate(found):
            if guess.feet_at is not None or guess is feet:
                continue
            if feet.heading.unit == "ft" and _are_inches_of(feet, guess):
                found[place] = replace(guess, heading=inches, choices=(), feet_at=feet.index)
                break
            has_name = guess.index in headed and not _names_inches(guess)
            if not has_name and _may_be_inches_of(feet, guess):
                choices = () if guess.is_settled else (inches.meaning,)
                found[at] = replace(feet, heading=replace(feet.heading, unit="ft", is_settled=True))
                found[place] = replace(guess, heading=inches, choices=choices, feet_at=feet.index, confidence=LIKELY)
                break
    return found


def _may_be_inches_of(feet: Guess, guess: Guess) -> bool:
    """Return whether a column without a name of its own, right of a length, can have its inches, or is said to."""
    is_right = guess.index == feet.index + 1 and are_feet_and_inches(feet.samples, guess.samples)
    is_said = guess.heading is not None and guess.meaning is feet.meaning and guess.heading.unit in ("", "in")
    return is_right and bool(feet.samples) and (is_said if guess.is_settled else True)


def _are_inches_of(feet: Guess, guess: Guess) -> bool:
    is_same = guess.meaning is feet.meaning and guess.heading is not None and guess.heading.unit == "in"
    if feet.is_settled and guess.is_settled:
        return is_same
    is_bare = guess.index == feet.index + 1 and not guess.is_settled and _names_inches(guess)
    return (is_same or is_bare) and are_feet_and_inches(feet.samples, guess.samples)


def _names_inches(guess: Guess) -> bool:
    """Return whether a heading says inches and nothing else."""
    return unit_named(guess.text) == "in"


def _unheaded(table: Table, rows: Sequence[list[Cell]]) -> Iterator[int]:
    """Yield the columns in or next to a table without a heading that hold small whole numbers or inches, or that say
    of rows that they are no windows of the work.
    """
    texts = table.block.texts
    if not texts:
        return
    width = len(table.grid.lines[0])
    for index in range(max(0, table.reach.start - 1), min(width, table.reach.stop + 1)):
        is_free = index not in texts and (table.columns is None or index in table.columns)
        samples = beneath(rows, index, heading="") if is_free else ()
        is_of_figures = bool(samples) and (are_small_counts(samples) or are_feet_and_inches((), samples))
        if is_of_figures or sets_rows_apart(samples):
            yield index


def _as_settled(guess: Guess, says: ColumnAnswer) -> Guess:
    guess = replace(guess, is_settled=True, leave_out=says.leave_out)
    if says.meaning is None:
        return guess
    plain = read_heading(guess.text)
    if plain is None or plain.meaning is not says.meaning:
        plain = Heading(meaning=says.meaning, unit=plain.unit if plain else "")
    plain = _with_order(plain, guess.text, says.height_first)
    heading = replace(
        plain,
        rank=0,
        unit=says.unit or plain.unit,
        floor=says.floor or (floor_counted(guess.text) or guess.text if says.meaning is Meaning.COUNT_ON_FLOOR else ""),
        is_settled=bool(says.unit) or says.meaning not in LENGTHS,
        confidence=Decimal(1),
    )
    return replace(guess, heading=heading)


def _with_order(heading: Heading, text: str, settled: bool | None = None) -> Heading:
    """Return the heading with the order of the sides that is settled, or else stated by its text.

    Where neither says, width first is sure only of a heading that is known to mean a size.
    """
    stated = height_stated_first(text) if settled is None else settled
    plain = read_heading(text)
    is_known = stated is not None or (plain is not None and plain.meaning in WHOLE_SIZES)
    return replace(heading, height_first=bool(stated), is_order_known=is_known)


def _guessed(guess: Guess, number: int) -> Guess:
    """Return the meaning that a heading states or resembles; of very many headings only the first are compared."""
    if heading := read_heading(guess.text):
        return replace(guess, heading=heading, confidence=heading.confidence)
    if is_foreign(guess.text):
        return guess
    floor = floor_counted(guess.text)
    if floor and are_counts(guess.samples):
        return replace(guess, heading=Heading(meaning=Meaning.COUNT_ON_FLOOR, floor=floor))
    return _likely(guess) if number < _MOST_LIKENED else replace(guess, confidence=UNKNOWN)


def _likely(guess: Guess) -> Guess:
    """Return the guess with the likeliest meaning of a heading that is not plain, and what else it may mean."""
    similar = [one for one in similar_headings(guess.text) if _goes_with(one.heading)]
    if not similar:
        return replace(guess, confidence=UNKNOWN)
    best = similar[0]
    rest = similar[1].score if len(similar) > 1 else Decimal(0)
    is_fitting = fits(best.heading.meaning, guess.samples)
    if best.score >= LIKELY and best.score - rest >= MARGIN and is_fitting:
        return replace(guess, heading=_with_order(best.heading, guess.text), confidence=best.score)
    open_ones = [one for one in similar if one.score >= max(POSSIBLE, best.score - 2 * MARGIN)]
    fitting = [one for one in open_ones if fits(one.heading.meaning, guess.samples)]
    if not fitting and best.score < LIKELY:
        return replace(guess, confidence=UNKNOWN)
    fitting = fitting or [best]
    choices = tuple(one.heading.meaning for one in fitting)
    likeliest = _with_order(fitting[0].heading, guess.text)
    return replace(guess, heading=likeliest, choices=choices, confidence=min(fitting[0].score, LIKELY))


def _goes_with(heading: Heading) -> bool:
    """Return whether the unit of a heading goes with its meaning."""
    if heading.unit in ("lb", "kg"):
        return heading.meaning is Meaning.WEIGHT
    return not heading.unit or heading.meaning in LENGTHS


def _with_counts(guesses: Sequence[Guess]) -> list[Guess]:
    """Return the guesses with what may be counts of a side or a house, beside others like it."""
    counts = {guess.index for guess in guesses if guess.meaning is Meaning.COUNT_ON_FLOOR}
    odd = {guess.index for guess in guesses if _is_open(guess) and may_count(guess.text) and are_counts(guess.samples)}
    blank = {guess.index for guess in guesses if _is_open(guess) and floor_counted(guess.text) and not guess.samples}
    beside = {index for index in odd if {index - 1, index + 1} & (odd | counts)}
    found = []
    for guess in guesses:
        floor = floor_counted(guess.text) or guess.text
        heading = Heading(meaning=Meaning.COUNT_ON_FLOOR, floor=floor)
        if counts and guess.index in blank:
            found.append(replace(guess, heading=heading, choices=(), confidence=LIKELY))
        elif guess.index in beside:
            found.append(replace(guess, heading=heading, choices=(Meaning.COUNT_ON_FLOOR,), confidence=POSSIBLE))
        else:
            found.append(guess)
    return found


def _is_open(guess: Guess) -> bool:
    return not guess.is_settled and guess.confidence < Decimal("0.9")
