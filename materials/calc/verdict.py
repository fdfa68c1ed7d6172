"""What a cutting plan comes to, in words."""

from __future__ import annotations

from jobs.calc.say import counted, plural


def verdict(rolls_new: int, at_least: int, package: str, is_anything_cut: bool) -> str:
    """Return how many new rolls a plan takes and whether fewer would do.

    >>> verdict(4, 4, "roll", is_anything_cut=True)
    '4 rolls; no plan needs fewer'
    >>> verdict(5, 4, "roll", is_anything_cut=True)
    '5 rolls; at least 4 are needed'

    Args:
        at_least: no plan takes fewer new rolls.
        package: what one is called.
        is_anything_cut: whether the plan has a roll or remnant at all.
    """
    if not rolls_new:
        return f"cut from remnants; no new {package}" if is_anything_cut else "nothing to cut"
    count = counted(rolls_new, package)
    if at_least >= rolls_new:
        return f"{count}; no plan needs fewer"
    if not at_least:
        return f"{count}; whether remnants alone would do is not proven"
    return f"{count}; at least {at_least} {plural('is', at_least)} needed"
