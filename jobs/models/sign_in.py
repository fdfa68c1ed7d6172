"""Who signed in, and who tried to."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from jobs.changed import changed_at
from jobs.models.person import Person


class SignIn(models.Model):
    """One try to sign in: by which name, from where, and what came of it."""

    class Outcome(models.TextChoices):
        RIGHT = "right", "Right password"
        WRONG = "wrong", "Wrong password"
        UNKNOWN = "unknown", "Nobody has this name"
        LEFT = "left", "No longer active"
        UNLOCKED = "unlocked", "Unlocked by an owner"

    WRONG = (Outcome.WRONG, Outcome.UNKNOWN, Outcome.LEFT)

    name = models.CharField(max_length=150, help_text="As it was typed.")
    counted_as = models.CharField(max_length=300, editable=False, help_text="The name by which wrong tries count.")
    person = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.SET_NULL, related_name="sign_ins", help_text="Whose name it is."
    )
    address = models.GenericIPAddressField(null=True, blank=True, help_text="Where it came from, if anything says so.")
    network = models.CharField(
        max_length=50, blank=True, editable=False, help_text="The address by which wrong tries count."
    )
    outcome = models.CharField(max_length=10, choices=Outcome)
    at = models.DateTimeField(auto_now_add=True, db_index=True)
    refused_count = models.PositiveIntegerField(
        default=0, help_text="Further tries after this one that were refused without a look at the password."
    )
    updated_at = changed_at()

    class Meta:
        ordering: ClassVar = ["-at", "-pk"]
        indexes: ClassVar = [
            models.Index(fields=["counted_as", "at"], name="sign_ins_by_name"),
            models.Index(fields=["network", "at"], name="sign_ins_by_network"),
        ]

    def __str__(self) -> str:
        return f"{self.name}: {self.get_outcome_display()}"

    @property
    def is_wrong(self) -> bool:
        """Whether it counts against its name and its address."""
        return self.outcome in self.WRONG
