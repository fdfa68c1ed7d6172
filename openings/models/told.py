"""What the floor above tells of the fasteners that are staged, by the columns that keep it."""

from __future__ import annotations

from dataclasses import asdict
from decimal import Decimal
from typing import Any, ClassVar

from django.db import models
from django.db.models import Q

from openings.calc.staged import Staged, StagedFastener, StagedStrap
from openings.calc.terms import FastenerKind
from openings.models.fields import inches, pounds

FASTENERS = ("flange_fastener", "framing_screw")


class ToldFasteners(models.Model):
    """The products staged for flange fastener, framing screw and strap, as far as they say what they hold."""

    told_flange_fastener_name = models.CharField(max_length=120, blank=True, default="", editable=False)
    told_flange_fastener_kind = models.CharField(max_length=20, blank=True, default="", editable=False)
    told_flange_fastener_diameter_in = inches(null=True, blank=True, editable=False)
    told_flange_fastener_penetration_in = inches(null=True, blank=True, editable=False)
    told_flange_fastener_allowable_lb = pounds(null=True, blank=True, editable=False)
    told_framing_screw_name = models.CharField(max_length=120, blank=True, default="", editable=False)
    told_framing_screw_kind = models.CharField(max_length=20, blank=True, default="", editable=False)
    told_framing_screw_diameter_in = inches(null=True, blank=True, editable=False)
    told_framing_screw_penetration_in = inches(null=True, blank=True, editable=False)
    told_framing_screw_allowable_lb = pounds(null=True, blank=True, editable=False)
    told_strap_name = models.CharField(max_length=120, blank=True, default="", editable=False)
    told_strap_allowable_lb = pounds(null=True, blank=True, editable=False)

    class Meta:
        abstract = True

    @property
    def staged(self) -> Staged:
        """What is staged, as the computations take it."""
        strap_lb: Decimal | None = self.told_strap_allowable_lb
        return Staged(
            flange_fastener=self._fastener("told_flange_fastener"),
            framing_screw=self._fastener("told_framing_screw"),
            strap=None if strap_lb is None else StagedStrap(name=self.told_strap_name, allowable_lb=strap_lb),
        )

    def _fastener(self, column: str) -> StagedFastener | None:
        name, kind = getattr(self, f"{column}_name"), getattr(self, f"{column}_kind")
        if not name:
            return None
        return StagedFastener(
            name=name,
            kind=FastenerKind(kind) if kind else None,
            diameter_in=getattr(self, f"{column}_diameter_in"),
            penetration_in=getattr(self, f"{column}_penetration_in"),
            allowable_lb=getattr(self, f"{column}_allowable_lb"),
        )


def told_columns(staged: Staged) -> dict[str, Any]:
    """Return the columns of `ToldFasteners` that keep what is staged."""
    strap = staged.strap
    columns: dict[str, Any] = {
        "told_strap_name": strap.name if strap else "",
        "told_strap_allowable_lb": strap.allowable_lb if strap else None,
    }
    for part in FASTENERS:
        fastener: StagedFastener | None = getattr(staged, part)
        said = asdict(fastener or StagedFastener(name=""))
        columns |= {f"told_{part}_{name}": value for name, value in said.items()} | {
            f"told_{part}_kind": said["kind"] or ""
        }
    return columns


class ShopFasteners(ToldFasteners):
    """What is staged where a detail has no choice of its own: what a new detail begins with. One row at most."""

    THE_ONE = 1

    class Meta:
        verbose_name_plural = "shop fasteners"
        constraints: ClassVar = [models.CheckConstraint(condition=Q(pk=1), name="shop_fasteners_stand_once")]

    def __str__(self) -> str:
        return "the shop's fasteners"
