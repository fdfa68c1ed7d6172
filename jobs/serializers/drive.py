"""JSON ⇄ drives between sites."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from jobs.models import Job
from jobs.models.drive import LONGEST_DRIVE_MIN
from jobs.names import KnownNames


class DrivesAsked(KnownNames):
    """Of which site the drives are asked for."""

    job = serializers.PrimaryKeyRelatedField(queryset=Job.objects.all(), required=False, default=None)


class DriveEntrySerializer(KnownNames):
    """Minutes from a site to another; no minutes are worked out from where they lie."""

    job = serializers.PrimaryKeyRelatedField(
        queryset=Job.objects.all(), allow_null=True, help_text="The other site; null is the yard."
    )
    minutes = serializers.IntegerField(min_value=0, max_value=LONGEST_DRIVE_MIN, allow_null=True)


class DriveSerializer(serializers.Serializer[Any]):
    """A drive from a site: minutes one way, null where nothing is known, and where they come from."""

    job = serializers.IntegerField(allow_null=True)
    name = serializers.CharField()
    minutes = serializers.IntegerField(allow_null=True)
    is_entered = serializers.BooleanField()
    reason = serializers.CharField()
    source = serializers.CharField()  # type: ignore[assignment]  # the name that figures have everywhere
