"""Endpoints of what openings wait for, and by which rules."""

from __future__ import annotations

from typing import ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer

from jobs.resource import Endpoint, Resource, row_of
from openings import queries, services
from openings.models import ReadyRules, TradeBefore
from openings.serializers import (
    JobReadinessSerializer,
    PageAsked,
    ReadyRulesSerializer,
    TradeBeforeSerializer,
)


class AllReadyRules(Resource[ReadyRules]):
    """By which rules the openings of jobs are ready; a job without a row goes by none."""

    queryset = ReadyRules.objects.all()
    serializer_class = ReadyRulesSerializer
    filterset_fields: ClassVar = ["job"]
    ordering_fields: ClassVar = ["job"]
    ordering: ClassVar = ["job"]

    def lock_before(self, row: ReadyRules) -> None:  # type: ignore[override]  # the rows of this resource
        services.lock_unfinished(row.job)

    def perform_create(self, serializer: BaseSerializer[ReadyRules]) -> None:
        serializer.instance = services.add_ready_rules(**serializer.validated_data)

    def perform_update(self, serializer: BaseSerializer[ReadyRules]) -> None:
        values = {name: value for name, value in serializer.validated_data.items() if name != "job"}
        serializer.instance = services.set_ready_rules(job=row_of(serializer).job, **values)


class TradesBefore(Resource[TradeBefore]):
    """What must be done before the openings of a job, or of a floor, are set."""

    queryset = TradeBefore.objects.all()
    serializer_class = TradeBeforeSerializer
    filterset_fields: ClassVar = ["job", "floor", "kind"]
    ordering_fields: ClassVar = ["job", "expected_on", "done_on"]
    ordering: ClassVar = ["job", "pk"]

    def lock_before(self, row: TradeBefore) -> None:  # type: ignore[override]  # the rows of this resource
        services.lock_unfinished(row.job)

    def perform_create(self, serializer: BaseSerializer[TradeBefore]) -> None:
        serializer.instance = services.add_trade_before(**serializer.validated_data)

    def perform_update(self, serializer: BaseSerializer[TradeBefore]) -> None:
        values = {name: value for name, value in serializer.validated_data.items() if name != "job"}
        serializer.instance = services.revise_trade_before(trade_id=row_of(serializer).pk, **values)


class JobReadiness(Endpoint):
    query = PageAsked

    @extend_schema(responses=JobReadinessSerializer)
    def get(self, request: Request, job_id: int) -> Response:
        """From when each opening of a job that is not finished can be planned, and why not today; a hundred a page."""
        sheet = queries.job_readiness(job_id, page=self.asked()["page"])
        shown = {
            "count": sheet.page.paginator.count,
            "pages": sheet.page.paginator.num_pages,
            "openings": sheet.openings,
        }
        return Response(JobReadinessSerializer(shown).data)
