"""Mail: kept as letters, and sent until a mail server takes them."""

from __future__ import annotations

from jobs.models import Letter, Person
from jobs.services.row import add


def mail(*, address: str, subject: str, text: str, person: Person | None = None) -> Letter:
    """Keep a letter, which the minute sends; call it in the transaction of the verb.

    Args:
        address: one e-mail address.
        text: plain text.
        person: whose notices it tells, where it tells notices.

    Raises:
        ValidationError: the address is none, or the subject is too long.
    """
    return add(Letter(address=address, subject=subject, text=text, person=person))
