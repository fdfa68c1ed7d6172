"""Tools and small supplies that a detail takes beside its draw: what is carried along and never is stock."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence, Set
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from jobs.calc.sentence import Sentence
from materials.calc.attachment import EDGE_SPACING_IN, STUCK, edge_fasteners
from materials.calc.parts import Part
from materials.calc.product import Attachment, Measure
from materials.calc.supply import SuppliedLine
from openings.calc.anchorage import fastener_of
from openings.calc.facts import DetailFacts
from openings.calc.geometry import head_cut_in
from openings.calc.lay_order import steps_for
from openings.calc.step_code import StepCode
from openings.calc.terms import Mounting
from openings.calc.units import US, Units

SOURCE = "common practice, no source; amounts are an allowance (company default), not stock"

CUTS_BESIDE_THE_FLAP = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadItem:
    """A tool, or a small supply with what an opening takes of it.

    Args:
        quantity: in `measure`; None for a tool, of which one is enough, and for what is taken as it is needed.
    """

    name: Sentence
    why: Sentence
    quantity: Decimal | None = None
    measure: Measure | None = None

    def amount_in(self, units: Units) -> str:
        """Return how much of it, in words; nothing where that is not counted."""
        if self.quantity is None:
            return ""
        if self.measure is Measure.LENGTH:
            return units.say(self.quantity if units.is_metric else self.quantity.to_integral_value(ROUND_CEILING))
        return str(self.quantity)

    @property
    def amount(self) -> str:
        """How much of it in the trade's own measures."""
        return self.amount_in(US)


def load_list(
    lines: Sequence[SuppliedLine], detail: DetailFacts, *, laid: Set[str] = frozenset(), units: Units = US
) -> tuple[LoadItem, ...]:
    """Return the tools and small supplies for what is left to lay of one opening, each with why it is there.

    Args:
        lines: the draw of the opening with its products, without what is laid.
        laid: codes of the steps that are done.
    """
    left = {step.code for step in steps_for(detail) if step.code not in laid}
    if not left:
        return ()
    return (
        *_for_strips(lines, detail, left, units),
        *_for_sealant(lines),
        *_for_the_unit(lines, detail, left),
        *_for_everybody(),
    )


def load_list_of(lines: Sequence[SuppliedLine], detail: DetailFacts, *, units: Units = US) -> tuple[LoadItem, ...]:
    """Return the tools and small supplies of a detail for any opening, without amounts, which follow its size.

    Args:
        lines: the draw of an opening that the detail fits, with its products.
    """
    return tuple(LoadItem(name=item.name, why=item.why) for item in load_list(lines, detail, units=units))


def add_up(lists: Iterable[Iterable[LoadItem]]) -> tuple[LoadItem, ...]:
    """Return one list for a crew's day: amounts added, and one of each tool."""
    found: dict[str, LoadItem] = {}
    for item in (item for items in lists for item in items):
        known = found.get(item.name)
        if known is None:
            found[item.name] = item
        elif known.quantity is not None and item.quantity is not None:
            quantity = known.quantity + item.quantity
            found[item.name] = LoadItem(name=known.name, why=known.why, quantity=quantity, measure=known.measure)
    return tuple(found.values())


def _for_strips(
    lines: Sequence[SuppliedLine], detail: DetailFacts, left: Set[StepCode], units: Units
) -> Iterator[LoadItem]:
    strips = [(line, product) for line, product in lines if line.part in STUCK]
    attachments = {product.attachment if product else None for _, product in strips}
    fastened = [line for line, product in strips if product and product.attachment is Attachment.MECHANICAL]
    if fastened:
        yield LoadItem(
            name=Sentence("staples or cap nails"),
            why=Sentence(
                "hold a mechanically attached strip along the one edge that may be fastened, at most {spacing} apart "
                "(company default)",
                spacing=units.say(EDGE_SPACING_IN),
            ),
            quantity=Decimal(sum(map(edge_fasteners, fastened))),
            measure=Measure.COUNT,
        )
        yield _tool(
            Sentence("hammer tacker or cap nailer"), Sentence("sets staples or cap nails without tearing the strip")
        )
    if StepCode.CLOSE_BARRIER in left:
        yield LoadItem(
            name=Sentence("sheathing tape"),
            why=Sentence("closes the two cuts beside the head flap"),
            quantity=CUTS_BESIDE_THE_FLAP * head_cut_in(detail),
            measure=Measure.LENGTH,
        )
    if strips:
        yield _tool(
            Sentence("utility knife with a rounded blade"),
            Sentence("slits and trims a membrane without going through what lies below"),
        )
        yield _tool(
            Sentence("straightedge"), Sentence("keeps cut ends square, so that laps are as long as they are drawn")
        )
    if strips and attachments != {Attachment.MECHANICAL}:
        yield _tool(Sentence("hand roller"), Sentence("a self-adhered strip sticks only where it was pressed down"))
    if any(product and product.needs_primer for _, product in strips) or _has(lines, {Part.PRIMER}):
        yield _tool(
            Sentence("primer roller or brush"), Sentence("primer goes on thin and even, no wider than what covers it")
        )
    if _has(lines, {Part.DRIP_CAP}):
        yield _tool(Sentence("tin snips"), Sentence("cut the drip cap to length; its edges cut hands"))


