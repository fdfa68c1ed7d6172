"""What was answered, for who asks again."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from jobs.models.person import Person


class FirstAnswer(models.Model):
    """The answer to what somebody sent with an `Idempotency-Key`: sent again, it is answered by this."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    key = models.CharField(max_length=255)
    asked = models.CharField(max_length=64, help_text="SHA-256 of the method, the address and the body.")
    status = models.PositiveSmallIntegerField()
    headers = models.JSONField(default=dict, blank=True)
    body = models.BinaryField(default=bytes, blank=True)
    answered_at = models.DateTimeField(auto_now_add=True, db_index=True)

    class Meta:
        ordering: ClassVar = ["id"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["person", "key"], name="key_is_answered_once_per_person"),
        ]

    def __str__(self) -> str:
        return f"{self.status} to {self.key}"
