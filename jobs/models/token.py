"""What programs sign in with."""

from __future__ import annotations

from typing import ClassVar

from django.db import models
from django.db.models import Q

from jobs.changed import changed_at
from jobs.models.person import Person


class Token(models.Model):
    """A token of somebody, of which only the hash is kept; its name says what it is for."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="tokens")
    digest = models.CharField(max_length=64, unique=True, editable=False, help_text="SHA-256 of the secret.")
    begins_with = models.CharField(max_length=8, editable=False, help_text="The letters that its secret begins with.")
    name = models.CharField(max_length=60, help_text="What it is for.")
    made_at = models.DateTimeField(auto_now_add=True)
    expires_at = models.DateTimeField(help_text="When it ends.")
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["pk"]
        constraints: ClassVar = [
            models.CheckConstraint(condition=~Q(name=""), name="token_says_what_for"),
        ]

    def __str__(self) -> str:
        return self.name
