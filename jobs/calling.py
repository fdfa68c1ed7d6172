"""Calling a program elsewhere over HTTP: one POST, to an address that may be called, bounded in time."""

from __future__ import annotations

import ipaddress
import socket
import ssl
from collections.abc import Mapping
from contextlib import closing
from http.client import HTTPConnection, HTTPException, HTTPSConnection
from threading import Timer
from typing import Final
from urllib.parse import SplitResult, urlsplit

LIMIT_S: Final = 10.0
"""How long one call may take, from the connection to the first line of the answer (our choice)."""

NAT64: Final = ipaddress.IPv6Network("64:ff9b::/96")

Address = ipaddress.IPv4Address | ipaddress.IPv6Address


class NotCalled(Exception):
    """A call had no answer, or was not made; it says why."""


def refusal_of(url: str, *, may_be_private: bool) -> str:
    """Return why an address is never called, or an empty text; where its name leads is looked at when it is called.

    >>> refusal_of("https://hooks.example.test/windows", may_be_private=False)
    ''
    >>> refusal_of("https://127.0.0.1/", may_be_private=False)
    '127.0.0.1 is an address of a private network, which is not called from here'

    Args:
        may_be_private: whether plain HTTP and addresses of private networks are allowed.
    """
    try:
        parts = urlsplit(url)
        host, _port = parts.hostname, parts.port
    except ValueError:
        return "this is no address; write one like https://hooks.example.test/windows"
    if parts.scheme not in ({"https", "http"} if may_be_private else {"https"}) or not host:
        return "the address begins with https:// and the name of a server, such as https://hooks.example.test/windows"
    if parts.username is not None or parts.password is not None:
        return "the address holds no name and password: what is sent is signed"
    if not may_be_private and (host == "localhost" or _is_private(host)):
        return f"{host} is an address of a private network, which is not called from here"
    return ""


def call(url: str, *, body: bytes, headers: Mapping[str, str], may_be_private: bool) -> int:
    """Send a body and return the status of the answer. A redirect is an answer like any other: it is not followed.

    The name is looked up once, every address that it has is checked, and that is what is connected to, so a name
    cannot lead elsewhere between the check and the call.

    Args:
        may_be_private: as `refusal_of`.

    Raises:
        NotCalled: the address may not be called, does not answer, or answers with what is no HTTP.
    """
    if why := refusal_of(url, may_be_private=may_be_private):
        raise NotCalled(why)
    parts = urlsplit(url)
    connection = _connection(parts, _where(parts, may_be_private=may_be_private))
    path = f"{parts.path or '/'}{f'?{parts.query}' if parts.query else ''}"
    late = Timer(LIMIT_S, _cut, [connection])
    late.daemon = True
    late.start()
    try:
        with closing(connection):
            connection.request("POST", path, body=body, headers=dict(headers))
            return connection.getresponse().status
    except (OSError, HTTPException, ValueError) as error:
        raise NotCalled(_said(error)) from error
    finally:
        late.cancel()


class _Plain(HTTPConnection):
    """A connection to an address that was looked up before."""

    def __init__(self, host: str, port: int | None, at: str) -> None:
        super().__init__(host, port, timeout=LIMIT_S)
        self._at = at

    def connect(self) -> None:
        self.sock = socket.create_connection((self._at, self.port), self.timeout)


class _Secure(HTTPSConnection):
    """The same over TLS; the certificate is that of the name."""

    def __init__(self, host: str, port: int | None, at: str) -> None:
        self._tls = ssl.create_default_context()
        super().__init__(host, port, timeout=LIMIT_S, context=self._tls)
        self._at = at

    def connect(self) -> None:
        plain = socket.create_connection((self._at, self.port), self.timeout)
        self.sock = self._tls.wrap_socket(plain, server_hostname=self.host)


def _connection(parts: SplitResult, at: str) -> HTTPConnection:
    kind = _Secure if parts.scheme == "https" else _Plain
    return kind(parts.hostname or "", parts.port, at)


def _where(parts: SplitResult, *, may_be_private: bool) -> str:
    """Return the first address that a name has, where all that it has may be called."""
    try:
        found = socket.getaddrinfo(parts.hostname, parts.port or parts.scheme, type=socket.SOCK_STREAM)
    except (OSError, UnicodeError) as error:
        raise NotCalled(f"there is no server {parts.hostname}") from error
    places = [str(place[4][0]) for place in found]
    if not may_be_private and any(map(_is_private, places)):
        raise NotCalled(f"{parts.hostname} leads into a private network, which is not called from here")
    return places[0]


def _is_private(host: str) -> bool:
    """Return whether a text is an address that the open net does not reach; a name is none."""
    try:
        address: Address = ipaddress.ip_address(host.partition("%")[0])
    except ValueError:
        return False
    inner = _within(address)
    return not inner.is_global or inner.is_multicast


def _within(address: Address) -> Address:
    """Return the IPv4 address that an IPv6 address stands for, where it does.

    Source:
        RFC 4291 section 2.5.5.2 (mapped), RFC 6052 section 2.1 (NAT64), RFC 3056 section 2 (6to4).
    """
    if isinstance(address, ipaddress.IPv4Address):
        return address
    if address in NAT64:
        return ipaddress.IPv4Address(address.packed[-4:])
    return address.ipv4_mapped or address.sixtofour or address


def _cut(connection: HTTPConnection) -> None:
    """End a connection on which somebody sends just enough to keep it open."""
    if connection.sock:
        try:
            connection.sock.shutdown(socket.SHUT_RDWR)
        except OSError:
            return


def _said(error: Exception) -> str:
    if isinstance(error, TimeoutError):
        return f"no answer within {LIMIT_S:.0f} seconds"
    if isinstance(error, ssl.SSLError):
        return "its certificate is not valid, or it speaks no TLS"
    if isinstance(error, ConnectionRefusedError):
        return "nobody listens at that address"
    return "the connection ended without an answer"
