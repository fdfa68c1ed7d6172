"""What somebody did to the crews' days in one stroke."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models


class BoardAct(models.Model):
    """Openings assigned, moved or unassigned together: what was given and taken in it is undone together."""

    class Kind(models.TextChoices):
        ASSIGN = "assign"
        MOVE = "move"
        UNASSIGN = "unassign"
        UNDO = "undo"

    kind = models.CharField(max_length=8, choices=Kind)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(auto_now_add=True, db_index=True)
    undoes = models.OneToOneField(
        "self",
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="undone_by",
        help_text="What it took back.",
    )

    class Meta:
        ordering: ClassVar = ["-pk"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=models.Q(kind="undo", undoes__isnull=False)
                | (~models.Q(kind="undo") & models.Q(undoes=None)),
                name="board_act_undoes_another_if_it_is_an_undo",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.pk}"
