"""What the wiring itself stores: whether a database is the demo's."""

from __future__ import annotations

from typing import ClassVar

from django.db import models
from django.db.models import Q


class DemoContent(models.Model):
    """That the demo was loaded into this database. What people did to it since stays as they left it."""

    loaded_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        verbose_name_plural = "demo content"
        constraints: ClassVar = [models.CheckConstraint(condition=Q(pk=1), name="demo_content_is_loaded_once")]

    def __str__(self) -> str:
        return f"loaded {self.loaded_at}"
