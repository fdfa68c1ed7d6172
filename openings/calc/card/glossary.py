"""The words of the trade that stand on a card, for somebody who hears them for the first time; our own wording."""

from __future__ import annotations

from typing import NamedTuple

from jobs.calc.sentence import Sentence


class Word(NamedTuple):
    """A word of the trade and what it means."""

    word: Sentence
    means: Sentence


GLOSSARY = (
    Word(Sentence("rough opening (RO)"), Sentence("The hole in the framing that the unit goes into.")),
    Word(Sentence("unit"), Sentence("The window with its frame, as it comes from the factory.")),
    Word(Sentence("sill, jamb, head"), Sentence("The bottom, the side and the top of an opening.")),
    Word(Sentence("trimmer"), Sentence("The stud at each side of the rough opening.")),
    Word(Sentence("sheathing"), Sentence("The boards on the outside of the framing.")),
    Word(
        Sentence("WRB"),
        Sentence(
            "Weather-resistive barrier: the paper or wrap behind the siding that sheds the rain that gets through."
        ),
    ),
    Word(
        Sentence("strip"), Sentence("Flashing along one side of the opening; each upper one laps over the lower one.")
    ),
    Word(Sentence("pan"), Sentence("Membrane over the sill that catches water and lets it run out to the front.")),
    Word(Sentence("back dam"), Sentence("The inner edge of the pan, turned up so that no water runs into the house.")),
    Word(Sentence("turn-up"), Sentence("The end of the pan, turned up against the trimmer.")),
    Word(Sentence("flange"), Sentence("The flat fin around a unit, through which it is fastened to the wall.")),
    Word(Sentence("casing"), Sentence("The flat trim around a wood unit that lies on the wall.")),
    Word(Sentence("bead"), Sentence("A line of sealant.")),
    Word(
        Sentence("squeeze-out"),
        Sentence("Sealant that shows along the edge once the unit is pressed into its bead: proof that it is full."),
    ),
    Word(Sentence("tool a bead"), Sentence("Press it smooth with a rounded knife so that it sticks to both sides.")),
    Word(
        Sentence("backer rod"), Sentence("Foam rope in a gap: the sealant sticks to the two sides and not to the back.")
    ),
    Word(Sentence("shims"), Sentence("Thin wedges, always in pairs from both sides, that hold the unit where it is.")),
    Word(Sentence("drip cap"), Sentence("Metal flashing over the head that throws water off in front of the trim.")),
    Word(Sentence("upright leg"), Sentence("The part of a drip cap that stands against the wall.")),
)
