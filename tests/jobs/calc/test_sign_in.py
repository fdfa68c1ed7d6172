"""How long wrong passwords make the next try wait."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from jobs.calc.sign_in import (
    LOG_KEPT_FOR,
    WAITS_BY_ADDRESS,
    WAITS_BY_NAME,
    WrongTries,
    counted_name,
    network_of,
    waits_until,
)

AT = datetime(2026, 11, 30, 14, 0, tzinfo=UTC)
ALLOWED_IN_A_ROW = 100


@pytest.mark.parametrize(
    ("count", "wait"),
    [
        (0, None),
        (2, None),
        (3, timedelta(seconds=2)),
        (6, timedelta(seconds=10)),
        (10, timedelta(minutes=15)),
        (1000, timedelta(days=7)),
    ],
)
def test_wrong_passwords_of_a_name_are_slowed_then_locked(count, wait):
    until = waits_until(WrongTries(count=count, last_at=AT), WAITS_BY_NAME)
    assert until == (wait and AT + wait)


# NIST SP 800-63B-4, 3.2.2: no more than 100 failed tries in a row of one account.
def test_whoever_tries_at_each_first_moment_stays_below_what_nist_allows():
    tries, now = 0, AT
    while now < AT + LOG_KEPT_FOR:
        tries += 1
        now = waits_until(WrongTries(count=tries, last_at=now), WAITS_BY_NAME) or now
    assert tries < ALLOWED_IN_A_ROW


@pytest.mark.parametrize("waits", [WAITS_BY_NAME, WAITS_BY_ADDRESS], ids=["name", "address"])
def test_waits_grow(waits):
    assert list(waits) == sorted(waits)
    assert len({wait for _, wait in waits}) == len(waits)


# Addresses for documentation: RFC 5737, RFC 3849. Mapped ones: RFC 4291, 2.5.5.2.
@pytest.mark.parametrize(
    ("address", "network"),
    [
        ("198.51.100.3", "198.51.100.3"),
        ("::ffff:198.51.100.3", "198.51.100.3"),
        ("2001:db8::1", "2001:db8::/64"),
        ("2001:db8::ffff:1", "2001:db8::/64"),
        ("::1", ""),
        ("127.8.8.8", ""),
    ],
)
def test_what_one_customer_has_counts_as_one_address(address, network):
    assert network_of(address) == network


def test_capitals_make_no_other_name():
    assert counted_name("INÉS") == counted_name("inés")
