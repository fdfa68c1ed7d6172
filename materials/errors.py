"""Errors of what the openings use up."""

from __future__ import annotations

from jobs.errors import BadInput, Conflict


class PieceTooLong(BadInput):
    """A piece of membrane is longer than the roll it is to be cut from."""

    code = "piece-too-long"


class NothingAssigned(Conflict):
    """A pull sheet was asked for a crew and a day without any opening."""

    code = "nothing-assigned"
