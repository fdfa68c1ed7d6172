"""JSON ⇄ what is searched and found."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from materials.queries.search import LONGEST


class SearchAsked(serializers.Serializer[Any]):
    """What is searched for."""

    q = serializers.CharField(
        max_length=LONGEST, help_text="Part of a name or address, how a mark begins, or a number such as R00012."
    )


class HitSerializer(serializers.Serializer[Any]):
    """One thing that was found."""

    kind = serializers.CharField(help_text="What it is, such as `opening` or `pull sheet`.")
    id = serializers.IntegerField()
    name = serializers.CharField()
    where = serializers.CharField(help_text="What tells it from others of that name.")
