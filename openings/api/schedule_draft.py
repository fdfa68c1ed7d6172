"""Endpoints of schedule files that a worker reads, and of the layouts that are remembered."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any, ClassVar

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.parsers import MultiPartParser
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer

from jobs.resource import Readable, refuse_body
from jobs.signed_in import signed_in
from openings import services, tasks
from openings.models import ScheduleDraft, SenderLayout
from openings.serializers import (
    ChosenSerializer,
    DraftSent,
    DraftSerializer,
    LayoutSerializer,
    OneDraftSerializer,
    SettledSerializer,
)


class ScheduleDrafts(Readable[ScheduleDraft]):
    """Schedule files that are sent and not taken yet: a worker reads and takes them, and says how far it is."""

    queryset = ScheduleDraft.objects.defer("content")
    serializer_class = OneDraftSerializer
    refusals: ClassVar = (HTTPStatus.NOT_FOUND,)  # a body names its job and its detail
    parser_classes = [MultiPartParser, *Readable.parser_classes]
    filterset_fields: ClassVar = ["job", "state"]
    ordering_fields: ClassVar = ["sent_at"]
    ordering: ClassVar = ["-sent_at"]

    def get_queryset(self) -> QuerySet[ScheduleDraft]:
        return super().get_queryset().defer("content", "outcome") if self.action == "list" else super().get_queryset()

    def get_serializer_class(self) -> type[BaseSerializer[ScheduleDraft]]:
        return DraftSerializer if self.action == "list" else super().get_serializer_class()

    @extend_schema(request={"multipart/form-data": DraftSent}, responses={202: OneDraftSerializer})
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Send a file; a worker reads it."""
        sent = DraftSent(data=request.data)
        sent.is_valid(raise_exception=True)
        asked = sent.validated_data
        draft = services.send_schedule(
            job_id=asked["job"],
            filename=asked["file"].name,
            content=asked["file"].read(),
            detail=asked["detail"],
            mapping=asked["mapping"],
            by=signed_in(request),
        )
        tasks.read_schedule.delay_on_commit(draft.pk)
        return self._now(draft)

    @extend_schema(request=SettledSerializer, responses={202: OneDraftSerializer})
    @action(detail=True, methods=["post"])
    def settle(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Answer what was asked; a worker reads the file again."""
        settled = SettledSerializer(data=request.data)
        settled.is_valid(raise_exception=True)
        draft = services.settle_draft(draft_id=self.get_object().pk, **settled.validated_data)
        tasks.read_schedule.delay_on_commit(draft.pk)
        return self._now(draft)

    @extend_schema(request=ChosenSerializer, responses={202: OneDraftSerializer})
    @action(detail=True, methods=["post"])
    def take(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Choose what of the difference is applied; a worker applies it."""
        chosen = ChosenSerializer(data=request.data)
        chosen.is_valid(raise_exception=True)
        asked = chosen.validated_data
        draft = services.choose_of_draft(
            draft_id=self.get_object().pk,
            kinds=asked["apply"],
            leave=asked["leave"],
            seen=asked["seen"],
            by=signed_in(request),
        )
        tasks.take_schedule.delay_on_commit(draft.pk)
        return self._now(draft)

    @extend_schema(request=None, responses={204: None})
    @action(detail=True, methods=["post"])
    def discard(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Forget a file that is not taken."""
        refuse_body(request)
        services.discard_draft(draft_id=self.get_object().pk)
        return Response(status=204)

    def _now(self, draft: ScheduleDraft) -> Response:
        return Response(OneDraftSerializer(self.get_queryset().get(pk=draft.pk)).data, status=202)


class ScheduleLayouts(Readable[SenderLayout]):
    """How senders lay out their schedules, as it was settled job by job."""

    queryset = SenderLayout.objects.all()
    serializer_class = LayoutSerializer
    filterset_fields: ClassVar = ["job", "fingerprint"]
    ordering: ClassVar = ["job", "-settled_at"]
