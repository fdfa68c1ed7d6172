"""What a job still takes, held against stock; read only."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from zoneinfo import ZoneInfo

from jobs.models import Job
from jobs.queries import today_at
from materials.calc.parts import Part
from materials.calc.product import ProductFacts
from materials.calc.pull import Drawn, Pull, pull_of
from materials.calc.rolls import Remnant
from materials.calc.supply import Supplied
from materials.calc.takeoff import OnHand, TakeoffLine, plan_for
from materials.queries import Choices, claims_beside, held_in_warehouses, remnants_for, time_limit
from openings.models import Opening
from openings.queries import NOTHING_LAID, Computable, alike, computable, laid_before

SECONDS_A_PRODUCT = 1
"""How long a better cutting plan for one product is looked for (our choice)."""

NO_ORDERS = "What has been ordered and has not arrived is not kept here: subtract it before you order."
LAID_TODAY = "What is laid today counts as still to do until the day is over, as its material is still on the trucks."


@dataclass(frozen=True, slots=True, kw_only=True)
class Takeoff:
    """The takeoff of a job on a day.

    Args:
        left_count: openings of which something is still to be laid.
        missing: parts without a product, with the reason.
        notes: what to know before ordering, a sentence each.
    """

    job: Job
    on: date
    openings_count: int
    left_count: int
    lines: tuple[TakeoffLine, ...]
    missing: tuple[Pull, ...]
    notes: tuple[str, ...]

    @property
    def title(self) -> str:
        return f"Takeoff of {self.job.name} ({self.job.code})"


def takeoff_of(job: Job) -> Takeoff:
    """Return what the openings of a job take, void ones left out, and what of it is to be ordered.

    So many queries however many openings: those alike, and laid alike, are computed once. The cuts are planned for what
    is still to do at the beginning of the job's day, see `takeoff.plan_for`.
    """
    on = today_at(job)
    kinds = _kinds(job, datetime.combine(on, time.min, tzinfo=ZoneInfo(job.time_zone)))
    choices = Choices({item.opening.detail_id for item, _, _ in kinds})
    whole_of = [(choices.supply(item), count) for item, _, count in kinds]
    left_of = [
        (choices.supply(item, laid=laid) if laid else drawn, count)
        for (item, laid, count), (drawn, _) in zip(kinds, whole_of, strict=True)
    ]
    whole = pull_of(_drawn(whole_of))
    left = pull_of(_drawn(left_of), unknown=_unknown(drawn for drawn, _ in left_of))
    still = {pull.product.code: pull for pull in left if pull.product}
    claims, held = claims_beside(job), held_in_warehouses()
    remnants = remnants_for(claims.own_days)
    lines = []
    for pull in whole:
        if pull.product is None:
            continue
        product_id = choices.ids[pull.product.code]
        on_hand = OnHand(
            warehouses=held.get(product_id, Decimal(0)),
            for_others=claims.for_others.get(product_id, 0),
            on_trucks=claims.on_trucks.get(product_id, 0),
        )
        lying = [Remnant(one.length_in, one.code) for one in remnants.get(product_id, ())]
        lines.append(_line(pull.product, pull, still.get(pull.product.code), lying, on_hand))
    shared = (
        [f"{', '.join(claims.shared)} also set other jobs: all that they still want counts as theirs."]
        if claims.shared
        else []
    )
    return Takeoff(
        job=job,
        on=on,
        openings_count=sum(count for _, _, count in kinds),
        left_count=sum(count for drawn, count in left_of if drawn.lines),
        lines=tuple(lines),
        missing=tuple(pull for pull in left if pull.product is None),
        notes=(NO_ORDERS, LAID_TODAY, *shared),
    )


def _kinds(job: Job, morning: datetime) -> list[tuple[Computable, frozenset[str], int]]:
    """Return one opening of each kind with the steps laid of it, and how many are so. Four queries."""
    laid = laid_before(job.pk, morning)
    openings = Opening.objects.not_void().filter(job=job).prefetch_related("detail")
    by_laid: dict[frozenset[str], list[Computable]] = {}
    for item in computable(openings):
        by_laid.setdefault(laid.get(item.opening.pk, NOTHING_LAID), []).append(item)
    return [(item, steps, count) for steps, items in by_laid.items() for item, count in alike(items)]


def _drawn(supplied: Iterable[tuple[Supplied, int]]) -> Iterable[Drawn]:
    """Yield the lines of all openings, those of a kind as one; a cut is named by its part alone."""
    for drawn, count in supplied:
        lacks = drawn.lacks()
        for line, product in drawn.lines:
            of_kind = line._replace(count=line.count * count, quantity=line.quantity * count)
            yield Drawn(label="", line=of_kind, product=product, lacks="" if product else lacks.get(line.part, ""))


def _unknown(supplied: Iterable[Supplied]) -> dict[Part, str]:
    unknown: dict[Part, str] = {}
    for drawn in supplied:
        unknown |= drawn.unknown()
    return unknown


def _line(
    product: ProductFacts, whole: Pull, left: Pull | None, remnants: list[Remnant], on_hand: OnHand
) -> TakeoffLine:
    planned = plan_for(left, remnants, is_over=time_limit(SECONDS_A_PRODUCT)) if left else None
    return TakeoffLine(product=product, parts=whole.parts, whole_quantity=whole.quantity, left=planned, on_hand=on_hand)
