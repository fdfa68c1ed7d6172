"""The same sums laid out as formulas of a spreadsheet, recalculated by headless LibreOffice."""

from __future__ import annotations

import csv
import re
import shutil
import subprocess
from collections.abc import Sequence
from dataclasses import fields
from enum import StrEnum
from pathlib import Path
from tempfile import TemporaryDirectory

from openpyxl import Workbook
from openpyxl.utils import get_column_letter

from config.bench.draw import OPENINGS, Pair, calculate, mixed_pairs
from config.bench.timing import Row, seconds
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import is_flashed_here
from openings.calc.labor_rates import RATE_NAMES, STARTING_RATES

TIMEOUT_S = 600

_NUMBERS = [field.name for field in fields(DetailFacts) if field.type in ("Decimal", "int", "bool")]


def _count(side: str, corner: str, spacing: str) -> str:
    """Return the formula of how many points stand along a side."""
    return f"IF({{{side}}}>2*{{{corner}}},ROUNDUP(({{{side}}}-2*{{{corner}}})/{{{spacing}}},0)+1,1)"


FORMULAS = {
    "outer": "{w}+2*{casing_width_in}",
    "sill": "{flashed}*({ro_w}+2*{strip_width_in})",
    "jamb": "{flashed}*({ro_h}+2*({strip_width_in}-{jamb_strip_short_in}))",
    "membrane": "{flashed}*{has_head_membrane}*({outer}+2*{head_membrane_lap_in})",
    "cap": "IF({cap_kind}=0,0,{outer}+2*{drip_cap_past_in})",
    "counter": "IF({cap_kind}=3,{cap}+2*{head_membrane_lap_in},0)",
    "pan": "{has_pan}*({ro_w}+2*{pan_turn_up_in})",
    "three": "{w}+2*{h}",
    "along": "IF({sill_kind}=0,0,{outer}-IF({sill_kind}=1,2*{sill_drain_gap_in},0))",
    "edge": "{three}+{along}+IF({mounting}=1,4*{casing_width_in},0)",
    "waste": "1+{sealant_waste_pct}/100",
    "bead": "{edge}*PI()/4*IF({mounting}=0,{flange_bead_in},{setting_bead_in})^2*{waste}",
    "joint": "IF({mounting}=1,{three}*PI()/4*{joint_bead_in}^2*{waste},0)",
    "bed": "IF({cap_kind}=2,{cap}*PI()/4*{setting_bead_in}^2*{waste},0)",
    "gap_w": "({ro_w}-{w})/2",
    "gap_h": "({ro_h}-{h})/2",
    "radius": "CEILING({gap_w}+0.125,0.125)/2",
    "section": (
        "{gap_w}*(MAX(0.25,MIN({gap_w}/2,0.5))+{radius})-{gap_w}/2*SQRT({radius}^2-({gap_w}/2)^2)"
        "-{radius}^2*ASIN({gap_w}/2/{radius})"
    ),
    "air": "{has_air_seal}*2*({h}+{w})*{section}*{waste}",
    "rod": "{has_air_seal}*2*({h}+{w})",
    "weight": ("IF({lb}>0,{lb},{w}*{h}/144*13.006*0.25+2*({w}+{h})/12*IF({mounting}=1,2.5,1.5))"),
    "people": "IF({weight}<=68,2,3)",
    "aid": "IF({weight}>76.5,1,0)",
    "load": "{psf}*{w}*{h}/144/2",
    "allowable": (
        "2850*{framing_specific_gravity}^2*{fastener_diameter_in}*{fastener_penetration_in}*{load_duration_factor}"
    ),
    "fl_h": _count("h", "flange_fastener_corner_in", "flange_fastener_spacing_in"),
    "fl_w": _count("w", "flange_fastener_corner_in", "flange_fastener_spacing_in"),
    "fl_load": "ROUNDUP({load}/{allowable},0)",
    "fasteners": (
        "IF({mounting}=0,2*IF({h}>={w},MAX({fl_h},{fl_load}),{fl_h})+2*IF({h}<{w},MAX({fl_w},{fl_load}),{fl_w}),0)"
    ),
    "st_h": _count("h", "strap_corner_in", "strap_spacing_in"),
    "st_w": _count("w", "strap_corner_in", "strap_spacing_in"),
    "st_load": "ROUNDUP({load}/IF({has_straps}=1,{strap_allowable_lb},{allowable}),0)",
    "anchors": (
        "IF(OR({has_straps}=1,{mounting}<>0),"
        "2*IF(OR({has_straps}=1,{mounting}<>2),MAX({st_h},{st_load}),{st_h})+{st_w},0)"
    ),
    "straps": "{has_straps}*{anchors}",
    "screws": "IF({has_straps}=1,0,{anchors})",
    "shimmed": "{has_straps}*{has_shims_at_straps}",
    "at_jamb": "IF({shimmed}=1,({straps}-{st_w})/2,1)",
    "st_corner": "IF({h}>2*{strap_corner_in},{strap_corner_in},{h}/2/{at_jamb})",
    "st_step": "IF({at_jamb}>1,({h}-2*{st_corner})/({at_jamb}-1),0)",
    "sh_end": "IF({st_corner}-{shim_end_in}<1.5,0,ROUNDUP(({st_corner}-{shim_end_in})/{jamb_shim_spacing_in},0))",
    "sh_h": (
        "IF({shimmed}=1,2*{sh_end}+({at_jamb}-1)*(ROUNDUP({st_step}/{jamb_shim_spacing_in},0)-1),"
        f"{_count('h', 'shim_end_in', 'jamb_shim_spacing_in')})"
    ),
    "sh_w": _count("w", "shim_end_in", "sill_shim_spacing_in"),
    "points": "2*{sh_h}+{sh_w}+{has_shims_at_straps}*{straps}+{lock_hinge_shim_points}",
    "hours": (
        "{r_prepare}+{r_clean_up}+({sill}+{has_head_strip}*{sill}+2*{jamb})/12*{r_flash}+{has_pan}*{r_pan}"
        "+({edge}+IF({mounting}=1,{three},0)+IF({cap_kind}=2,{cap},0))/12*{r_seal}+{aid}*{r_rig_aid}+{people}*{r_set_unit}"
        "+{points}*{r_shim}+{fasteners}*{r_flange}+{straps}*{r_strap}+{screws}*{r_screw}"
        "+{flashed}*{has_head_membrane}*{r_head_membrane}+IF({cap_kind}=0,0,{r_head_flashing})+{rod}/12*{r_air_seal}"
    ),
}
"""Each quantity of draw, lift and labor, by name; round beads and gaps alike at all sides, as the sample has them."""


