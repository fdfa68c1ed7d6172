"""JSON ⇄ people."""

from __future__ import annotations

from typing import ClassVar

from jobs.models import Person
from jobs.names import ModelBody


class PersonSerializer(ModelBody[Person]):
    class Meta:
        model = Person
        fields: ClassVar = ["id", "username", "first_name", "last_name", "role", "crew"]
