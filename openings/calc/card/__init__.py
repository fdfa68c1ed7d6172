"""The field card: each step of an opening with a drawing and the measures that a crew lays it by."""

from openings.calc.card.card import CardStep, Example, card_of
from openings.calc.card.cautions import STANDING, Standing
from openings.calc.card.glossary import GLOSSARY, Word
from openings.calc.card.pan import FlatPan, flat_pan
from openings.calc.card.sketch import Box, Dot, Line, Measure, Note, Sketch
from openings.calc.card.subject import Seal

__all__ = [
    "GLOSSARY",
    "STANDING",
    "Box",
    "CardStep",
    "Dot",
    "Example",
    "FlatPan",
    "Line",
    "Measure",
    "Note",
    "Seal",
    "Sketch",
    "Standing",
    "Word",
    "card_of",
    "flat_pan",
]
