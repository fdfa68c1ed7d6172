"""Names that a caller may send: one that nobody knows is refused with the nearest that is known, never passed over."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from difflib import get_close_matches
from itertools import islice
from typing import Any, TypeVar

from django.db.models import Model
from rest_framework import serializers

Row = TypeVar("Row", bound=Model)

LONGEST_SHOWN = 60
LIKE_ENOUGH = 0.5
FEW = 8
"""So many known names are all told where none is near."""

FAULTS_TOLD = 20
"""So many unknown names are told; to look for what is near takes time."""


def no_such(name: object, known: Collection[str], *, kind: str) -> str:
    """Return the sentence for a name that is not known, with the nearest that is.

    >>> no_such("marc", ["mark", "floor"], kind="field")
    'there is no field “marc”; did you mean “mark”?'
    """
    said = str(name)[:LONGEST_SHOWN]
    if near := get_close_matches(said, known, n=1, cutoff=LIKE_ENOUGH):
        return f"there is no {kind} “{said}”; did you mean “{near[0]}”?"
    if not known:
        return f"there is no {kind} “{said}”; nothing is asked here"
    listed = sorted(known)
    told = ", ".join(listed[:FEW]) + (", …" if len(listed) > FEW else "")
    return f"there is no {kind} “{said}”; there is {told}"


def unknown(names: Iterable[object], known: Collection[str], *, kind: str) -> dict[str, str]:
    """Return the sentences for the names that are not known, by name; of very many, those for the first."""
    wrong = islice((name for name in names if name not in known), FAULTS_TOLD)
    return {str(name)[:LONGEST_SHOWN]: no_such(name, known, kind=kind) for name in wrong}


class KnownNames(serializers.Serializer[Any]):
    """A body in which every name is known. Those that are only read may be sent back, and change nothing."""

    def to_internal_value(self, data: Any) -> Any:
        if isinstance(data, Mapping):
            known = [name for name, field in self.fields.items() if not isinstance(field, serializers.HiddenField)]
            if wrong := unknown(data, known, kind="field"):
                raise serializers.ValidationError(wrong, code="unknown-name")
        return super().to_internal_value(data)


class ModelBody(KnownNames, serializers.ModelSerializer[Row]):
    """A row as JSON, in which every name is known."""


class Nothing(KnownNames):
    """The body of a verb that is told by its address alone."""
