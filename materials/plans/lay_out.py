"""A crew day's rolls, as its sheet shows them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Set
from itertools import chain

from jobs.calc.say import plural
from materials.calc.product import Measure, ProductFacts
from materials.calc.pull import Pull
from materials.calc.roll_picture import RollPiece, RollRow
from materials.calc.rolls import Cut, Roll
from materials.plans.compose import CutFor
from materials.plans.cut_up import CutUp
from materials.workbook import CutRow, RollGroup, StagingRow
from openings.calc.figures import TWO_PLACES, half_up

NOT_FOR_ALL = "will not do for every opening: read the cautions"


def staging_rows(pulls: Iterable[Pull], *, unfit_parts: Set[str] = frozenset()) -> tuple[StagingRow, ...]:
    """Return what to load, product by product; one that does not do for some opening says so."""
    return tuple(_staging(pull, unfit_parts) for pull in pulls)


def _staging(pull: Pull, unfit_parts: Set[str]) -> StagingRow:
    product = pull.product
    note = pull.note
    if product and pull.plan:
        note = pull.plan.verdict(product.package)
        if codes := [roll.remnant for roll in pull.plan.rolls if roll.remnant]:
            note = f"{note}; take {plural('remnant', len(codes))} {', '.join(codes)}"
    if product and not unfit_parts.isdisjoint(pull.parts):
        note = f"{note}; {NOT_FOR_ALL}" if note else NOT_FOR_ALL
    return StagingRow(
        product_code=product.code if product else "",
        product=product.name if product else "",
        parts=", ".join(pull.parts),
        packages=pull.packages,
        package=product.package if product else "",
        quantity=half_up(pull.quantity, to=TWO_PLACES) if pull.measure is Measure.VOLUME else pull.quantity,
        measure=pull.measure,
        note=note,
        spare=half_up(pull.spare.quantity, to=TWO_PLACES) if pull.measure is Measure.VOLUME else pull.spare.quantity,
        spare_reason=pull.spare.reason,
    )


def cut_rows(pulls: Iterable[Pull], cut_for: Mapping[str, CutFor]) -> tuple[CutRow, ...]:
    """Return the cuts by opening, in the order of the day and of the draw, which `cut_for` keeps."""
    rows: dict[str, list[CutRow]] = {label: [] for label in cut_for}
    for pull in pulls:
        product = pull.product
        if product is None:
            continue
        for number, roll in _numbered(pull):
            for (label, length_in), count in Counter((cut.label, cut.length_in) for cut in roll.cuts).items():
                made_for = cut_for[label]
                rows[label].append(
                    CutRow(
                        mark=f"{made_for.job} {made_for.mark}",
                        part=made_for.part,
                        count=count,
                        length_in=length_in,
                        width_in=product.width_in,
                        roll=f"{product.name}, {roll.remnant or f'{product.package} {number}'}",
                    )
                )
    return tuple(chain.from_iterable(rows.values()))


def roll_groups(cut: CutUp, cut_for: Mapping[str, CutFor]) -> tuple[RollGroup, ...]:
    """Return the rolls by product, each with its pieces in the order of cutting."""
    is_one_job = len({made_for.job for made_for in cut_for.values()}) <= 1
    return tuple(
        RollGroup(
            product=pull.product.name,
            verdict=pull.plan.verdict(pull.product.package),
            rolls=(
                *(
                    _roll_row(roll, number, pull.product.package, cut, cut_for, is_one_job)
                    for number, roll in _numbered(pull)
                ),
                *(_spare_row(pull.product, number) for number in spare_rolls(pull)),
            ),
            trim_in=pull.product.trim_in,
        )
        for pull in cut.pulls
        if pull.product and pull.plan
    )


def _numbered(pull: Pull) -> Iterator[tuple[int, Roll]]:
    """Yield the rolls of a pull, the new ones counted from 1; remnants, which go by their codes, come before."""
    rolls = pull.plan.rolls if pull.plan else ()
    new = pull.plan.rolls_new if pull.plan else 0
    return zip(range(1 + new - len(rolls), 1 + new), rolls, strict=True)


def spare_rolls(pull: Pull) -> Iterator[int]:
    """Yield the numbers of the new rolls of a pull that nothing is cut from, which come after the others."""
    new = pull.plan.rolls_new if pull.plan else 0
    yield from range(1 + new, 1 + new + pull.spare.packages) if pull.plan else ()


def _roll_row(
    roll: Roll, number: int, package: str, cut: CutUp, cut_for: Mapping[str, CutFor], is_one_job: bool
) -> RollRow:
    return RollRow(
        package=package,
        number=number,
        length_in=roll.length_in,
        pieces=tuple(_piece(piece, cut_for[piece.label], is_one_job) for piece in roll.cuts),
        left_in=roll.left_in,
        is_kept=roll.is_kept,
        remnant=roll.remnant or "",
        place=cut.remnants[roll.remnant].place.name if roll.remnant else "",
    )


def _spare_row(product: ProductFacts, number: int) -> RollRow:
    length_in = product.package_quantity
    return RollRow(
        package=product.package, number=number, length_in=length_in, pieces=(), left_in=length_in, is_kept=True
    )


def _piece(piece: Cut, made_for: CutFor, is_one_job: bool) -> RollPiece:
    job = "" if is_one_job else made_for.job
    return RollPiece(mark=made_for.mark, part=made_for.part, length_in=piece.length_in, job=job)
