"""Every figure of one opening as text to be read in a terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import fill

from jobs.calc.say import counted, plural
from materials.calc.anchors import CAUTION as ANCHOR_CAUTION
from materials.calc.load_list import SOURCE as LOAD_SOURCE
from materials.queries import EverythingComputed
from openings.calc.advice import Answer as Answered
from openings.calc.code_advice import CAUTION as CODE_CAUTION
from openings.calc.figures import brief
from openings.calc.labor import HEIGHT_CAUTION
from openings.calc.lay_order import CAUTION as LAY_CAUTION
from openings.calc.tolerance import Answer

WIDTH = 110

_ANSWERS = {Answer.PASSED: "passed", Answer.FAILED: "FAILED", Answer.NOT_MEASURED: "NOT MEASURED"}


def explanation(found: EverythingComputed) -> str:
    """Return the whole reasoning of one opening, section by section."""
    sections = (
        (_title(found), _opening(found)),
        ("INSTALL STEPS", _install_steps(found)),
        ("WAYS CHOSEN", _ways(found)),
        ("FOR THE NEXT TRADE", (_item(left) for left in found.next_trade)),
        ("DRAW", _draw(found)),
        ("TOOLS AND SUPPLIES", _load_list(found)),
        ("MATERIALS THAT TOUCH", _touching(found)),
        ("WEIGHT AND LIFT", _lift(found)),
        ("LABOR", _labor(found)),
        ("MEASURED", _measured(found)),
        ("CODE CHECKS AND ADVICE", _advice(found)),
    )
    return "\n\n".join("\n".join((title, "=" * len(title), *lines)) for title, lines in sections)


def _title(found: EverythingComputed) -> str:
    return f"{found.opening.job.code} {found.opening.mark}"


def _item(text: str, *, source: str = "", mark: str = "-") -> str:
    said = f"{text} [{source}]" if source else text
    return fill(said, WIDTH, initial_indent=f"{mark} ", subsequent_indent=" " * (len(mark) + 1), break_long_words=False)


def _opening(found: EverythingComputed) -> Iterator[str]:
    opening, say = found.opening, found.units.say
    yield f"rough opening {opening.rough_opening.said(say)}"
    yield f"unit {say(opening.unit_width_in)} × {say(opening.unit_height_in)} {opening.operation}".rstrip()
    yield f"detail {opening.detail.name}, method {found.method}"


def _install_steps(found: EverythingComputed) -> Iterator[str]:
    numbers = {step.code: number for number, step in enumerate(found.steps, start=1)}
    for number, step in enumerate(found.steps, start=1):
        after = ", ".join(str(numbers[code]) for code in step.after)
        yield _item(f"{step.title}{f' (after {after})' if after else ''}", source=step.source, mark=f"{number:2}.")
        yield _item(f"why: {step.why}", mark="      ")
        yield from (_item(f"check: {look}", mark="      ") for look in step.see)
        if step.is_hold_point:
            yield "       HOLD POINT: stop for inspection before it is covered"
    yield _item(LAY_CAUTION, mark="!")


def _ways(found: EverythingComputed) -> Iterator[str]:
    for way in found.ways:
        yield _item(f"{way.about}, {way.standing}: {way.chosen}. {way.why}", source=way.source)


def _draw(found: EverythingComputed) -> Iterator[str]:
    for drawn in found.draw:
        product = drawn.product.name if drawn.product else "no product chosen that will do"
        yield _item(f"{drawn.line.reason_in(found.units)}; {product}", source=drawn.line.source)
    yield from (_item(f"NOT SUPPLIED: {fall.fault.detail}", mark="!") for fall in found.faults)
    yield _item(ANCHOR_CAUTION, mark="!")


def _load_list(found: EverythingComputed) -> Iterator[str]:
    yield from (_item(f"{one.part}: {one.said}") for one in found.held)
    for item in found.load_list:
        amount = item.amount_in(found.units)
        yield _item(f"{item.name}{f', {amount}' if amount else ''}: {item.why}")
    yield f"[{LOAD_SOURCE}]"


def _touching(found: EverythingComputed) -> Iterator[str]:
    for one in found.judged:
        pair = f"{one.contact.part} on {one.contact.neighbor}, {one.contact.where}"
        yield _item(f"{pair}: {one.verdict}; {one.reason}", source=one.source)


def _lift(found: EverythingComputed) -> Iterator[str]:
    lift = found.lift
    yield _item(lift.weight.reason, source=lift.weight.source)
    if found.weight_doubt:
        yield _item(f"WEIGHT IN DOUBT: {found.weight_doubt}", mark="!")
    who = f"{'a lifting aid and ' * lift.needs_aid}{'at least ' * lift.needs_decision}{counted(lift.people, 'person')}"
    yield _item(f"{who}: {lift.reason}", source=lift.source)
    if lift.equation is not None:
        yield _item(lift.equation.reason, source=lift.equation.source)
        ends = (end for end in (lift.equation.origin, lift.equation.destination) if end)
        for end in ends:
            yield from (_item(f"{end.place} {one.symbol}: {one.reason}", mark="   ") for one in end.multipliers)
    yield _item(lift.caution, mark="!")


def _labor(found: EverythingComputed) -> Iterator[str]:
    yield from (_item(line.reason_in(found.units), source=line.source) for line in found.labor)
    yield f"total {brief(found.total_person_h)} {plural('labor hour', found.total_person_h)}"
    yield _item(found.crew.reason, source=found.crew.source)
    yield _item(HEIGHT_CAUTION, mark="!")


def _measured(found: EverythingComputed) -> Iterable[str]:
    if found.measurement is None:
        return ["not measured yet"]
    checks = [_item(f"{_ANSWERS[check.answer]}: {check.reason}", source=check.source) for check in found.checks]
    size = found.order_size
    return [*checks, _item(size.reason, source=size.source)] if size else checks


def _advice(found: EverythingComputed) -> Iterator[str]:
    for advice in found.advice:
        answer = "" if advice.answer is Answered.CANNOT_TELL else f", {advice.answer}"
        yield _item(f"{advice.rule}{answer}: {advice.reason}", source=advice.source)
    yield _item(CODE_CAUTION, mark="!")
