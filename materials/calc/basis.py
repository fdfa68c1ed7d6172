"""What a pull sheet is compared by: a list of figures under a version, and in words what differs between two lists."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Any, TypeAlias

from jobs.calc.say import counted, plural
from materials.calc.product import Measure
from openings.calc.figures import plain
from openings.calc.tape import format_length

VERSION = 2
"""Goes up by one with every change of what is listed below. What comes to mean something else gets a new name."""

Value: TypeAlias = str | int | bool
Figures: TypeAlias = Mapping[str, Value]
Topics: TypeAlias = Mapping[str, Mapping[str, Figures]]

DAY = ("crew", "truck", "people_count", "capacity_person_h")
JOB = ("code", "name", "address")
OPENING = (
    "sequence", "job", "mark", "floor", "ro_width_in", "ro_height_in", "built_ro_width_in", "built_ro_height_in",
    "unit_width_in", "unit_height_in", "detail",
    "method", "weight_lb", "weight_is_estimate", "people", "needs_aid", "person_h", "remarks", "steps_done",
    "stopped",
)  # fmt: skip
PRODUCT = (
    "name", "code", "parts", "package", "package_quantity", "measure", "width_in", "trim_in", "shortest_remnant_in",
    "quantity", "spare_pct", "spare_pieces", "attachment",
)  # fmt: skip
LACKING = ("quantity", "measure")
CAUTION = ("text",)

WAITS, CARRIED_ON = "stopped", "carried on elsewhere"
"""What `stopped` of an opening says where the day sets nothing more of it."""

MARKS_SAID = 6


class Topic(StrEnum):
    """What figures are about. What is said of openings comes first, cautions come last."""

    OPENINGS = "openings"
    JOBS = "jobs"
    DAY = "day"
    PRODUCTS = "products"
    CUTS = "cuts"
    LACKING = "lacking"
    CAUTIONS = "cautions"


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """The figures of a sheet by topic, and within it by what they are of: an opening's id, a caution's key.

    The figures are kept, not a digest of them: a reason names what was, too.

    Args:
        topics: `cuts` has by product, and in it by opening, what is cut; the other topics the figures listed here. One
            that is missing is not known.
    """

    version: int
    topics: Topics

    def as_json(self) -> dict[str, Any]:
        """Return what `basis_from` reads."""
        return {"version": self.version, "topics": self.topics}


def basis_from(stored: Mapping[str, Any]) -> Basis:
    """Return the basis that `as_json` wrote."""
    return Basis(version=stored["version"], topics=stored["topics"])


def figures(source: object, names: Iterable[str], **more: object) -> dict[str, Value]:
    """Return the named figures of a row or value as they are compared; `more` are figures that it does not have.

    >>> from types import SimpleNamespace
    >>> figures(SimpleNamespace(width_in=Decimal("9.500"), name="Strip", is_new=True), ["width_in", "name"], count=3)
    {'width_in': '9.5', 'name': 'Strip', 'count': 3}
    """
    return {name: canonical(more[name] if name in more else getattr(source, name)) for name in (*names, *more)}


def canonical(value: object) -> Value:
    """Return a value as it is stored and compared: figures without padding, nothing for None."""
    if isinstance(value, bool | int):
        return value
    if isinstance(value, Decimal):
        return plain(value)
    return "" if value is None else str(value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """The packages of a product on two revisions, where both are known: rolls are counted once they are planned."""

    was: int
    now: int


def differences(was: Basis, now: Basis, *, packed: Mapping[str, Packed] | None = None) -> tuple[str, ...]:
    """Return a sentence for each thing in which a sheet differs from the revision before; none, and it stands.

    Compared is figure by figure what both list. Between two versions of the list a figure that only one of them has
    makes no difference, so a new version revises nothing; what is risked is that a change of such a figure between the
    writing of a sheet and the day of the new version is not told. Within one version everything is compared.

    Args:
        packed: by product, as in the topic; says rolls, which are not in the figures before they are planned.
    """
    return tuple(_Compared(was, now, packed or {}).sentences())


_Say: TypeAlias = Callable[[Value], str]


def _as_it_stands(value: Value) -> str:
    return str(value) if value != "" else "none"


def _length(value: Value) -> str:
    return format_length(Decimal(value)) if value != "" else "none"


def _hours(value: Value) -> str:
    return f"{value} {plural('labor hour', Decimal(value))}"


def _lb(value: Value) -> str:
    return f"{value} lb"


def _either(yes: str, no: str) -> _Say:
    return lambda value: yes if value else no


_OPENING_WORDS: Mapping[str, tuple[str, _Say]] = {
    "floor": ("floor", _as_it_stands),
    "ro_width_in": ("rough opening width", _length),
    "ro_height_in": ("rough opening height", _length),
    "built_ro_width_in": ("rough opening width as built", _length),
    "built_ro_height_in": ("rough opening height as built", _length),
    "unit_width_in": ("unit width", _length),
    "unit_height_in": ("unit height", _length),
    "detail": ("detail", _as_it_stands),
    "method": ("flashing method", _as_it_stands),
    "weight_lb": ("weight", _lb),
    "weight_is_estimate": ("weight", _either("estimated", "given")),
    "people": ("people to set it", _as_it_stands),
    "needs_aid": ("lifting aid", _either("needed", "not needed")),
    "person_h": ("planned work", _hours),
    "remarks": ("remarks", _as_it_stands),
    "steps_done": ("steps done", _as_it_stands),
    "stopped": ("work on this day", lambda value: str(value) or "goes on"),
}
_PRODUCT_WORDS: Mapping[str, tuple[str, _Say]] = {
    "code": ("code", _as_it_stands),
    "parts": ("used for", _as_it_stands),
    "package": ("comes by the", _as_it_stands),
    "package_quantity": ("in one package", _as_it_stands),
    "measure": ("counted in", _as_it_stands),
    "width_in": ("width", _length),
    "trim_in": ("lost at each cut", _length),
    "shortest_remnant_in": ("shortest piece kept", _length),
    "spare_pct": ("spare", lambda value: f"{value}%"),
    "spare_pieces": ("spare pieces", _as_it_stands),
    "attachment": ("attachment", _as_it_stands),
}


def _changed(label: str, was: Figures, now: Figures, words: Mapping[str, tuple[str, _Say]]) -> Iterator[str]:
    for name, (what, say) in words.items():
        if name in was and name in now and was[name] != now[name]:
            is_, were = say(now[name]), say(was[name])
            if is_ == were:  # less than a tape shows
                is_, were = str(now[name]), str(was[name])
            yield f"{label}: {what} {is_}, was {were}"


class _Compared:
    """Two lists of figures side by side."""

    def __init__(self, was: Basis, now: Basis, packed: Mapping[str, Packed]) -> None:
        self._was, self._now, self._packed = was.topics, now.topics, packed
        jobs = {one.get("job") for topics in (self._was, self._now) for one in topics.get(Topic.OPENINGS, {}).values()}
        self._is_one_job = len(jobs) <= 1

    def sentences(self) -> Iterator[str]:
        for topic, say in (
            (Topic.OPENINGS, self._openings),
            (Topic.JOBS, self._jobs),
            (Topic.DAY, self._day),
            (Topic.PRODUCTS, self._products),
            (Topic.CUTS, self._cuts),
            (Topic.LACKING, self._lacking),
            (Topic.CAUTIONS, self._cautions),
        ):
            if topic in self._was and topic in self._now:
                yield from say(self._was[topic], self._now[topic])

    def _label(self, opening: Figures) -> str:
        return str(opening["mark"]) if self._is_one_job else f"{opening['job']} {opening['mark']}"

    def _openings(self, was: Mapping[str, Figures], now: Mapping[str, Figures]) -> Iterator[str]:
        removed = [one for key, one in was.items() if key not in now]
        yield from (f"{self._label(one)} removed" for one in sorted(removed, key=lambda one: one.get("sequence", 0)))
        yield from (f"{self._label(one)} added" for key, one in now.items() if key not in was)
        both = [key for key in now if key in was]
        for key in both:
            old, new = self._label(was[key]), self._label(now[key])
            if old != new:
                yield f"{old} is now called {new}"
            yield from _changed(new, was[key], now[key], _OPENING_WORDS)
        if all("sequence" in was[key] and "sequence" in now[key] for key in both):
            order = sorted(both, key=lambda key: now[key]["sequence"])
            if order != sorted(both, key=lambda key: was[key]["sequence"]):
                yield f"openings in another order: {self._marks(self._label(now[key]) for key in order)}"

    def _jobs(self, was: Mapping[str, Figures], now: Mapping[str, Figures]) -> Iterator[str]:
        for key in (key for key in now if key in was):
            old, new = was[key], now[key]
            if old["code"] != new["code"]:
                yield f"job {old['code']} is now called {new['code']}"
            if old["name"] != new["name"]:
                yield f"job {old['name']} is now called {new['name']}"
            if old["address"] != new["address"]:
                yield f"address of {new['name']}: {new['address']}, was {old['address']}"

    def _day(self, was: Mapping[str, Figures], now: Mapping[str, Figures]) -> Iterator[str]:
        old, new = was[Topic.DAY], now[Topic.DAY]
        for name, sentence in (
            ("crew", "crew {}, was {}"),
            ("truck", "truck {}, was {}"),
            ("people_count", "crew of {}, was {}"),
            ("capacity_person_h", "crew has {} labor hours that day, was {}"),
        ):
            if name in old and name in new and old[name] != new[name]:
                yield sentence.format(new[name], old[name])

    def _products(self, was: Mapping[str, Figures], now: Mapping[str, Figures]) -> Iterator[str]:
        for key, new in now.items():
            packed = self._packed.get(key)
            if key not in was:
                rolls = f": {counted(packed.now, str(new['package']))}" if packed and packed.now else ""
                yield f"{new['name']} added{rolls}"
                continue
            old = was[key]
            if old["name"] != new["name"]:
                yield f"{old['name']} is now called {new['name']}"
            yield from _changed(str(new["name"]), old, new, _PRODUCT_WORDS)
            if packed and packed.was != packed.now:
                yield _more_or_fewer(packed, new)
            elif old["quantity"] != new["quantity"]:
                yield f"{new['name']}: {_needed(old['quantity'], new)}"
        yield from (f"{old['name']} no longer needed" for key, old in was.items() if key not in now)

    def _cuts(self, was: Mapping[str, Figures], now: Mapping[str, Figures]) -> Iterator[str]:
        """Yield where pieces differ of openings that are on both revisions; of the others it is said anyway."""
        had, have = self._was[Topic.OPENINGS], self._now[Topic.OPENINGS]
        for key in (key for key in now if key in was):
            old, new = was[key], now[key]
            cut_anew = [one for one in have if one in had and old.get(one) != new.get(one)]
            if cut_anew:
                marks = self._marks(self._label(have[one]) for one in cut_anew)
                yield f"{self._now[Topic.PRODUCTS][key]['name']}: other cuts for {marks}"

    def _lacking(self, was: Mapping[str, Figures], now: Mapping[str, Figures]) -> Iterator[str]:
        yield from (f"no product for {part}" for part in now if part not in was)
        yield from (f"{part}: no longer without a product" for part in was if part not in now)
        for part in (part for part in now if part in was and was[part]["quantity"] != now[part]["quantity"]):
            yield f"{part}, still without a product: {_needed(was[part]['quantity'], now[part])}"

    def _cautions(self, was: Mapping[str, Figures], now: Mapping[str, Figures]) -> Iterator[str]:
        yield from (f"new caution: {one['text']}" for key, one in now.items() if key not in was)
        yield from (f"no longer a caution: {one['text']}" for key, one in was.items() if key not in now)

    def _marks(self, labels: Iterable[str]) -> str:
        said: Sequence[str] = list(labels)
        more = len(said) - MARKS_SAID
        return ", ".join(said) if more <= 0 else f"{', '.join(said[:MARKS_SAID])} and {more} more"


def _more_or_fewer(packed: Packed, product: Figures) -> str:
    many = abs(packed.now - packed.was)
    package = counted(many, str(product["package"])).partition(" ")[2]
    word = "more" if packed.now > packed.was else "fewer"
    return f"{many} {word} {package} of {product['name']} ({packed.now}, was {packed.was})"


def _needed(was: Value, now: Figures) -> str:
    return f"{_quantity(now['quantity'], now['measure'])} needed, was {_quantity(was, now['measure'])}"


def _quantity(quantity: Value, measure: Value) -> str:
    if measure == Measure.LENGTH:
        return format_length(Decimal(quantity))
    return f"{quantity} {measure}".removesuffix(f" {Measure.COUNT}")
