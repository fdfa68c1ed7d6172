"""Endpoints of the firm."""

from __future__ import annotations

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from jobs import queries, services
from jobs.permissions import OFFICE
from jobs.resource import Endpoint
from jobs.serializers import CompanySerializer, PublicHolidaysAsked, PublicHolidaySerializer


class Company(Endpoint):
    """The firm: its state, its yard, and what new jobs and crews begin with."""

    writers = OFFICE
    takes_a_key = False  # one value each, and the last one who sets it is right

    @extend_schema(responses=CompanySerializer)
    def get(self, request: Request) -> Response:
        """What is entered; a firm that was never entered has no name and the usual beginnings."""
        return Response(CompanySerializer(queries.company()).data)

    @extend_schema(request=CompanySerializer, responses=CompanySerializer)
    def patch(self, request: Request) -> Response:
        """Enter it, or change what is named. The first time it takes a name and a state."""
        firm = queries.company()
        asked = CompanySerializer(firm, data=request.data, partial=bool(firm.name))
        asked.is_valid(raise_exception=True)
        return Response(CompanySerializer(services.set_company(**asked.validated_data)).data)


class PublicHolidays(Endpoint):
    """The public holidays of a year where the company is; each counts once somebody confirms it as a company day."""

    query = PublicHolidaysAsked

    @extend_schema(operation_id="public_holidays_list", responses=PublicHolidaySerializer(many=True))
    def get(self, request: Request) -> Response:
        """Those of one year, in order."""
        return Response(PublicHolidaySerializer(queries.holidays_of(self.asked()["year"]), many=True).data)
