"""What stands on every card: where the work hurts people, and what goes before the card."""

from __future__ import annotations

from typing import NamedTuple

from jobs.calc.sentence import Sentence


class Standing(NamedTuple):
    """A caution under its topic."""

    topic: Sentence
    text: Sentence


STANDING = (
    Standing(
        Sentence("Lifting"),
        Sentence(
            "Lift with the people and aids that the pull sheet names, and stop where the grip, the wind or the footing "
            "is bad. Somebody holds the unit until it is fastened."
        ),
    ),
    Standing(
        Sentence("Glass"),
        Sentence(
            "Wear cut-resistant gloves and sleeves and eye protection. Carry the unit on edge; nobody stands below it."
        ),
    ),
    Standing(
        Sentence("Heights"),
        Sentence(
            "An open rough opening is a fall hazard until the unit is anchored: guard it or tie off. Ladders and "
            "scaffolds are set up and checked by the site's competent person."
        ),
    ),
    Standing(
        Sentence("Lead paint"),
        Sentence(
            "In a house from before 1978, old paint counts as lead paint until a test says otherwise, and a certified "
            "renovator directs the work that disturbs it."
        ),
    ),
    Standing(
        Sentence("Anchorage"),
        Sentence(
            "The fasteners and straps drawn here follow the installation detail; they are no design. What the maker's "
            "product approval or a licensed engineer asks for rules."
        ),
    ),
    Standing(
        Sentence("Above all"),
        Sentence(
            "Local code, the manufacturer's instructions and licensed practice come before this card. In doubt, stop "
            "and ask."
        ),
    ),
)
"""Lead paint: 40 CFR part 745 subpart E (housing built before 1978). The rest: common practice, no source."""
