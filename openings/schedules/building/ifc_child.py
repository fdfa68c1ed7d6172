"""A process of its own that reads a model and prints as JSON what its windows say.

The library it reads by is C++: a broken file may crash it or make it eat memory, and then only this process dies.
It is run by its path, so it knows nothing of the project. `openings.schedules.ifc` starts it and makes rows of it.

Names of entities, attributes and property sets: ISO 16739-1, and the documentation of IFC 2x3 for its older ones.
"""

from __future__ import annotations

import json
import re
import resource
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import ifcopenshell
import ifcopenshell.util.unit

MAX_BYTES = 2_000_000_000
MAX_CPU_S = 120
MAX_WINDOWS = 50_000
MAX_DEPTH = 20
"""Parts within parts within a storey: more is a circle."""

_ROOFLIGHTS = ("SKYLIGHT", "LIGHTDOME")
_RELATIONS = {
    "IFCRELCONTAINEDINSPATIALSTRUCTURE": "floor",
    "IFCRELFILLSELEMENT": "floor",
    "IFCRELVOIDSELEMENT": "",
    "IFCRELAGGREGATES": "",
    "IFCRELDEFINESBYTYPE": "mark",
    "IFCRELDEFINESBYPROPERTIES": "mark",
    "IFCPROPERTYSET": "",
    "IFCPROJECT": "",
    "IFCUNITASSIGNMENT": "",
}
"""Relations that windows are read through, and the values that are missing where one is broken."""

_DEFINED = re.compile(rb"#(\d+)\s*=")
_REFERS = re.compile(rb"#(\d++)\s*+=\s*+(" + "|".join(_RELATIONS).encode() + rb")\s*+\(([^;]*+)", re.IGNORECASE)
"""Up to the end of the statement or of the file, so that what was gone through is never gone through again."""
_QUOTED = re.compile(rb"'[^']*'")
_REFERENCE = re.compile(rb"#(\d+)")


def main(path: str) -> None:
    """Print the values of a model's windows, or why it cannot be read."""
    _limit(resource.RLIMIT_AS, MAX_BYTES)
    _limit(resource.RLIMIT_CPU, MAX_CPU_S)
    try:
        said = what_windows_say(ifcopenshell.open(path, format=".ifc"), content=Path(path).read_bytes())
    except MemoryError:
        said = {"refused": "memory"}
    except Exception as error:
        said = {"refused": f"{type(error).__name__}: {error}"[:200]}
    json.dump(said, sys.stdout)


def what_windows_say(model: Any, *, content: bytes) -> dict[str, Any]:
    """Return the values of a model's windows, lengths in the unit of the model.

    Returns:
        windows: one for each, as `_window` gives it.
        metres: how many metres the unit of length is; None if the model names no unit.
        others: how many elements of each other class there are.
        broken: each reference to an entity that is not there: who makes it, of which class, to whom.
    """
    metres = _metres(model)
    broken = list(_broken(content))
    lacking = _lacking(model, broken)
    windows = {window.id(): window for window in model.by_type("IfcWindow")}
    return {
        "metres": metres,
        "windows": [
            _window(window, metres=metres) | {"lacks": lacking.get(number, {})}
            for number, window in list(windows.items())[: MAX_WINDOWS + 1]
        ],
        "others": dict(Counter(element.is_a() for element in model.by_type("IfcElement"))),
        "broken": broken,
    }


def _window(window: Any, *, metres: float | None) -> dict[str, Any]:
    kind = _type_of(window)
    sets = [*_sets_of(window), *filter(None, _all(kind, "HasPropertySets"))]
    properties = list(_properties(sets, metres=metres))
    named = {name.casefold(): value for _, name, value in properties if isinstance(value, str) and value != name}
    lengths = {name.casefold(): value for _, name, value in properties if isinstance(value, float)}
    kinds = [getattr(thing, "PredefinedType", None) for thing in (window, kind)]
    names = ((kind, "Name"), (window, "ObjectType"), (window, "Name"), (window, "Description"), (kind, "Description"))
    return {
        "id": window.id(),
        "global_id": _text(window, "GlobalId"),
        "name": _text(window, "Name"),
        "object_type": _text(window, "ObjectType"),
        "type_name": _text(kind, "Name"),
        "type_mark": named.get("type mark") or named.get("typemark") or "",
        "own_mark": named.get("mark", ""),
        "reference": next((value for owner, name, value in properties if _is_reference(owner, name, value)), ""),
        "texts": [text for thing, attribute in names if (text := _text(thing, attribute))],
        "overall": [_number(window, "OverallWidth"), _number(window, "OverallHeight")],
        "quantities": _quantities(sets),
        "rough": [lengths.get("rough width"), lengths.get("rough height")],
        "panels": list(_panels(sets)),
        "is_rooflight": any(kind in _ROOFLIGHTS for kind in kinds),
        "storey": _storey_of(window),
    }


def _is_reference(owner: str, name: str, value: Any) -> bool:
    return owner == "Pset_WindowCommon" and name == "Reference" and isinstance(value, str) and value != name


def _text(thing: Any, attribute: str) -> str:
    value = getattr(thing, attribute, None)
    return value if isinstance(value, str) else ""


def _number(thing: Any, attribute: str) -> float | None:
    """Return a measure above 0: a writer that has none leaves it out or puts 0."""
    value = getattr(thing, attribute, None)
    value = getattr(value, "wrappedValue", value)
    return float(value) if isinstance(value, int | float) and value > 0 else None


