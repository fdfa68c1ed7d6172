"""What can go wrong with the embedded servers, in sentences for the person at the terminal."""

from __future__ import annotations


class ServiceError(Exception):
    """A server or another program of ours did not come up or did not stay up."""


class InUse(ServiceError):
    """Another process already runs the servers on this data folder."""
