"""What every endpoint that writes takes with it: `If-Match` where a row is changed, `Idempotency-Key` everywhere."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar

from django.db.models import Model
from django.http import HttpResponse
from rest_framework.generics import GenericAPIView
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from jobs import etag, idempotency, transaction

Handler = Callable[..., Response]

WITH_A_KEY = ("POST", "PATCH")
"""The methods that take `Idempotency-Key`; what PUT and DELETE do is done once however often they are sent."""


class Carefully(APIView):
    """Takes the two headers: what they ask is looked at in the transaction of what is done, and after its locks."""

    locks_first: ClassVar[tuple[str, ...]] = ()
    """What a row refers to and is locked before it, in the order in which services lock; by name."""

    takes_a_key: ClassVar[bool] = True
    """Whether answers are kept for `Idempotency-Key`; a secret never is."""

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        """Settle who asks, and let the handler be done as the headers say."""
        super().initial(request, *args, **kwargs)
        name = (request.method or "").lower()
        handler = getattr(self, name, None)
        if handler and self.takes_a_key and request.method in WITH_A_KEY:
            setattr(self, name, self._carefully(handler, request))

    def finalize_response(self, request: Request, response: Response, *args: Any, **kwargs: Any) -> Response:
        """Say of one row which version of it is answered."""
        etag.put_tag(response)
        return super().finalize_response(request, response, *args, **kwargs)

    def lock_before(self, row: Model) -> None:
        """Lock what is locked before a row, as its services do: two who lock in another order lock each other out."""
        for name in self.locks_first:
            model = row._meta.get_field(name).related_model
            if not model:
                raise TypeError(f"{name} refers to no other row")
            etag.locked_version(model, getattr(row, f"{name}_id"))

    def _carefully(self, handler: Handler, request: Request) -> Callable[..., HttpResponse]:
        key = idempotency.key_of(request)
        is_asked = "pk" in self.kwargs and etag.HEADER in request.headers
        matched = self.get_object if is_asked and isinstance(self, GenericAPIView) else None
        if not key and not matched:
            return handler

        @transaction.atomic
        def done(request: Request, *args: Any, **kwargs: Any) -> HttpResponse:
            asked = idempotency.asked_by(request) if key else ""
            if key and (first := idempotency.first_answer(request, key, asked=asked)):
                return first
            if matched:
                row = matched()
                self.lock_before(row)
                etag.require_match(request, row)
            response = handler(request, *args, **kwargs)
            if key:
                etag.put_tag(response)
                idempotency.keep_answer(request, key, response, asked=asked)
            return response

        return done
