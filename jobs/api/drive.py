"""Endpoints of drives between sites."""

from __future__ import annotations

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from jobs import queries, services
from jobs.permissions import OFFICE
from jobs.queries.drive import YARD, DriveRow
from jobs.resource import Endpoint
from jobs.serializers import DriveEntrySerializer, DriveSerializer


class JobDrives(Endpoint):
    """The drives from one site to the yard and to each other open job."""

    writers = OFFICE
    takes_a_key = False  # minutes of each pair, and the last one who enters them is right

    @extend_schema(responses=DriveSerializer(many=True))
    def get(self, request: Request, job_id: int) -> Response:
        """Minutes as entered, or as worked out from where the sites lie."""
        return Response([_said(row) for row in queries.drives_from(queries.job_of(job_id))])

    @extend_schema(request=DriveEntrySerializer(many=True), responses=DriveSerializer(many=True))
    def patch(self, request: Request, job_id: int) -> Response:
        """Enter minutes to other sites; null minutes are worked out again."""
        asked = DriveEntrySerializer(data=request.data, many=True)
        asked.is_valid(raise_exception=True)
        minutes = {one["job"].pk if one["job"] else None: one["minutes"] for one in asked.validated_data}
        services.enter_drives(site_id=job_id, minutes=minutes)
        return self.get(request, job_id)


def _said(row: DriveRow) -> dict[str, object]:
    drive = row.drive
    return {
        "job": None if row.job_id == YARD else row.job_id,
        "name": row.name,
        "minutes": drive.minutes if drive else None,
        "is_entered": bool(drive and drive.is_entered),
        "reason": drive.reason if drive else "not known: enter minutes, or where both sites lie",
        "source": drive.source if drive else "",
    }
