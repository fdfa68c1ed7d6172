"""The OpenAPI document and the page that shows it: they have formats of their own, and refuse as the API does."""

from __future__ import annotations

import json

from django.http import HttpResponse
from drf_spectacular.views import SpectacularAPIView, SpectacularSwaggerSplitView
from rest_framework.views import APIView

from config.errors import CONTENT_TYPE


class _RefusesInJson(APIView):
    metadata_class = None  # there is nothing to say of them by OPTIONS, and no template to say it in

    def handle_exception(  # type: ignore[override]  # a view may answer by any response of Django's
        self, exc: Exception
    ) -> HttpResponse:
        refused = super().handle_exception(exc)
        headers = {**refused.headers, "Content-Type": CONTENT_TYPE}
        return HttpResponse(json.dumps(refused.data), status=refused.status_code, headers=headers)


class Document(_RefusesInJson, SpectacularAPIView):
    """The OpenAPI document."""


class DocumentPage(_RefusesInJson, SpectacularSwaggerSplitView):
    """The page that shows it; its script is asked for by itself."""
