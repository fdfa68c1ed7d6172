from __future__ import annotations

import pytest

from jobs.calc.signature import hmac_sha256, signature

# RFC 4231, test cases 1, 2, 3 and 6: key, text, HMAC-SHA-256
CASES = [
    (b"\x0b" * 20, b"Hi There", "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7"),
    (b"Jefe", b"what do ya want for nothing?", "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843"),
    (b"\xaa" * 20, b"\xdd" * 50, "773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe"),
    (
        b"\xaa" * 131,
        b"Test Using Larger Than Block-Size Key - Hash Key First",
        "60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54",
    ),
]


@pytest.mark.parametrize(("key", "text", "mac"), CASES)
def test_the_code_is_that_of_the_standard(key, text, mac):
    assert hmac_sha256(key, text) == mac


def test_time_and_body_are_signed():
    assert signature("Jefe", sent_at=7, body=b"{}") == hmac_sha256(b"Jefe", b"7.{}")