def _for_sealant(lines: Sequence[SuppliedLine]) -> Iterator[LoadItem]:
    packages = {product.package if product else "" for line, product in lines if line.part in _SEALED}
    if packages - {"sausage"}:
        yield _tool(Sentence("caulking gun"), Sentence("lays sealant out of cartridges in one even bead"))
    if "sausage" in packages:
        yield _tool(Sentence("bulk caulking gun"), Sentence("lays sealant out of sausages in one even bead"))
    if packages:
        yield _tool(Sentence("bead tool"), Sentence("sealant that is not tooled is worth about half"))
        yield _tool(
            Sentence("solvent wipes"),
            Sentence(
                "sealant bonds to clean, dry faces only; the solvent that its maker names, away from flames, aired"
            ),
        )
    if _has(lines, {Part.BACKER_ROD}):
        yield _tool(Sentence("backer rod tool"), Sentence("sets the rod at one depth without tearing its skin"))


def _for_the_unit(lines: Sequence[SuppliedLine], detail: DetailFacts, left: Set[StepCode]) -> Iterator[LoadItem]:
    if StepCode.SHIM in left:
        yield _tool(
            Sentence("levels, 2 ft and 4 ft"), Sentence("sill level and jambs plumb before anything is fastened")
        )
        yield _tool(Sentence("tape measure"), Sentence("the diagonals say whether the unit is square"))
        yield _tool(Sentence("string"), Sentence("two strings across the corners show a twist"))
        yield _tool(Sentence("thin shim stock"), Sentence("makes up what the shims of the draw leave"))
    is_nailed = detail.mounting is Mounting.FLANGE and fastener_of(detail).is_nail
    if _has(lines, {Part.FLANGE_FASTENER}) and is_nailed:
        yield _tool(Sentence("hammer or nailer"), Sentence("drives the nails of the flange that is staged"))
    if _has(lines, _SCREWS) or (_has(lines, {Part.FLANGE_FASTENER}) and not is_nailed):
        yield _tool(
            Sentence("screw gun with bits"), Sentence("drives screws until they hold and no farther, or the frame bows")
        )
    if StepCode.SET_UNIT in left:
        yield _tool(
            Sentence("lifting aid as the lift of the opening says"),
            Sentence("units hurt backs and hands: enough people, suction cups or a lift, as its weight asks"),
        )


def _for_everybody() -> Iterator[LoadItem]:
    yield _tool(
        Sentence("ladder or scaffold"),
        Sentence(
            "the head is flashed above the shoulder: firm ground, guards at openings; local code and the site's "
            "competent person go first"
        ),
    )
    yield _tool(
        Sentence("eye protection, cut-resistant gloves and sleeves"),
        Sentence("glass, metal and blades cut, solvents splash"),
    )


_SCREWS = frozenset({Part.JAMB_SCREW, Part.FRAMING_SCREW, Part.STRAP})
_SEALED = frozenset({Part.CASING_JOINT_BEAD, Part.SETTING_BEAD, Part.FLANGE_BEAD, Part.AIR_SEAL_BEAD})


def _tool(name: Sentence, why: Sentence) -> LoadItem:
    return LoadItem(name=name, why=why)


def _has(lines: Sequence[SuppliedLine], parts: Set[Part]) -> bool:
    return any(line.part in parts for line, _ in lines)
