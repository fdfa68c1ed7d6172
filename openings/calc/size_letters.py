"""The letters w and h by which a written size tells its two sides apart."""

from __future__ import annotations

import re

from openings.errors import BadLength

RIGHT = """write it width first, like 3'-0" x 4'-6", 36 x 54, 5/0 x 4/6, 3046 or 915 x 1370 mm"""
"""What a refusal of a size ends with."""

WIDE_OR_HIGH = r"(?:w(?:ide|idth|d)?|h(?:igh|eight|t)?)"
_LABEL = re.compile(
    rf"(?:(?P<before>{WIDE_OR_HIGH})\.?[ :=-]*(?=[\d.]))?(?P<side>.*?)(?: ?\(?\b(?P<after>{WIDE_OR_HIGH})\.?\)?)?"
)
_GLUED_LABEL = re.compile(r"(?<=[\d\"'])(?=[wh]$)")
_LABELLED_SIDES = (
    re.compile(
        rf"(?P<first>(?P<one>{WIDE_OR_HIGH})\.?[ :=-]*[\d.][^a-z]*(?:[a-vyz][a-z.]*)?)[ ,;/&+]*"
        rf"(?P<second>(?P<other>{WIDE_OR_HIGH})\.?[ :=-]*[\d.].*)"
    ),
    re.compile(
        rf"(?P<first>[\d.][^a-z]*(?:(?:in|ft|mm|cm|m|feet|foot|inch|inches)\b\.?)? ?"
        rf"\(?(?P<one>{WIDE_OR_HIGH})\b\.?\)?)"
        rf"[ ,;/&+-]*(?P<second>[\d.].*? ?\(?(?P<other>{WIDE_OR_HIGH})\.?\)?)"
    ),
)
"""Both sides with their letters and no x between them: W 36" H 54", 36"w 54"h."""


def labelled_sides(tidy: str) -> list[str]:
    """Return the two sides of a size that tells them apart by letters alone, or nothing."""
    for pattern in _LABELLED_SIDES:
        found = pattern.fullmatch(tidy)
        if found and found["one"][0] != found["other"][0]:
            return [found["first"].rstrip(" ,;/&+"), found["second"]]
    return []


def unlabelled(parts: list[str], *, text: str) -> tuple[tuple[str, str], tuple[str, str]]:
    """Return the letters w and h that stand at the two sides, and the sides without them."""
    found = [_LABEL.fullmatch(_GLUED_LABEL.sub(" ", part)) for part in parts]
    labels = [(match["before"] or match["after"] or "")[:1] if match else "" for match in found]
    sides = [match["side"] if match else part for match, part in zip(found, parts, strict=True)]
    if labels[0] and labels[0] == labels[1]:
        raise BadLength(f"“{text}” gives the same side twice; {RIGHT}")
    return (labels[0], labels[1]), (sides[0], sides[1])
