"""Endpoints of openings and of what says whether they are ready."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any, ClassVar

from django.db.models import Model
from django_filters import ChoiceFilter, FilterSet
from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.decorators import action
from rest_framework.generics import get_object_or_404
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer

from jobs.about import of_several
from jobs.models import Job
from jobs.permissions import ANYONE, FIELD, OFFICE
from jobs.resource import Addable, Endpoint, Resource, refuse_body, row_of
from jobs.signed_in import signed_in
from openings import queries, services
from openings.calc.lay_order import steps_for
from openings.calc.next_trade import left_for_next_trade
from openings.calc.setting_advice import bead_advice_of_detail, setting_advice
from openings.calc.water.of_detail import verdict_of
from openings.calc.ways import ways_of
from openings.measure_fields import units_of
from openings.models import FieldMeasurement, Hold, InstallationDetail, Opening, State
from openings.models.opening import OpeningQuerySet
from openings.serializers import (
    AcceptLeakSerializer,
    ChecksAsked,
    ChecksSerializer,
    CopySerializer,
    DetailSerializer,
    HoldManySerializer,
    HoldSerializer,
    JobLaborSerializer,
    LaborSerializer,
    LayOrderSerializer,
    LiftSerializer,
    MeasurementSerializer,
    NewDetailSerializer,
    OpeningSerializer,
    ReadinessSerializer,
    ReleaseManySerializer,
    ReleaseSerializer,
    VoidSerializer,
    WaterPathSerializer,
    WaysSerializer,
)


class Details(Resource[InstallationDetail]):
    queryset = InstallationDetail.objects.all()
    serializer_class = DetailSerializer
    filterset_fields: ClassVar = ["job", "name", "mounting", "is_default"]
    ordering_fields: ClassVar = ["job", "name"]
    ordering: ClassVar = ["job", "name"]

    def lock_before(self, row: Model) -> None:
        services.lock_detail_of_openings(row.pk)

    def get_serializer_class(self) -> type[BaseSerializer[InstallationDetail]]:
        return NewDetailSerializer if self.action == "create" else DetailSerializer

    def perform_create(self, serializer: BaseSerializer[InstallationDetail]) -> None:
        serializer.instance = services.add_detail(**serializer.validated_data)

    def perform_update(self, serializer: BaseSerializer[InstallationDetail]) -> None:
        serializer.instance = services.revise_detail(detail_id=row_of(serializer).pk, **serializer.validated_data)

    @extend_schema(responses=WaysSerializer)
    @action(detail=True)
    def ways(self, request: Request, **kwargs: Any) -> Response:
        """What the detail has chosen, preferred or allowed and why; advice on its bead; what the next trade finds."""
        detail, units = self.get_object().as_facts(), units_of(request)
        bead = bead_advice_of_detail(detail, units=units)
        found = {
            "ways": ways_of(None, detail, units=units),
            "advice": [bead] if bead else [],
            "next_trade": left_for_next_trade(detail, units=units),
        }
        return Response(WaysSerializer(found).data)

    @extend_schema(responses=WaterPathSerializer)
    @action(detail=True, url_path="water-path")
    def water_path(self, request: Request, **kwargs: Any) -> Response:
        """Whether the detail sheds water, on an opening of usual size; each fault with what would mend it."""
        verdict = verdict_of(self.get_object().as_facts())
        return Response(WaterPathSerializer(verdict, context={"request": request}).data)

    @extend_schema(request=AcceptLeakSerializer, responses=DetailSerializer)
    @action(detail=True, methods=["post"], url_path="accept-leak", writers=OFFICE)
    def accept_leak(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Take the detail as it is, though it lets water in: by name, with a reason, until it is changed."""
        body = AcceptLeakSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        detail = services.accept_leak(detail_id=self.get_object().pk, by=signed_in(request), **body.validated_data)
        return Response(DetailSerializer(detail).data)


class OpeningFilter(FilterSet):
    state = ChoiceFilter(choices=[(state, state) for state in State.ALL], method="of_state")

    class Meta:
        model = Opening
        fields: ClassVar = ["job", "schedule", "mark", "schedule_mark", "floor", "detail", "operation"]

    def of_state(self, found: OpeningQuerySet, name: str, state: str) -> OpeningQuerySet:
        return found.in_state(state)


