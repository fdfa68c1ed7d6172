"""Endpoints of assignments, which answer with what to be careful about."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer

from materials import queries
from materials.serializers import GivenSerializer
from openings.api import Assignments as AssignmentsBelow
from openings.models import Assignment
from openings.serializers import AssignManySerializer, AssignSerializer, MoveAllSerializer, MoveSerializer


class Assignments(AssignmentsBelow):
    """Openings given to a crew for a day, each answered with the cautions of its draw and of that day."""

    @extend_schema(request=AssignSerializer, responses={201: GivenSerializer})
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Assign one opening. 409 says why not, with the figures where they do not fit."""
        return super().create(request, *args, **kwargs)

    @extend_schema(request=AssignManySerializer, responses={201: GivenSerializer(many=True)})
    @action(detail=False, methods=["post"], pagination_class=None, filterset_class=None)
    def many(self, request: Request, **kwargs: Any) -> Response:  # type: ignore[override]  # the stub binds no action
        """Assign several openings, all or none."""
        return super().many(request, **kwargs)  # type: ignore[arg-type]  # nor here

    @extend_schema(request=MoveSerializer, responses={201: GivenSerializer(many=True)})
    @action(detail=False, methods=["post"], pagination_class=None, filterset_class=None)
    def move(self, request: Request, **kwargs: Any) -> Response:  # type: ignore[override]  # as of `many`
        """Give assigned openings to a crew for another day, all or none: the new assignments.

        One that was begun is carried on with what is left of its hours and material.
        """
        return super().move(request, **kwargs)  # type: ignore[arg-type]  # as of `many`

    @extend_schema(request=MoveAllSerializer, responses={201: GivenSerializer(many=True)})
    @action(detail=False, methods=["post"], url_path="move-all", pagination_class=None, filterset_class=None)
    def move_all(self, request: Request, **kwargs: Any) -> Response:  # type: ignore[override]  # as of `many`
        """Give assigned openings to several crew days in one act, all or none: the new assignments.

        They leave their days before any is given, so that two crews can change places.
        """
        return super().move_all(request, **kwargs)  # type: ignore[arg-type]  # as of `many`

    def get_serializer(self, *args: Any, **kwargs: Any) -> BaseSerializer[Assignment]:
        """Return what shows assignments; those just given come with their cautions."""
        if self.action not in ("create", "many", "move", "move_all") or not args:
            return super().get_serializer(*args, **kwargs)
        given: list[Assignment] = args[0] if kwargs.get("many") else [args[0]]
        context = {**self.get_serializer_context(), "cautions": queries.cautions_given(given)}
        return GivenSerializer(*args, **kwargs, context=context)
