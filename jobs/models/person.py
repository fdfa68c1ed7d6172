"""Who signs in."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from django.contrib.auth.models import AbstractUser
from django.db import models
from django.db.models import Q

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
