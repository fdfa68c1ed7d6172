"""What may not change of a row."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from jobs.names import Row


def refuse_change(serializer: serializers.ModelSerializer[Row], values: dict[str, Any], *fields: str) -> None:
    """Return if none of `fields` differs from what the row already says.

    Raises:
        ValidationError: history rests on one that differs; it says what stays and what would be right.
    """
    row = serializer.instance
    changed = [name for name in fields if row and name in values and values[name] != getattr(row, name)]
    if row and changed:
        another = f"add another {row._meta.verbose_name} instead"
        said = {
            name: f"this cannot change from {getattr(row, name)}, which records already rest on; {another}"
            for name in changed
        }
        raise serializers.ValidationError(said)
