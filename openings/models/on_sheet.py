"""What the floor above tells of the material of openings."""

from __future__ import annotations

from typing import ClassVar

from django.db import models
from django.db.models import F, Q

from openings.models.opening import Opening


class OnSheet(models.Model):
    """An opening on the issued pull sheet of a crew day, and since when its material is on the crew's truck.

    There is one as long as the sheet lists the opening, or what was loaded for it is still to be brought back.
    """

    opening = models.ForeignKey(Opening, on_delete=models.PROTECT, related_name="on_sheets")
    crew_day = models.ForeignKey("jobs.CrewDay", on_delete=models.PROTECT, related_name="+")
    sheet = models.CharField(max_length=40, help_text="The number of the sheet, such as P00012.")
    issued_at = models.DateTimeField(help_text="When a sheet of that day listed the opening first.")
    on_truck_since = models.DateTimeField(
        null=True, blank=True, help_text="Empty while nothing is loaded, and once all of it is back."
    )

    class Meta:
        ordering: ClassVar = ["crew_day", "opening"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["opening", "crew_day"], name="opening_on_a_sheet_once_per_crew_day"),
            models.CheckConstraint(condition=~Q(sheet=""), name="sheet_of_an_opening_has_a_number"),
            models.CheckConstraint(
                condition=Q(on_truck_since__isnull=True) | Q(on_truck_since__gte=F("issued_at")),
                name="nothing_is_loaded_before_its_sheet_is_issued",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.opening} on {self.sheet}"
