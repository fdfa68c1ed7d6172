"""Bodies in metric: the end of a name says its measure, so that name and figure are converted together."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal, InvalidOperation
from typing import Any, NamedTuple

from jobs.errors import BadInput, Fault
from materials.calc.product import Measure
from openings.calc.figures import half_up, plain
from openings.calc.tape import read_length
from openings.calc.units import CONVERSIONS, Conversion, Units

LONGEST_SHOWN = 60
"""So much of a value stands in a fault that this room finds."""

FAULTS_TOLD = 5
"""So many faults are told in the sentence; all of them stand in the list."""

MEASURES = CONVERSIONS | {"range_f": replace(CONVERSIONS["f"], suffix="range_c", offset=Decimal(0))}
"""By the end of a name inside. A range is a difference of temperatures, which has no zero to move."""

_METRIC = {conversion.suffix: (end, conversion) for end, conversion in MEASURES.items()}

PLACES = {
    conversion.suffix: Decimal(1).scaleb((conversion.places / conversion.factor).adjusted())
    for conversion in MEASURES.values()
}
"""The fewest places of a figure inside from which the metric one comes back as it was given, by the metric end.
More would be refused by the columns of pounds and of degrees, and would say more than was known."""

AMOUNTS = ("each", "quantity", "package_quantity")
RATES = ("rate_person_h",)
COMPANIONS = ("unit", "measure")
"""An object whose amounts have no unit in their name says it in a companion beside them; a rate is for one of it."""

NO_UNIT = f"no unit says what it is in; give {' or '.join(COMPANIONS)} with it"

_BY_UNIT: dict[str, Conversion] = {
    Measure.LENGTH.value: CONVERSIONS["in"],
    Measure.VOLUME.value: CONVERSIONS["cuin"],
    "ft": CONVERSIONS["ft"],
}
_UNITS = {conversion.label: unit for unit, conversion in _BY_UNIT.items()}


def _pattern(ends: dict[str, Any]) -> re.Pattern[str]:
    """Return what takes a name apart: the longest end counts; a rate such as `…_per_f` is no temperature."""
    return re.compile(rf"(?P<head>(?=(?:lb|kg)$)|.+?_)(?<!_per_)(?P<end>{'|'.join(ends)})")


_INSIDE_NAME, _METRIC_NAME = _pattern(MEASURES), _pattern(_METRIC)


class Twin(NamedTuple):
    """The name of the same measure in the other units, and how its figure gets there."""

    name: str
    conversion: Conversion


def metric_twin(name: str) -> Twin | None:
    """Return the metric twin of a measure's name, or None where the name is of no measure inside.

    >>> metric_twin("ro_width_in").name, metric_twin("joint_temp_range_f").name, metric_twin("expansion_per_f")
    ('ro_width_mm', 'joint_temp_range_c', None)
    """
    if not (found := _INSIDE_NAME.fullmatch(name)):
        return None
    conversion = MEASURES[found["end"]]
    return Twin(found["head"] + conversion.suffix, conversion)


def inside_twin(name: str) -> Twin | None:
    """Return the twin that a metric name has inside, or None where the name is not metric."""
    if not (found := _METRIC_NAME.fullmatch(name)):
        return None
    end, conversion = _METRIC[found["end"]]
    return Twin(found["head"] + end, conversion)


def to_metric(body: Any) -> Any:
    """Return an answer with its measures in metric, by name and figure; what is no number keeps its name."""
    if isinstance(body, list | tuple):
        return [to_metric(inner) for inner in body]
    if not isinstance(body, dict):
        return body
    return dict(_metric_member(name, inner) for name, inner in _with_metric_amounts(body).items())


def from_body(body: Any, units: Units) -> Any:
    """Return what was sent with the names and measures inside.

    Raises:
        BadInput: a name is of other units than were asked for, a measure is given twice or cannot be read, or
            an amount does not say its unit; `faults` name all of them.
    """
    faults = list(_misnamed(body, units))
    read = _read_body(body, "", faults) if units.is_metric and not faults else body
    if faults:
        raise BadInput("; ".join(f"{fault.field}: {fault.detail}" for fault in faults[:FAULTS_TOLD]), faults=faults)
    return read


def fault_in_metric(field: str, value: str) -> tuple[str, str]:
    """Return field and value of a fault as one speaks of them in metric, the value empty where it is no figure.

    >>> fault_in_metric("readings[1].width_in", "36")
    ('readings[1].width_mm', '914.4')
    """
    names = re.split(r"([.\[\]]+)", field)
    twins = [metric_twin(name) for name in names]
    last = next((twin for twin in reversed(twins) if twin), None)
    if last is None:
        return field, value
    figure = _figure(value)
    return (
        "".join(twin.name if twin else name for twin, name in zip(twins, names, strict=True)),
        "" if figure is None else plain(last.conversion.to_metric(figure)),
    )


def _metric_member(name: Any, value: Any) -> tuple[Any, Any]:
    twin = metric_twin(name) if isinstance(name, str) and _is_measured(value) else None
    if twin is None:
        return name, to_metric(value)
    return twin.name, _each(value, lambda number: twin.conversion.to_metric(Decimal(str(number))))


def _with_metric_amounts(body: dict[Any, Any]) -> dict[Any, Any]:
    """Return the body with its amounts and their companion in metric; things that are counted stay."""
    companion = next((name for name in COMPANIONS if _named(body.get(name), _BY_UNIT)), None)
    if companion is None or body.keys().isdisjoint(AMOUNTS):
        return body
    conversion = _BY_UNIT[body[companion]]
    figures = {name: Decimal(str(body[name])) for name in AMOUNTS + RATES if _is_number(body.get(name))}
    converted = {
        name: half_up(figure / conversion.factor) if name in RATES else conversion.to_metric(figure)
        for name, figure in figures.items()
    }
    return body | converted | {companion: conversion.label}


def _misnamed(body: Any, units: Units) -> Iterator[Fault]:
    """Yield a fault for each name that is of the other units."""
    twin_of = metric_twin if units.is_metric else inside_twin
    for path, name, fields in _members(body, ""):
        if (twin := twin_of(name)) is None:
            continue
        if twin.name in fields:
            detail = f"the same measure as {twin.name}; give one of them"
        elif units.is_metric:
            detail = f"not metric; write {twin.name}, or leave out ?units=metric"
        else:
            detail = f"metric; add ?units=metric, or write {twin.name}"
        yield _fault(path, fields[name], detail)


def _members(body: Any, path: str) -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Yield path, name and surrounding object of every member, however deep."""
    if isinstance(body, list):
        for index, inner in enumerate(body):
            yield from _members(inner, f"{path}[{index}]")
    elif isinstance(body, dict):
        for name, inner in body.items():
            yield _join(path, name), name, body
            yield from _members(inner, _join(path, name))


