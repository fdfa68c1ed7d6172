"""How long a token lasts, and how long the next try to sign in waits after wrong ones, by name and by address."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from ipaddress import IPv6Address, ip_address, ip_network
from typing import Final

Waits = Sequence[tuple[int, timedelta]]
"""From so many wrong tries on, how long after the last one the next is not looked at; rising."""

LOG_KEPT_FOR: Final = timedelta(days=90)
"""How long sign-ins are kept, and so how long wrong ones count against a name (our choice)."""

WAITS_BY_NAME: Final[Waits] = (
    (3, timedelta(seconds=2)),
    (5, timedelta(seconds=10)),
    (7, timedelta(minutes=1)),
    (10, timedelta(minutes=15)),
    (20, timedelta(hours=2)),
    (30, timedelta(days=1)),
    (40, timedelta(days=7)),
)
"""Of a name, since its password was last right: slowed from the 3rd on, locked from the 10th on.

Source:
    NIST SP 800-63B-4, 3.2.2 "Rate Limiting (Throttling)": at most 100 wrong tries in a row of one account, with waits
    that grow on the way there. The steps are our choice; with them somebody who tries at each first moment gets to
    fewer than 60 while the log is kept.
"""

WAITS_BY_ADDRESS: Final[Waits] = (
    (20, timedelta(seconds=5)),
    (30, timedelta(minutes=1)),
    (50, timedelta(hours=1)),
)
"""Of an address, whatever the names, within a day (our choice: an office shares one address, and people mistype)."""

ADDRESS_COUNTS_FOR: Final = timedelta(days=1)

KNOWN_FOR: Final = timedelta(days=30)
"""So long an address is known for a name that signed in from it: what others try elsewhere locks nobody out there."""

MOST_TOKEN_DAYS: Final = 365
"""How long a token may last (our choice): whoever forgets it is asked about it once a year."""

_IPV6_OF_ONE_CUSTOMER: Final = 64


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongTries:
    """Wrong tries of one name or from one address.

    Args:
        last_at: when the last of them was, None where there was none.
    """

    count: int
    last_at: datetime | None


def waits_until(tries: WrongTries, waits: Waits) -> datetime | None:
    """Return until when the next try is not looked at, or None where nothing keeps it.

    >>> tries = WrongTries(count=5, last_at=datetime(2026, 11, 30, 14, 0))
    >>> waits_until(tries, WAITS_BY_NAME)
    datetime.datetime(2026, 11, 30, 14, 0, 10)
    """
    wait = max((wait for count, wait in waits if count <= tries.count), default=None)
    return tries.last_at + wait if wait is not None and tries.last_at else None


def network_of(address: str) -> str:
    """Return what wrong tries from an address are counted by; nothing where that would say nothing of who tries.

    One customer has a whole /64 of IPv6 addresses (RFC 6177, section 2). What comes from this machine itself came by a
    proxy that does not say from where.

    >>> network_of("203.0.113.7"), network_of("2001:db8:1:2:a:b:c:d"), network_of("127.0.0.1"), network_of("")
    ('203.0.113.7', '2001:db8:1:2::/64', '', '')
    """
    if not address:
        return ""
    read = ip_address(address)
    if isinstance(read, IPv6Address):
        if read.ipv4_mapped is None:
            network = str(ip_network((read, _IPV6_OF_ONE_CUSTOMER), strict=False))
            return "" if read.is_loopback else network
        read = read.ipv4_mapped
    return "" if read.is_loopback else str(read)


def counted_name(name: str) -> str:
    """Return how a name is counted: names that differ by their capitals alone are one.

    >>> counted_name(" Ines ")
    'ines'
    """
    return name.strip().casefold()
