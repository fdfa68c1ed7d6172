from __future__ import annotations

from decimal import Decimal

import pytest

from openings.calc.labor_rates import STARTING_RATES, Factor
from openings.calc.operation import NOT_RATED, factor_of_operation


# Wood units, each: double hung 4, casement 4, fixed sash 3, jalousie 2 person-hours: Guild of Project Controls
# compendium, window installation. Other words and letters for an operation: from memory.
@pytest.mark.parametrize(
    ("operation", "where", "person_h_each"),
    [
        ("double hung", "double-hung", 4),
        ("Double-Hung", "double-hung", 4),
        ("doublehung", "double-hung", 4),
        ("DH", "double-hung", 4),
        ("casement", "casement", 4),
        ("CASEMENT, left", "casement", 4),
        ("fixed", "fixed", 3),
        ("Fixed glass", "fixed", 3),
        ("F", "fixed", 3),
        (" o ", "fixed", 3),
        ("picture", "fixed", 3),
        ("Jalousie", "jalousie", 2),
        ("jalousies", "jalousie", 2),
        ("fixed over casement", "casement", 4),
    ],
)
def test_an_operation_is_found_in_the_words_of_schedules(operation, where, person_h_each):
    factor = factor_of_operation(operation, STARTING_RATES.operation_factors)
    assert (factor.where, factor.times) == (where, Decimal(person_h_each) / 4)


# X is a sash that moves, O one that does not, seen from outside: so a slider is no fixed unit (from memory).
@pytest.mark.parametrize("operation", ["awning", "X-O", "O/X", "OX", "F2", "unfixed", "hung", "7", "—", ""])
def test_what_nobody_rated_is_not_guessed(operation):
    assert factor_of_operation(operation, STARTING_RATES.operation_factors) is NOT_RATED


def test_a_shop_names_operations_in_its_own_words():
    factors = [Factor("tilt and turn", Decimal("1.3"), "own records")]
    assert factor_of_operation("Tilt-and-Turn, right", factors) is factors[0]
    assert factor_of_operation("tilt", factors) is NOT_RATED
