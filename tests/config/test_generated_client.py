"""A client that a general generator made from the OpenAPI document reads the service, in either units."""

from __future__ import annotations

import json
from collections.abc import Callable
from decimal import Decimal
from importlib import import_module
from pathlib import Path
from typing import Any

import httpx
import pytest
from openapi_python_client import Config, generate
from openapi_python_client.config import ConfigFile, MetaType

from jobs.services import make_token
from tests.factories import PersonFactory, make_openings

PACKAGE = "generated_client"


@pytest.fixture
def client(
    document: dict[str, Any], service: Callable[..., Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Any:
    described = tmp_path / "openapi.json"
    described.write_text(json.dumps(document))
    config = Config.from_sources(
        ConfigFile(post_hooks=[], package_name_override=PACKAGE),
        MetaType.NONE,
        document_source=described,
        file_encoding="utf-8",
        overwrite=True,
        output_path=tmp_path / PACKAGE,
    )
    assert [error for error in generate(config=config) if error.level.name == "ERROR"] == []
    monkeypatch.syspath_prepend(tmp_path)
    _, token = make_token(person=PersonFactory())
    return import_module(PACKAGE).AuthenticatedClient(
        base_url="http://localhost",
        token=token,
        prefix="Token",
        httpx_args={"transport": httpx.WSGITransport(app=service)},
    )


# Inch of 25.4 mm, pound of 0.45359237 kg: NIST Handbook 44, appendix C.
def test_a_generated_client_reads_an_opening_in_inches_and_in_metric(client):
    (opening,) = make_openings(1, ro_width_in=Decimal(36), weight_lb=Decimal(100))
    retrieve = import_module(f"{PACKAGE}.api.openings.openings_retrieve")
    models = import_module(f"{PACKAGE}.models")
    inches = retrieve.sync(opening.pk, client=client)
    metric = retrieve.sync(opening.pk, client=client, units=models.OpeningsRetrieveUnits.METRIC)
    assert (type(inches), inches.ro_width_in, inches.weight_lb) == (models.Opening, 36, 100)
    assert (type(metric), metric.ro_width_mm, metric.weight_kg) == (models.OpeningMetric, 914.4, 45.36)