def formulas_row() -> Row:
    """Measure draw, labor and lift against a spreadsheet's recalculation of the same sums."""
    name, reference, aim = f"the same of {OPENINGS:,} openings", "the sums as formulas in LibreOffice", 1
    program = shutil.which("soffice") or shutil.which("libreoffice")
    if program is None:
        return Row(name=name, reference=reference, aim=aim, skipped="LibreOffice is not installed")
    pairs = mixed_pairs(OPENINGS)
    many, one = (_seconds_to_recalculate(some, program=program) for some in (pairs, pairs[:1]))
    if many <= one:
        return Row(name=name, reference=reference, aim=aim, skipped="too few openings to time")
    return Row(name=name, reference=reference, ours=seconds(lambda: calculate(pairs)), theirs=many - one, aim=aim)


def _seconds_to_recalculate(pairs: Sequence[Pair], *, program: str) -> float:
    """Return the time from the written sheet to its figures; writing it with openpyxl is not counted."""
    with TemporaryDirectory() as folder:
        _write(pairs, Path(folder) / "sums.xlsx")
        return seconds(lambda: _convert(folder, program=program))


def recalculated(pairs: Sequence[Pair], *, program: str) -> list[float]:
    """Return the person-hours of each opening as the spreadsheet calculates them."""
    with TemporaryDirectory() as folder:
        _write(pairs, Path(folder) / "sums.xlsx")
        _convert(folder, program=program)
        with (Path(folder) / "sums.csv").open() as lines:
            return [float(row["hours"]) for row in csv.DictReader(lines)]


def _convert(folder: str, *, program: str) -> None:
    subprocess.run(  # noqa: S603 (a program found on the PATH, on a file of our own)
        [
            program, "--headless", f"-env:UserInstallation=file://{folder}/profile", "--convert-to", "csv",
            "--outdir", folder, f"{folder}/sums.xlsx",
        ],
        check=True, capture_output=True, timeout=TIMEOUT_S,
    )  # fmt: skip


def _write(pairs: Sequence[Pair], path: Path) -> None:
    inputs = [_inputs(*pair) for pair in pairs]
    names = [*inputs[0], *FORMULAS]
    letters = {name: get_column_letter(place) for place, name in enumerate(names, start=1)}
    book = Workbook(write_only=True)
    sheet = book.create_sheet("sums")
    sheet.append(names)
    parts = [re.split(r"\{(\w+)\}", formula) for formula in FORMULAS.values()]
    for number, given in enumerate(inputs, start=2):
        made = [
            "=" + "".join(f"{letters[one]}{number}" if place % 2 else one for place, one in enumerate(split))
            for split in parts
        ]
        sheet.append([*given.values(), *made])
    book.save(path)


def _inputs(opening: OpeningFacts, detail: DetailFacts) -> dict[str, float]:
    return {
        "ro_w": float(opening.ro_width_in),
        "ro_h": float(opening.ro_height_in),
        "w": float(opening.unit_width_in),
        "h": float(opening.unit_height_in),
        "lb": float(opening.weight_lb or 0),
        "psf": float(opening.design_pressure_psf or 0),
        "flashed": float(is_flashed_here(detail)),
        "mounting": _place(detail.mounting),
        "cap_kind": _place(detail.head_flashing),
        "sill_kind": _place(detail.sill_bead),
        **{name: float(getattr(detail, name)) for name in _NUMBERS},
        **{f"r_{name}": float(getattr(STARTING_RATES, name).person_h) for name in RATE_NAMES},
    }


def _place(word: StrEnum) -> float:
    return float(list(type(word)).index(word))
