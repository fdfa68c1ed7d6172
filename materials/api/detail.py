"""Endpoints of installation details, which products are chosen for."""

from __future__ import annotations

from rest_framework.serializers import BaseSerializer

from jobs.resource import row_of
from materials import services
from openings import api as openings
from openings.models import InstallationDetail


class Details(openings.Details):
    """How the units of a job are installed. A change that leaves a part without its product is refused."""

    def perform_update(self, serializer: BaseSerializer[InstallationDetail]) -> None:
        serializer.instance = services.revise_detail(detail_id=row_of(serializer).pk, **serializer.validated_data)