class Openings(Resource[Opening]):
    queryset = queries.opening_list()
    serializer_class = OpeningSerializer
    filterset_class = OpeningFilter
    ordering_fields: ClassVar = ["job", "position", "mark", "ro_width_in", "ro_height_in"]
    ordering: ClassVar = ["job_id", "position", "pk"]

    def perform_create(self, serializer: BaseSerializer[Opening]) -> None:
        added = services.add_opening(
            **serializer.validated_data, by=signed_in(self.request), units=units_of(self.request)
        )
        serializer.instance = self.get_queryset().get(pk=added.pk)

    def perform_update(self, serializer: BaseSerializer[Opening]) -> None:
        opening = services.revise_opening(
            opening_id=row_of(serializer).pk,
            **serializer.validated_data,
            by=signed_in(self.request),
            units=units_of(self.request),
        )
        serializer.instance = self.get_queryset().get(pk=opening.pk)

    @extend_schema(responses=LaborSerializer)
    @action(detail=True)
    def labor(self, request: Request, **kwargs: Any) -> Response:
        """Person-hours by task, each with its reason, and the crew-hours of the team that sets the unit."""
        labor = queries.opening_labor(self.get_object())
        return Response(LaborSerializer(labor, context={"request": request}).data)

    @extend_schema(responses=LiftSerializer)
    @action(detail=True)
    def lift(self, request: Request, **kwargs: Any) -> Response:
        """Weight, people and aids. A guide: the manufacturer's instructions and the site's rules come first."""
        opening = self.get_object()
        units = units_of(request)
        known = {"opening": opening.pk, "weight_doubt": queries.weight_doubt(opening, units=units)}
        return Response(LiftSerializer(queries.opening_lift(opening, units=units), context=known).data)

    @extend_schema(responses=LayOrderSerializer)
    @action(detail=True, url_path="lay-order")
    def lay_order(self, request: Request, **kwargs: Any) -> Response:
        """The steps, what must precede each, what the crew must see and why, and what the next trade finds."""
        opening = self.get_object()
        detail = opening.detail.as_facts()
        steps = steps_for(detail, units=units_of(request))
        left = left_for_next_trade(detail, units=units_of(request))
        order = {"opening": opening.pk, "method": detail.method, "steps": steps, "next_trade": left}
        return Response(LayOrderSerializer(order).data)

    @extend_schema(responses=WaysSerializer)
    @action(detail=True)
    def ways(self, request: Request, **kwargs: Any) -> Response:
        """What its detail has chosen, preferred or allowed and why; advice on setting it; what the next trade finds."""
        opening, units = self.get_object(), units_of(request)
        facts, detail = opening.as_facts(), opening.detail.as_facts()
        found = {
            "ways": ways_of(facts, detail, units=units),
            "advice": setting_advice(facts, detail, units=units),
            "next_trade": left_for_next_trade(detail, units=units),
        }
        return Response(WaysSerializer(found).data)

    @extend_schema(responses=ReadinessSerializer)
    @action(detail=True)
    def readiness(self, request: Request, **kwargs: Any) -> Response:
        """From when the opening can be planned, and why not today."""
        opening = self.get_object()
        found = queries.OpeningReadiness(opening=opening, readiness=queries.readiness([opening])[opening.pk])
        return Response(ReadinessSerializer(found).data)

    @extend_schema(request=VoidSerializer, responses=OpeningSerializer)
    @action(detail=True, methods=["post"], writers=OFFICE)
    def void(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Take the opening out of the work: it is kept and marked void, and no later schedule restores it."""
        body = VoidSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        services.void_opening(opening_id=self.get_object().pk, by=signed_in(request), **body.validated_data)
        return Response(self.get_serializer(self.get_object()).data)

    @extend_schema(request=None, responses=OpeningSerializer)
    @action(detail=True, methods=["post"], writers=OFFICE)
    def restore(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Take back that the opening is void."""
        refuse_body(request)
        services.restore_opening(opening_id=self.get_object().pk)
        return Response(self.get_serializer(self.get_object()).data)

    @extend_schema(request=CopySerializer, responses={201: OpeningSerializer(many=True)}, filters=False)
    @action(detail=True, methods=["post"], writers=OFFICE, pagination_class=None)
    def copy(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Add openings like this one, with the marks that follow: all of them or none."""
        body = CopySerializer(data=request.data)
        body.is_valid(raise_exception=True)
        copies = services.copy_opening(opening_id=self.get_object().pk, **body.validated_data)
        added = self.get_queryset().filter(pk__in=[one.pk for one in copies]).order_by("pk")
        return Response(self.get_serializer(added, many=True).data, status=status.HTTP_201_CREATED)


class JobLabor(Endpoint):
    @extend_schema(responses=JobLaborSerializer)
    def get(self, request: Request, job_id: int) -> Response:
        """Person-hours by task of all openings of a job that are not void."""
        job = get_object_or_404(Job, pk=job_id)
        return Response(JobLaborSerializer(queries.job_labor(job.pk)).data)


class Measurements(Addable[FieldMeasurement]):
    queryset = FieldMeasurement.objects.all()
    serializer_class = MeasurementSerializer
    writers = FIELD
    locks_first = ("opening",)
    filterset_fields: ClassVar = ["opening", "opening__job", "is_within_tolerance"]
    ordering_fields: ClassVar = ["measured_at"]
    ordering: ClassVar = ["-measured_at", "-pk"]

    def perform_create(self, serializer: BaseSerializer[FieldMeasurement]) -> None:
        values = dict(serializer.validated_data)
        opening = values.pop("opening")
        serializer.instance = services.record_measurement(
            opening_id=opening.pk, by=signed_in(self.request), units=units_of(self.request), **values
        )

    @extend_schema(request=None, responses=MeasurementSerializer)
    @action(detail=True, methods=["post"], writers=FIELD | OFFICE)
    def accept(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Take it for the size of the rough opening as built: draw, cuts, labor and issued sheets follow.

        Where material is on a truck or the install was started, the opening goes on hold. A later one accepted
        replaces it; accepted once more, nothing changes.
        """
        refuse_body(request)
        accepted = services.accept_measurement(
            measurement_id=self.get_object().pk, by=signed_in(request), units=units_of(request)
        )
        return Response(self.get_serializer(accepted).data)

    @extend_schema(responses=ChecksSerializer)
    @action(detail=True, query=ChecksAsked)
    def checks(self, request: Request, **kwargs: Any) -> Response:
        """Each rule with its reading and its limit, and the size of a replacement insert."""
        found = queries.measured_checks(self.get_object(), **self.asked(), units=units_of(request))
        return Response(ChecksSerializer(found).data)


class HoldFilter(FilterSet):
    class Meta:
        model = Hold
        fields: ClassVar = {
            "opening": ["exact"],
            "opening__job": ["exact"],
            "kind": ["exact"],
            "released_at": ["isnull"],
        }


class Holds(Resource[Hold]):
    """Holds: anyone may place one with a reason; the office and the crews release them, or the rule that found them."""

    queryset = Hold.objects.all()
    serializer_class = HoldSerializer
    writers = ANYONE
    locks_first = ("opening",)
    filterset_class = HoldFilter
    ordering_fields: ClassVar = ["placed_at", "kind"]
    ordering: ClassVar = ["-placed_at", "-pk"]

    def perform_create(self, serializer: BaseSerializer[Hold]) -> None:
        values = serializer.validated_data
        serializer.instance = services.place_hold(
            opening_id=values["opening"].pk,
            kind=values["kind"],
            reason=values["reason"],
            expected_on=values.get("expected_on"),
            by=signed_in(self.request),
        )

    def perform_update(self, serializer: BaseSerializer[Hold]) -> None:
        values = {name: value for name, value in serializer.validated_data.items() if name in ("reason", "expected_on")}
        serializer.instance = services.revise_hold(hold_id=row_of(serializer).pk, **values)

    @extend_schema(request=HoldManySerializer, responses={201: HoldSerializer(many=True)})
    @action(
        detail=False,
        methods=["post"],
        pagination_class=None,
        filterset_class=None,
        refusals=(HTTPStatus.NOT_FOUND,),
    )
    def many(self, request: Request, **kwargs: Any) -> Response:
        """Place a hold on several openings, all or none; one that has such a hold keeps it, and is not answered."""
        body = HoldManySerializer(data=request.data)
        body.is_valid(raise_exception=True)
        asked = body.validated_data
        named = asked.get("openings")
        ids = named or queries.openings_where(
            job_id=asked.get("job"), floor=asked.get("floor"), delivery_id=asked.get("delivery")
        )
        with of_several(Opening, named or [], field="openings"):
            placed = services.place_holds(
                opening_ids=ids,
                kind=asked["kind"],
                reason=asked["reason"],
                expected_on=asked["expected_on"],
                by=signed_in(request),
            )
        return Response(self.get_serializer(placed, many=True).data, status=status.HTTP_201_CREATED)

    @extend_schema(request=ReleaseManySerializer, responses=HoldSerializer(many=True))
    @action(
        detail=False,
        methods=["post"],
        url_path="release-many",
        pagination_class=None,
        filterset_class=None,
        writers=FIELD | OFFICE,
        refusals=(HTTPStatus.NOT_FOUND,),
    )
    def release_many(self, request: Request, **kwargs: Any) -> Response:
        """Release several holds, all or none."""
        body = ReleaseManySerializer(data=request.data)
        body.is_valid(raise_exception=True)
        with of_several(Hold, body.validated_data["hold_ids"], field="holds"):
            released = services.release_holds(by=signed_in(request), **body.validated_data)
        return Response(self.get_serializer(released, many=True).data)

    @extend_schema(request=ReleaseSerializer, responses=HoldSerializer)
    @action(detail=True, methods=["post"], writers=FIELD | OFFICE)
    def release(self, request: Request, pk: str, **kwargs: Any) -> Response:
        body = ReleaseSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        hold = services.release_hold(hold_id=self.get_object().pk, by=signed_in(request), **body.validated_data)
        return Response(self.get_serializer(hold).data, status=status.HTTP_200_OK)
