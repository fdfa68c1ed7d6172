"""Figures of a detail or a product outside their usual range: a warning, never a refusal.

A maker may ask for something else, and then that is right. What is out of range is said with range and source, so that
a slip is seen before it is cut.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from jobs.calc.say import field_name
from openings.calc.advice import Advice, Answer
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import plain
from openings.calc.terms import Mounting
from openings.calc.units import CONVERSIONS, US, Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """What is usual of one figure, by a source that is named.

    Args:
        field: the column of the figure.
        least, most: the ends, of which one may be open.
        measure: the end of the column's name, as `Units.say` takes it; else what stands behind the figure in all units.
    """

    field: str
    least: Decimal | None = None
    most: Decimal | None = None
    measure: str = "in"
    source: str

    def holds(self, figure: Decimal) -> bool:
        """Return whether a figure lies in it, the ends included."""
        return (self.least is None or figure >= self.least) and (self.most is None or figure <= self.most)

    def said(self, units: Units = US) -> str:
        """Return the range in words.

        >>> Range(field="pan_turn_up_in", least=Decimal(4), most=Decimal(6), source="").said()
        'from 4" to 6"'
        """
        if self.least == self.most and self.least is not None:
            return self._figure(self.least, units)
        least = "" if self.least is None else self._figure(self.least, units)
        most = "" if self.most is None else self._figure(self.most, units)
        return f"from {least} to {most}" if least and most else f"at least {least}" if least else f"at most {most}"

    def advice(self, figure: Decimal | None, *, of: str = "", units: Units = US) -> Advice | None:
        """Return the warning where a figure lies outside; None where it does not, or is not given.

        Args:
            of: what has the figure, such as the name of a product.
        """
        if figure is None or self.holds(figure):
            return None
        name = field_name(self.field)
        said = f"{of}: {name}" if of else name
        return Advice(
            rule=f"usual range: {name}",
            answer=Answer.TAKE_CARE,
            reason=f"{said} {self._figure(figure, units)}; the usual range is {self.said(units)}",
            source=self.source,
        )

    def _figure(self, figure: Decimal, units: Units) -> str:
        return f"{plain(figure)}{self.measure}" if self.measure not in CONVERSIONS else units.say(figure, self.measure)


def warnings(figures: Iterable[tuple[Range, Decimal | None]], *, of: str = "", units: Units = US) -> Iterator[Advice]:
    """Yield the warning of each figure outside its range."""
    for published, figure in figures:
        if advice := published.advice(figure, of=of, units=units):
            yield advice


_SHOP_DRAWING = "shop-drawing note, secondary"
_ROD_AND_BEAD = "bond and depth at least 1/4 in (Pecora), depth at most 1/2 in (northernarchitecture.us)"
_TRADE_PAGE = "trade page (greenyplace), secondary"
_DEFAULTS = "company default, editable"

_Applies = Callable[[DetailFacts], bool]


def _always(_detail: DetailFacts) -> bool:
    return True


def _flange(detail: DetailFacts) -> bool:
    return detail.mounting is Mounting.FLANGE


def _not_insert(detail: DetailFacts) -> bool:
    return detail.mounting is not Mounting.BOX_FRAME


def _has_pan(detail: DetailFacts) -> bool:
    return detail.has_pan


def _inches(
    field: str, least: str | None, most: str | None, source: str, applies: _Applies = _always
) -> tuple[Range, _Applies]:
    ends = [None if end is None else Decimal(end) for end in (least, most)]
    return Range(field=field, least=ends[0], most=ends[1], source=source), applies


_OF_DETAIL: tuple[tuple[Range, _Applies], ...] = (
    _inches("strip_width_in", "9", "12", "AWDI manual p. 23 (9 in at least); 12 in: common practice, no source"),
    _inches(
        "jamb_strip_short_in", "0.25", "1", f"{_DEFAULTS} (about 1/2 in: AAMA 2400, text not checked)", _not_insert
    ),
    _inches("end_lap_in", "2", "4", f"{_DEFAULTS} (laps of 2 to 4 in; not checked)"),
    _inches("pan_turn_up_in", "4", "6", "Fine Homebuilding 2013; 6 in: JLC photo guide", _has_pan),
    _inches("pan_front_lap_in", "2", "4", f"{_DEFAULTS} (laps of 2 to 4 in; not checked)", _has_pan),
    _inches(
        "back_dam_in", "0.25", None, f"{_DEFAULTS} (1/4 in or more, attributed to the US DOE; not checked)",
        lambda detail: detail.has_pan and detail.sill_slope_deg == 0,
    ),
    (
        Range(field="sill_slope_deg", least=Decimal(5), measure="°", source="JELD-WEN JII023 p. 3 (5° recommended)"),
        lambda detail: detail.has_pan and detail.sill_slope_deg > 0,
    ),
    (
        Range(
            field="water_test_pct", least=Decimal(15), most=Decimal(20), measure="%", source="constructionspecifier.com"
        ),
        _has_pan,
    ),
    _inches("joint_bead_in", "0.25", "0.5", _ROD_AND_BEAD, lambda detail: detail.mounting is Mounting.CASING),
    _inches("setting_bead_in", "0.25", "0.5", _ROD_AND_BEAD, lambda detail: detail.mounting is not Mounting.FLANGE),
    _inches("flange_bead_in", "0.25", "0.5", f"{_ROD_AND_BEAD}; nominal 3/8 in: AAMA 2400, text not checked", _flange),
    _inches(
        "strap_corner_in", "8", "24", "AWDI manual p. 89 (first 8 to 24 in from the corner)",
        lambda detail: detail.has_straps,
    ),
    _inches(
        "flange_fastener_corner_in", "3", "10", f"{_DEFAULTS} (AAMA 2400 and ASTM E2112, text not checked)", _flange
    ),
    _inches(
        "flange_fastener_spacing_in", "4", "16",
        f"{_DEFAULTS} (16 in at most: AAMA 2400 and ASTM E2112, text not checked); holes 4 to 6 in apart: trade page",
        _flange,
    ),
    _inches("sill_shim_spacing_in", "14", "16", _TRADE_PAGE),
    _inches("jamb_shim_spacing_in", "20", "24", _TRADE_PAGE),
    _inches("shim_end_in", "0.5", "1", "JELD-WEN JII-90025 (1/2 in from the window corner, 3/4 to 1 in from the side)"),
    *(_inches(f"ro_clearance_{side}_in", "0.5", "1", _SHOP_DRAWING, _not_insert) for side in ("width", "height")),
    *(
        _inches(
            f"ro_clearance_{side}_in", "0.25", "0.75", "Polaris installation page (insert)",
            lambda detail: detail.mounting is Mounting.BOX_FRAME,
        )
        for side in ("width", "height")
    ),
    *(_inches(f"most_clearance_{side}_in", None, "1", _SHOP_DRAWING) for side in ("width", "height")),
    (
        Range(
            field="sealant_waste_pct", least=Decimal(5), most=Decimal(20), measure="%", source="trade pages, secondary"
        ),
        _always,
    ),
)  # fmt: skip


def detail_ranges(detail: DetailFacts, *, units: Units = US) -> tuple[Advice, ...]:
    """Return a warning for each figure of a detail outside its usual range, of the figures that it uses."""
    figures = ((published, getattr(detail, published.field)) for published, applies in _OF_DETAIL if applies(detail))
    return tuple(warnings(figures, units=units))


def clearance_ranges(opening: OpeningFacts, detail: DetailFacts, *, units: Units = US) -> tuple[Advice, ...]:
    """Return a warning where an opening has less or more room for its unit than its detail says."""
    figures = (
        (
            Range(
                field=f"clearance_in_{side}",
                least=getattr(detail, f"ro_clearance_{side}_in"),
                most=getattr(detail, f"most_clearance_{side}_in"),
                source=f"installation detail; usual limits from a {_SHOP_DRAWING}",
            ),
            getattr(opening, f"ro_{side}_in") - getattr(opening, f"unit_{side}_in"),
        )
        for side in ("width", "height")
    )
    return tuple(warnings(figures, units=units))
