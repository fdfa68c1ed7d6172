"""Who signs in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar

from django.conf import settings
from django.contrib.auth.models import AbstractUser
from django.db import models
from django.db.models import Q
from django.utils.crypto import salted_hmac

from jobs.changed import changed_at
from jobs.models.crew import Crew

if TYPE_CHECKING:
    from jobs.models.invitation import Invitation


class Person(AbstractUser):
    """Somebody who signs in, with one role."""

    class Role(models.TextChoices):
        SCHEDULER = "scheduler", "Office scheduler"
        WAREHOUSE = "warehouse", "Warehouse"
        CREW_LEAD = "crew_lead", "Crew lead"
        OWNER = "owner", "Owner"

    role = models.CharField(max_length=12, choices=Role, default=Role.SCHEDULER)
    crew = models.ForeignKey(Crew, null=True, blank=True, on_delete=models.PROTECT, related_name="leads")
    updated_at = changed_at()
    sign_outs = models.PositiveIntegerField(
        default=0, editable=False, help_text="How often they signed out everywhere; sessions from before have ended."
    )

    class Meta(AbstractUser.Meta):
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=~Q(role="crew_lead") | Q(crew__isnull=False),
                name="crew_lead_belongs_to_a_crew",
                violation_error_message="A crew lead belongs to a crew: choose one.",
            ),
        ]

    def __str__(self) -> str:
        return self.get_full_name() or self.username

    @property
    def is_owner(self) -> bool:
        return self.role == Person.Role.OWNER

    @property
    def usable_invitation(self) -> Invitation | None:
        """The link by which this person can set a password now."""
        return next((one for one in self.invitations.all() if one.is_usable), None)

    def may_be_changed_by(self, by: Person) -> bool:
        """Return whether somebody of the office may change this account: an owner's only an owner.

        Who runs the service changes every account, and nobody else the accounts of those who do.
        """
        if by.is_superuser:
            return True
        return not (self.is_superuser or self.is_staff) and (by.is_owner or not self.is_owner)

    def get_session_auth_hash(self) -> str:
        """Return what a session is held against: it ends with another password, and when they sign out everywhere."""
        return self._session_hash()

    def get_session_auth_fallback_hash(self) -> Iterator[str]:
        """Yield the same for the keys that the service had before."""
        return (self._session_hash(secret) for secret in settings.SECRET_KEY_FALLBACKS)

    def _session_hash(self, secret: str | bytes | None = None) -> str:
        held = f"{self.password} {self.sign_outs}"
        return salted_hmac("jobs.Person.session", held, secret=secret, algorithm="sha256").hexdigest()
