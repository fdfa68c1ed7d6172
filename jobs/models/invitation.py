"""The links by which people set their password."""

from __future__ import annotations

from typing import ClassVar, Self

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.crypto import constant_time_compare, salted_hmac

from jobs.changed import changed_at
from jobs.models.person import Person


class InvitationQuerySet(models.QuerySet["Invitation"]):
    """Invitations, by whether their link can be used."""

    def open(self) -> Self:
        """Return those that nobody has used or taken back; they may have expired."""
        return self.filter(used_at=None, taken_back_at=None)


class Invitation(models.Model):
    """A link by which one person sets a password, once. It is kept nowhere but in the letter that brings it."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="invitations")
    invited_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    made_at = models.DateTimeField(auto_now_add=True)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)
    taken_back_at = models.DateTimeField(null=True, blank=True)
    updated_at = changed_at()

    objects = InvitationQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["-made_at", "-id"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["person"], condition=Q(used_at=None, taken_back_at=None), name="one_open_invitation_per_person"
            ),
            models.CheckConstraint(
                condition=Q(used_at=None) | Q(taken_back_at=None), name="invitation_is_used_or_taken_back"
            ),
        ]

    def __str__(self) -> str:
        return f"invitation of {self.person}"

    @property
    def token(self) -> str:
        """What the link ends with. It follows from the secret key and ends with the password that is in force."""
        told = f"{self.pk}:{self.person_id}:{self.expires_at.timestamp()}:{self.person.password}"
        return f"{self.pk}-{salted_hmac('jobs.invitation', told, algorithm='sha256').hexdigest()}"

    @property
    def is_usable(self) -> bool:
        is_open = self.used_at is None and self.taken_back_at is None and timezone.now() < self.expires_at
        return is_open and self.person.is_active

    def is_good(self, token: str) -> bool:
        """Return whether a link ends with its token and can be used."""
        return self.is_usable and constant_time_compare(token, self.token)
