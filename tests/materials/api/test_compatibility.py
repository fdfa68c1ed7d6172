"""What may touch what, asked over the API."""

from __future__ import annotations

import pytest

from materials.models import Compatibility
from tests.factories import PersonFactory
from tests.openings.api.clients import signed_in


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("chemistry", "neighbor", "verdict"),
    [
        # Asphalt-based membrane and plasticized PVC: not allowed, AAMA 713 and membrane makers' pages.
        ("asphalt", "plasticized PVC", "not compatible"),
        ("plasticized PVC", "asphalt", "not compatible"),
        # Nothing is known: tested, not assumed (AAMA 713).
        ("asphalt", "rayon", "test first"),
    ],
)
def test_a_pair_is_known_either_way_round_and_else_tested_first(chemistry, neighbor, verdict):
    Compatibility.objects.create(
        chemistry="asphalt", neighbor="plasticized PVC", verdict="not compatible", source="maker's letter"
    )
    answer = signed_in(PersonFactory()).get(
        "/api/v1/compatibilities/verdict/", {"chemistry": chemistry, "neighbor": neighbor}
    )
    assert answer.json()["verdict"] == verdict