def _type_of(window: Any) -> Any:
    typed = (*_all(window, "IsTypedBy"), *_all(window, "IsDefinedBy"))
    found = (relation.RelatingType for relation in typed if relation.is_a("IfcRelDefinesByType"))
    return next((kind for kind in found if kind and kind.is_a("IfcTypeObject")), None)


def _all(thing: Any, attribute: str) -> tuple[Any, ...]:
    return getattr(thing, attribute, None) or ()


def _sets_of(window: Any) -> Iterator[Any]:
    for relation in _all(window, "IsDefinedBy"):
        if relation.is_a("IfcRelDefinesByProperties") and (found := relation.RelatingPropertyDefinition):
            several = getattr(found, "wrappedValue", None)
            yield from several if several else (found,)


def _properties(sets: Iterable[Any], *, metres: float | None) -> Iterator[tuple[str, str, str | float]]:
    """Yield texts and lengths above 0, with the names of their set and their own."""
    for owner in sets:
        for one in filter(None, _all(owner, "HasProperties")):
            value = getattr(one, "NominalValue", None)
            if value is None:
                continue
            wrapped = value.wrappedValue
            if isinstance(wrapped, str) and wrapped.strip():
                yield _text(owner, "Name"), one.Name, wrapped.strip()
            elif value.is_a() in ("IfcLengthMeasure", "IfcPositiveLengthMeasure") and wrapped > 0:
                yield _text(owner, "Name"), one.Name, float(wrapped) * _times(one.Unit, metres=metres)


def _times(unit: Any, *, metres: float | None) -> float:
    """Return how many units of the model one unit of a property of its own is."""
    return float(ifcopenshell.util.unit.get_unit_scale(unit)) / metres if unit and metres else 1.0


def _quantities(sets: Iterable[Any]) -> list[float | None]:
    """Return width and height as the base quantities of the window give them."""
    found = {
        one.Name: _number(one, "LengthValue")
        for owner in sets
        if owner.is_a("IfcElementQuantity")
        for one in filter(None, _all(owner, "Quantities"))
        if one.is_a("IfcQuantityLength") and not one.Unit
    }
    return [found.get("Width"), found.get("Height")]


def _panels(sets: Iterable[Any]) -> Iterator[str]:
    for one in sets:
        if one.is_a("IfcWindowPanelProperties") and (operation := _text(one, "OperationType")):
            yield operation


def _storey_of(window: Any) -> str:
    """Return the storey that holds the window, the wall it stands in or what it is part of."""
    place: Any = window
    for _ in range(MAX_DEPTH):
        if place is None:
            return ""
        if place.is_a("IfcBuildingStorey"):
            return _text(place, "Name") or _text(place, "LongName") or f"#{place.id()}"
        place = _around(place)
    return ""


def _around(place: Any) -> Any:
    for attribute, holder in (
        ("ContainedInStructure", "RelatingStructure"),
        ("FillsVoids", "RelatingOpeningElement"),
        ("VoidsElements", "RelatingBuildingElement"),
        ("Decomposes", "RelatingObject"),
        ("Nests", "RelatingObject"),
    ):
        for relation in _all(place, attribute):
            if found := getattr(relation, holder, None):
                return found
    return None


def _metres(model: Any) -> float | None:
    for assignment in model.by_type("IfcUnitAssignment"):
        for unit in filter(None, _all(assignment, "Units")):
            if getattr(unit, "UnitType", None) == "LENGTHUNIT":
                with suppress(AttributeError, TypeError, ValueError):  # what the unit is made of is missing
                    metres = float(ifcopenshell.util.unit.get_unit_scale(unit))
                    return metres if metres > 0 else None
    return None


def _broken(content: bytes) -> Iterator[tuple[int, str, int]]:
    """Yield the references to entities that are not there; the library passes over them without a word."""
    there = set(map(int, _DEFINED.findall(content)))
    for maker, name, arguments in _REFERS.findall(content):
        for target in map(int, _REFERENCE.findall(_QUOTED.sub(b"", arguments))):
            if target not in there:
                yield int(maker), name.decode().upper(), target


def _lacking(model: Any, broken: Iterable[tuple[int, str, int]]) -> dict[int, dict[str, str]]:
    """Return the values that each window lacks because a relation is broken, and why."""
    lacking: dict[int, dict[str, str]] = {}
    for maker, name, target in broken:
        if not (lost := _RELATIONS[name]):
            continue
        relation = _there(model, maker)
        held = (*_all(relation, "RelatedElements"), *_all(relation, "RelatedObjects"))
        for window in (*held, getattr(relation, "RelatedBuildingElement", None)):
            if window and window.is_a("IfcWindow"):
                lacking.setdefault(window.id(), {})[lost] = f"#{maker} ({relation.is_a()}) refers to #{target}"
    return lacking


def _there(model: Any, number: int) -> Any:
    with suppress(RuntimeError):  # the library passes over a line that it cannot read
        return model.by_id(number)
    return None


def _limit(kind: int, most: int) -> None:
    with suppress(ValueError, OSError):  # some systems know the limit and refuse to set it
        resource.setrlimit(kind, (most, most))


if __name__ == "__main__":
    main(sys.argv[1])
