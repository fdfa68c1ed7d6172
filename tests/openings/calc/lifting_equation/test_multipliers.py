"""Each multiplier against tables 1 to 5 of DHHS/NIOSH 94-110 (rev. 9/2021)."""

from __future__ import annotations

from decimal import Decimal

import pytest

from openings.calc.lifting_equation import Coupling, multipliers
from openings.calc.lifting_equation.duration import LONG, MODERATE, SHORT
from openings.calc.lifting_equation.multipliers import CM_KG, IN_LB

# 94-110 tables 1 to 4 as printed, spot values, and what lies beyond; 22 and 23 in differ from their own formula.
TABLES = {
    "HM": (multipliers.printed_horizontal, "0 1 10 1 11 .91 12 .83 15 .67 18 .56 20 .50 22 .46 23 .44 25 .40 25.01 0"),
    "VM": (multipliers.vertical, "-1 0 0 .78 10 .85 15 .89 20 .93 30 1 45 .89 60 .78 70 .70 70.01 0"),
    "DM": (multipliers.printed_distance, "0 1 10 1 15 .94 20 .91 30 .88 40 .87 70 .85 70.01 0"),
    "AM": (multipliers.asymmetry, "0 1 15 .95 30 .90 45 .86 60 .81 90 .71 135 .57 135.1 0"),
}
CELLS = [
    pytest.param(multiplier, at, printed, id=f"{symbol} {at}")
    for symbol, (multiplier, table) in TABLES.items()
    for at, printed in zip(table.split()[::2], table.split()[1::2], strict=True)
]


@pytest.mark.parametrize(("multiplier", "at", "printed"), CELLS)
def test_tables_1_to_4(multiplier, at, printed):
    assert multipliers.as_printed(multiplier(Decimal(at))) == Decimal(printed)


@pytest.mark.parametrize(("reach", "exact"), [(22, "0.4545"), (23, "0.4348"), (24, "0.4167")])
def test_the_formula_itself_knows_no_misprint(reach, exact):
    assert round(multipliers.horizontal(Decimal(reach)), 4) == Decimal(exact)


# The same tables in centimeters: 25/H, 1 − .003 |V − 75|, .82 + 4.5/D, rounded half-up, but .86 at D = 130.
@pytest.mark.parametrize(
    ("multiplier", "at", "printed"),
    [
        pytest.param(multipliers.printed_horizontal, "25", "1", id="H 25 cm"),
        pytest.param(multipliers.printed_horizontal, "50", ".50", id="H 50 cm"),
        pytest.param(multipliers.printed_horizontal, "63", ".40", id="H 63 cm"),
        pytest.param(multipliers.printed_horizontal, "63.1", "0", id="H above 63 cm"),
        pytest.param(multipliers.vertical, "0", ".78", id="V 0"),
        pytest.param(multipliers.vertical, "75", "1", id="V 75 cm"),
        pytest.param(multipliers.vertical, "175", ".70", id="V 175 cm"),
        pytest.param(multipliers.vertical, "175.1", "0", id="V above 175 cm"),
        pytest.param(multipliers.printed_distance, "25", "1", id="D 25 cm"),
        pytest.param(multipliers.printed_distance, "130", ".86", id="D 130 cm, printed against its formula"),
        pytest.param(multipliers.printed_distance, "175", ".85", id="D 175 cm"),
        pytest.param(multipliers.printed_distance, "175.1", "0", id="D above 175 cm"),
    ],
)
def test_metric_tables(multiplier, at, printed):
    assert multipliers.as_printed(multiplier(Decimal(at), by=CM_KG)) == Decimal(printed)


def test_load_constants_are_51_lb_and_23_kg():
    # 94-110 p. 1: no exact conversions; 51 lb is 23.13 kg.
    assert (IN_LB.load, CM_KG.load) == (51, 23)


# 94-110 table 5. Up to 10 lifts a minute, and the short columns, as printed; the rows by V above that from memory.
TABLE_5 = """
0.2   1.00 1.00  .95 .95  .85 .85
0.5   .97 .97    .92 .92  .81 .81
1     .94 .94    .88 .88  .75 .75
2     .91 .91    .84 .84  .65 .65
3     .88 .88    .79 .79  .55 .55
4     .84 .84    .72 .72  .45 .45
5     .80 .80    .60 .60  .35 .35
6     .75 .75    .50 .50  .27 .27
7     .70 .70    .42 .42  .22 .22
8     .60 .60    .35 .35  .18 .18
9     .52 .52    .30 .30  .00 .15
10    .45 .45    .26 .26  .00 .13
11    .41 .41    .00 .23  .00 .00
12    .37 .37    .00 .21  .00 .00
13    .00 .34    .00 .00  .00 .00
14    .00 .31    .00 .00  .00 .00
15    .00 .28    .00 .00  .00 .00
15.01 .00 .00    .00 .00  .00 .00
""".strip().splitlines()


@pytest.mark.parametrize("row", TABLE_5, ids=lambda row: f"{row.split()[0]} a minute")
def test_table_5(row):
    pace, *printed = map(Decimal, row.split())
    found = [
        multipliers.frequency(pace, duration, height)
        for duration in (SHORT, MODERATE, LONG)
        for height in (Decimal("29.9"), Decimal(30))
    ]
    assert found == printed


# 94-110 p. 7: straight line between rows; above the last frequency of a column, nothing.
@pytest.mark.parametrize(
    ("pace", "duration", "height", "fm"),
    [
        pytest.param("0", SHORT, 30, "1", id="below 0.2 counts as 0.2"),
        pytest.param("0.15", LONG, 30, ".85", id="below 0.2 in the long column"),
        pytest.param("2.4", SHORT, 30, ".898", id="2.4, as example 7 does it"),
        pytest.param("0.35", SHORT, 30, ".985", id="between 0.2 and 0.5"),
        pytest.param("8.5", LONG, 30, ".165", id="8.5, hands high"),
        pytest.param("8.5", LONG, 29, "0", id="8.5, hands low: 8 is the last"),
        pytest.param("12.5", SHORT, 29, "0", id="12.5, hands low: 12 is the last"),
        pytest.param("12.5", SHORT, 30, ".355", id="12.5, hands high"),
    ],
)
def test_frequency_between_the_rows(pace, duration, height, fm):
    assert multipliers.frequency(Decimal(pace), duration, Decimal(height)) == Decimal(fm)


# 94-110 p. 1-22: good 1.00, fair .95 below 30 in, 1.00 from 30 in up, poor .90 everywhere.
@pytest.mark.parametrize(
    ("grip", "low", "high"), [(Coupling.GOOD, "1", "1"), (Coupling.FAIR, ".95", "1"), (Coupling.POOR, ".90", ".90")]
)
def test_coupling(grip, low, high):
    assert multipliers.coupling(grip, Decimal("29.9")) == Decimal(low)
    assert multipliers.coupling(grip, Decimal(30)) == Decimal(high)
    assert multipliers.coupling(grip, Decimal("74.9"), by=CM_KG) == Decimal(low)
    assert multipliers.coupling(grip, Decimal(75), by=CM_KG) == Decimal(high)
