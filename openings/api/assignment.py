"""Endpoints of assignments."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any, ClassVar

from django_filters import BooleanFilter, FilterSet
from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.about import of_several
from jobs.resource import Readable, refuse_body
from jobs.signed_in import signed_in
from openings import services
from openings.models import Assignment, Opening
from openings.serializers import (
    AssignManySerializer,
    AssignmentSerializer,
    AssignSerializer,
    Decided,
    MoveAllSerializer,
    MoveSerializer,
    UndoneSerializer,
    UndoSerializer,
)


class AssignmentFilter(FilterSet):
    live = BooleanFilter(field_name="withdrawn_at", lookup_expr="isnull", help_text="Still assigned.")

    class Meta:
        model = Assignment
        fields: ClassVar = {
            "opening": ["exact"],
            "opening__job": ["exact"],
            "crew_day__crew": ["exact"],
            "crew_day__on": ["exact", "gte", "lte"],
        }


class Assignments(Readable[Assignment]):
    """Openings given to a crew for a day."""

    queryset = Assignment.objects.select_related("crew_day")
    serializer_class = AssignmentSerializer
    # A body names its openings and its crew, and may name the days that it was decided by.
    refusals: ClassVar = (HTTPStatus.NOT_FOUND, HTTPStatus.PRECONDITION_FAILED)
    locks_first = ("opening", "crew_day")
    filterset_class = AssignmentFilter
    ordering_fields: ClassVar = ["assigned_at", "crew_day__on", "person_h"]
    ordering: ClassVar = ["pk"]

    @extend_schema(request=AssignSerializer, responses={201: AssignmentSerializer})
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Assign one opening. 409 says why not, with the hours or the people where they do not do."""
        asked = self._read(AssignSerializer)
        (assignment,) = services.assign(opening_ids=[asked.pop("opening")], by=signed_in(request), **asked)
        return Response(self.get_serializer(assignment).data, status=201)

    @extend_schema(request=AssignManySerializer, responses={201: AssignmentSerializer(many=True)})
    @action(detail=False, methods=["post"], pagination_class=None, filterset_class=None)
    def many(self, request: Request, **kwargs: Any) -> Response:
        """Assign several openings, all or none."""
        asked = self._read(AssignManySerializer)
        with of_several(Opening, asked["opening_ids"], field="openings"):
            assignments = services.assign(by=signed_in(request), **asked)
        return Response(self.get_serializer(assignments, many=True).data, status=201)

    @extend_schema(request=MoveSerializer, responses={201: AssignmentSerializer(many=True)})
    @action(detail=False, methods=["post"], pagination_class=None, filterset_class=None)
    def move(self, request: Request, **kwargs: Any) -> Response:
        """Give assigned openings, or whole days, to a crew for another day, all or none: the new assignments.

        One that was begun is carried on with what is left of its hours and material.
        """
        asked = self._read(MoveSerializer)
        with of_several(Assignment, asked["assignment_ids"], field="assignments"):
            assignments = services.move(by=signed_in(request), **asked)
        return Response(self.get_serializer(assignments, many=True).data, status=201)

    @extend_schema(request=MoveAllSerializer, responses={201: AssignmentSerializer(many=True)})
    @action(detail=False, methods=["post"], url_path="move-all", pagination_class=None, filterset_class=None)
    def move_all(self, request: Request, **kwargs: Any) -> Response:
        """Give assigned openings to several crew days in one act, all or none: the new assignments.

        They leave their days before any is given, so that two crews can change places.
        """
        asked = self._read(MoveAllSerializer)
        assignments = services.move_all(by=signed_in(request), **asked)
        return Response(self.get_serializer(assignments, many=True).data, status=201)

    @extend_schema(request=None, responses=AssignmentSerializer)
    @action(detail=True, methods=["post"])
    def withdraw(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Take the opening back; the assignment stays as history."""
        refuse_body(request)
        assignment = services.withdraw(assignment_id=self.get_object().pk, by=signed_in(request))
        return Response(self.get_serializer(assignment).data)

    @extend_schema(request=UndoSerializer, responses=UndoneSerializer)
    @action(detail=False, methods=["post"], pagination_class=None, filterset_class=None)
    def undo(self, request: Request, **kwargs: Any) -> Response:
        """Put back what was assigned, moved or unassigned together. 409 says what changed since."""
        sent = UndoSerializer(data=request.data)
        sent.is_valid(raise_exception=True)
        undone = services.undo(act_id=sent.validated_data["board_act"], by=signed_in(request))
        return Response(UndoneSerializer({"board_act": undone.pk}).data)

    def _read(self, body: type[Decided]) -> dict[str, Any]:
        """Return what was sent, as the services take it."""
        sent = body(data=self.request.data)
        sent.is_valid(raise_exception=True)
        asked: dict[str, Any] = sent.validated_data
        return asked