def _read_body(body: Any, path: str, faults: list[Fault]) -> Any:
    """Return a metric body as it is inside, with what cannot be read added to the faults."""
    if isinstance(body, list):
        return [_read_body(inner, f"{path}[{index}]", faults) for index, inner in enumerate(body)]
    if not isinstance(body, dict):
        return body
    read, by_unit = _read_companion(body, path, faults)
    for name, sent in body.items():
        twin = inside_twin(name)
        conversion = twin.conversion if twin else by_unit.get(name)
        if conversion is None:
            read.setdefault(name, _read_body(sent, _join(path, name), faults))
            continue
        try:
            read[twin.name if twin else name] = _each(sent, lambda item, by=conversion: _read_measure(item, by))
        except BadInput as error:
            faults.append(_fault(_join(path, name), sent, error.detail))
    return read


def _read_companion(
    body: dict[str, Any], path: str, faults: list[Fault]
) -> tuple[dict[str, Any], dict[str, Conversion]]:
    """Return the companion of the amounts as it is called inside, and how to convert each amount."""
    amounts = [name for name in AMOUNTS if name in body]
    for name in COMPANIONS:
        if _named(said := body.get(name), _UNITS):
            conversion = _BY_UNIT[_UNITS[said]]
            return {name: _UNITS[said]}, dict.fromkeys(AMOUNTS, conversion)
        if _named(said, _BY_UNIT) and amounts:
            detail = f"“{said}” is not metric; write “{_BY_UNIT[said].label}”, or leave out ?units=metric"
            faults.append(_fault(_join(path, name), said, detail))
    if body.keys().isdisjoint(COMPANIONS):
        faults.extend(_fault(_join(path, name), body[name], NO_UNIT) for name in amounts)
    return {}, {}


def _read_measure(sent: Any, conversion: Conversion) -> Any:
    """Return a metric figure in the measure inside; what is none stays as it is, for its field to refuse.

    Raises:
        BadLength: text that is no length, or a bare fraction, which no metric rule has.
        BadInput: a number that is too large to be meant.
    """
    if isinstance(sent, str) and conversion.suffix == "mm":
        return read_length(sent, unit="mm")
    figure = _figure(sent)
    if figure is None:
        return sent
    try:
        # Without padding, so that a column of fewer places takes what is exact in them.
        return Decimal(plain(half_up(conversion.from_metric(figure), to=PLACES[conversion.suffix])))
    except InvalidOperation as error:
        raise BadInput("a number too large to be meant") from error


def _figure(sent: Any) -> Decimal | None:
    """Return the number that was sent, as such or as text, or None."""
    if not (_is_number(sent) or isinstance(sent, str)):
        return None
    try:
        figure = Decimal(str(sent))
    except InvalidOperation:
        return None
    return figure if figure.is_finite() else None


def _each(value: Any, convert: Callable[[Any], Any]) -> Any:
    """Return the value converted, or each entry of a list of them; None stays None."""
    if isinstance(value, list | tuple):
        return [_each(entry, convert) for entry in value]
    return None if value is None else convert(value)


def _is_measured(value: Any) -> bool:
    if isinstance(value, list | tuple):
        return all(map(_is_measured, value))
    return value is None or _is_number(value)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float | Decimal) and not isinstance(value, bool)


def _named(said: Any, table: dict[Any, Any]) -> bool:
    return isinstance(said, str) and said in table


def _join(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name


def _fault(field: str, value: Any, detail: str) -> Fault:
    return Fault(field=field, value=str(value)[:LONGEST_SHOWN], detail=detail)
