"""What a crew's day says on the board, as a mark that is another one once it says anything else."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal
from hashlib import blake2b
from typing import TypeAlias

from openings.calc.figures import plain

Placed: TypeAlias = tuple[int, str, datetime]
"""One opening of a day: its assignment, its state, and when the opening was changed last."""


def day_version(
    capacity_person_h: Decimal, off_reason: str, placed: Iterable[Placed], *, driven_person_h: Decimal
) -> str:
    """Return the version of a crew's day: 16 hexadecimal digits.

    >>> idle = day_version(Decimal(24), "", [], driven_person_h=Decimal(0))
    >>> idle == day_version(Decimal("24.00"), "", [], driven_person_h=Decimal("0.00"))
    True
    """
    says = [plain(capacity_person_h), plain(driven_person_h), off_reason]
    says += sorted(f"{pk} {state} {at.timestamp()}" for pk, state, at in placed)
    return blake2b("\n".join(says).encode(), digest_size=8).hexdigest()
