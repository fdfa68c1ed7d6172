"""Endpoints of openings and of what says whether they are ready."""

from __future__ import annotations

from typing import Any, ClassVar

from django_filters import ChoiceFilter, FilterSet
from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.decorators import action
from rest_framework.generics import get_object_or_404
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer
from rest_framework.views import APIView

from jobs.models import Job
from jobs.permissions import ANYONE, FIELD, OFFICE, ByRole
from jobs.resource import Addable, Resource
from openings import queries, services
from openings.calc.labor import labor_of, total_person_h
from openings.calc.lay_order import steps_for
from openings.calc.lift import lift_of
from openings.calc.weight import weight_of
from openings.models import FieldMeasurement, Hold, InstallationDetail, Opening
from openings.serializers import (
    DetailSerializer,
    HoldSerializer,
    JobLaborSerializer,
    LaborSerializer,
    LayOrderSerializer,
    LiftSerializer,
    MeasurementSerializer,
    NewDetailSerializer,
    OpeningSerializer,
    ReleaseSerializer,
)


class Details(Resource):
    queryset = InstallationDetail.objects.all()
    serializer_class = DetailSerializer
    filterset_fields: ClassVar = ["job", "name", "mounting", "is_default"]
    ordering_fields: ClassVar = ["job", "name"]
    ordering: ClassVar = ["job", "name"]

    def get_serializer_class(self) -> type[BaseSerializer]:
        return NewDetailSerializer if self.action == "create" else DetailSerializer

    def perform_create(self, serializer: BaseSerializer) -> None:
        serializer.instance = services.add_detail(**serializer.validated_data)


class OpeningFilter(FilterSet):
    state = ChoiceFilter(choices=[(state, state) for state in queries.State.ALL])

    class Meta:
        model = Opening
        fields: ClassVar = ["job", "schedule", "mark", "schedule_mark", "floor", "detail", "operation"]


class Openings(Resource):
    queryset = queries.opening_list()
    serializer_class = OpeningSerializer
    filterset_class = OpeningFilter
    ordering_fields: ClassVar = ["job", "position", "mark", "ro_width_in", "ro_height_in"]
    ordering: ClassVar = ["job", "position", "pk"]

    def perform_create(self, serializer: BaseSerializer) -> None:
        super().perform_create(serializer)
        serializer.instance = self.get_queryset().get(pk=serializer.instance.pk)

    def perform_update(self, serializer: BaseSerializer) -> None:
        opening = services.revise_opening(opening_id=serializer.instance.pk, **serializer.validated_data)
        serializer.instance = self.get_queryset().get(pk=opening.pk)

    @extend_schema(responses=LaborSerializer)
    @action(detail=True)
    def labor(self, request: Request, **kwargs: Any) -> Response:
        """Person-hours by task, each with its reason."""
        opening = self.get_object()
        lines = labor_of(opening.as_facts(), opening.detail.as_facts())
        labor = {"opening": opening.pk, "lines": lines, "total_person_h": total_person_h(lines)}
        return Response(LaborSerializer(labor).data)

    @extend_schema(responses=LiftSerializer)
    @action(detail=True)
    def lift(self, request: Request, **kwargs: Any) -> Response:
        """Weight, people and aids. A guide: the manufacturer's instructions and the site's rules come first."""
        opening = self.get_object()
        weight = weight_of(opening.as_facts(), mounting=opening.detail.as_facts().mounting)
        lift = lift_of(weight.lb)
        return Response(
            LiftSerializer(
                {
                    "opening": opening.pk,
                    "weight": weight,
                    "people": lift.people,
                    "needs_aid": lift.needs_aid,
                    "reason": lift.reason,
                    "source": lift.source,
                    "caution": lift.caution,
                }
            ).data
        )

    @extend_schema(responses=LayOrderSerializer)
    @action(detail=True, url_path="lay-order")
    def lay_order(self, request: Request, **kwargs: Any) -> Response:
        """The steps, and what must precede each."""
        opening = self.get_object()
        detail = opening.detail.as_facts()
        order = {"opening": opening.pk, "method": detail.method, "steps": steps_for(detail)}
        return Response(LayOrderSerializer(order).data)

    @extend_schema(request=None, responses=OpeningSerializer)
    @action(detail=True, methods=["post"], writers=OFFICE)
    def void(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Take the opening out of the work; it is kept and marked void."""
        services.void_opening(opening_id=self.get_object().pk)
        return Response(self.get_serializer(self.get_object()).data)


class JobLabor(APIView):
    permission_classes: ClassVar = [ByRole]

    @extend_schema(responses=JobLaborSerializer)
    def get(self, request: Request, job_id: int) -> Response:
        """Person-hours by task of all openings of a job that are not void."""
        job = get_object_or_404(Job, pk=job_id)
        return Response(JobLaborSerializer(queries.job_labor(job.pk)).data)


class Measurements(Addable):
    queryset = FieldMeasurement.objects.all()
    serializer_class = MeasurementSerializer
    writers = FIELD
    filterset_fields: ClassVar = ["opening", "opening__job", "is_within_tolerance"]
    ordering_fields: ClassVar = ["measured_at"]
    ordering: ClassVar = ["-measured_at", "-pk"]

    def perform_create(self, serializer: BaseSerializer) -> None:
        values = dict(serializer.validated_data)
        opening = values.pop("opening")
        serializer.instance = services.record_measurement(opening_id=opening.pk, by=self.request.user, **values)


class HoldFilter(FilterSet):
    class Meta:
        model = Hold
        fields: ClassVar = {
            "opening": ["exact"],
            "opening__job": ["exact"],
            "kind": ["exact"],
            "released_at": ["isnull"],
        }


class Holds(Addable):
    """Holds: anyone may place one with a reason; the office and the crews release them."""

    queryset = Hold.objects.all()
    serializer_class = HoldSerializer
    writers = ANYONE
    filterset_class = HoldFilter
    ordering_fields: ClassVar = ["placed_at", "kind"]
    ordering: ClassVar = ["-placed_at", "-pk"]

    def perform_create(self, serializer: BaseSerializer) -> None:
        values = serializer.validated_data
        serializer.instance = services.place_hold(
            opening_id=values["opening"].pk,
            kind=values["kind"],
            reason=values["reason"],
            by=self.request.user,
        )

    @extend_schema(request=ReleaseSerializer, responses=HoldSerializer)
    @action(detail=True, methods=["post"], writers=FIELD | OFFICE)
    def release(self, request: Request, pk: str, **kwargs: Any) -> Response:
        body = ReleaseSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        hold = services.release_hold(hold_id=self.get_object().pk, by=request.user, **body.validated_data)
        return Response(self.get_serializer(hold).data, status=status.HTTP_200_OK)
