"""Search as JSON."""

from __future__ import annotations

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.resource import Endpoint
from materials import queries
from materials.serializers.search import HitSerializer, SearchAsked


class Search(Endpoint):
    query = SearchAsked

    @extend_schema(responses=HitSerializer(many=True))
    def get(self, request: Request) -> Response:
        """Jobs, openings, crews, people, products, lots, remnants, sheets that go by these words; eight of each."""
        found = queries.search(self.asked()["q"])
        return Response(HitSerializer(found, many=True).data)
