"""Plan the roll cuts of a file from the command line, as the API does."""

from __future__ import annotations

import sys
from argparse import ArgumentParser
from io import BytesIO
from pathlib import Path
from typing import Any

from django.core.handlers.wsgi import WSGIRequest
from django.core.management import BaseCommand, CommandError
from rest_framework.request import Request
from rest_framework.views import APIView

from materials import queries
from materials.serializers import CutsAsked, PlannedCutsSerializer
from openings.calc.units import BY_NAME, US

INDENT = 2


class Command(BaseCommand):
    help = "Plan which piece is cut from which roll or remnant; reads and prints the JSON of POST /api/v1/compute/cuts."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", metavar="FILE.json", help="what is to be cut from what; - reads standard input")
        parser.add_argument("--units", choices=list(BY_NAME), default=US.name)

    def handle(self, *, file: str, units: str, **_options: Any) -> None:
        edge = APIView()  # reads, refuses and writes as every endpoint does
        request = edge.initialize_request(_posted(_content(file), units=units))
        try:
            renderer, _ = edge.get_content_negotiator().select_renderer(request, edge.get_renderers())
            planned = _planned(request, units=units)
        except Exception as error:
            refusal = edge.get_exception_handler()(error, {"request": request})
            if refusal is None:
                raise
            raise CommandError(_lines(refusal.data)) from error
        self.stdout.write(renderer.render(planned, renderer_context={"indent": INDENT}).decode())


def _content(file: str) -> bytes:
    try:
        return sys.stdin.buffer.read() if file == "-" else Path(file).read_bytes()
    except OSError as error:
        raise CommandError(f"{file}: {error.strerror}") from error


def _posted(content: bytes, *, units: str) -> WSGIRequest:
    return WSGIRequest(
        {
            "REQUEST_METHOD": "POST",
            "QUERY_STRING": f"units={units}",
            "CONTENT_TYPE": "application/json",
            "CONTENT_LENGTH": str(len(content)),
            "wsgi.input": BytesIO(content),
        }
    )


def _planned(request: Request, *, units: str) -> dict[str, Any]:
    asked = CutsAsked(data=request.data)
    asked.is_valid(raise_exception=True)
    return PlannedCutsSerializer(queries.cuts_asked(**asked.validated_data, units=BY_NAME[units])).data


def _lines(problem: dict[str, Any]) -> str:
    faults = [f"{fault['field']}: “{fault['value']}”: {fault['detail']}" for fault in problem["errors"]]
    return "\n".join([problem["detail"], *faults])
