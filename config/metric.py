"""Bodies in metric: the fields say what they measure, so that name and figure are converted together."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from decimal import Decimal, InvalidOperation
from functools import partial
from typing import Any, TypeGuard

from config.measured import MEASURES, Names, declared
from jobs.errors import BadInput, Fault
from materials.calc.product import Measure
from openings.calc.figures import half_up, plain
from openings.calc.tape import read_length
from openings.calc.units import CONVERSIONS, Conversion, Units

LONGEST_SHOWN = 60
"""So much of a value stands in a fault that this room finds."""

FAULTS_TOLD = 5
"""So many faults are told in the sentence; all of them stand in the list."""

PLACES = {
    conversion.suffix: Decimal(1).scaleb((conversion.places / conversion.factor).adjusted())
    for conversion in MEASURES.values()
}
"""The fewest places of a figure inside from which the metric one comes back as it was given, by the metric end.
More would be refused by the columns of pounds and of degrees, and would say more than was known."""

_BY_UNIT: dict[str, Conversion] = {
    Measure.LENGTH.value: CONVERSIONS["in"],
    Measure.VOLUME.value: CONVERSIONS["cuin"],
    "ft": CONVERSIONS["ft"],
}
_UNITS = {conversion.label: unit for unit, conversion in _BY_UNIT.items()}


def label_of(unit: str) -> str:
    """Return what the unit of an amount is called in metric; what is counted stays.

    >>> label_of("cu in"), label_of("each")
    ('ml', 'each')
    """
    return _BY_UNIT[unit].label if unit in _BY_UNIT else unit


def to_metric(body: Any, names: Names | None = None) -> Any:
    """Return an answer with its measures in metric, by name and figure.

    Args:
        names: what is measured; what the serializers declare where it is not given.
    """
    names = names or declared()
    if isinstance(body, list | tuple):
        return [to_metric(inner, names) for inner in body]
    if not isinstance(body, dict):
        return body
    return dict(_metric_member(name, inner, names) for name, inner in _with_metric_amounts(body, names).items())


def from_body(body: Any, units: Units, names: Names | None = None) -> Any:
    """Return what was sent with the names and measures inside.

    Args:
        names: what is measured; what the serializers declare where it is not given.

    Raises:
        BadInput: a name is of other units than were asked for, a measure is given twice or cannot be read, or
            an amount does not say its unit; `faults` name all of them.
    """
    names = names or declared()
    faults = list(_misnamed(body, units, names))
    read = _read_body(body, "", faults, names) if units.is_metric and not faults else body
    if faults:
        raise BadInput("; ".join(f"{fault.field}: {fault.detail}" for fault in faults[:FAULTS_TOLD]), faults=faults)
    return read


def fault_in_metric(field: str, value: str) -> tuple[str, str]:
    """Return field and value of a fault as one speaks of them in metric, the value empty where it is no figure.

    >>> fault_in_metric("openings[1].ro_width_in", "36")
    ('openings[1].ro_width_mm', '914.4')
    """
    names = re.split(r"([.\[\]]+)", field)
    twins = [declared().metric(name) for name in names]
    last = next((twin for twin in reversed(twins) if twin), None)
    if last is None:
        return field, value
    figure = _figure(value)
    return (
        "".join(twin.name if twin else name for twin, name in zip(twins, names, strict=True)),
        "" if figure is None else plain(last.conversion.to_metric(figure)),
    )


def names_in_metric(said: str) -> str:
    """Return a sentence with the names of measures that it quotes as they are in metric.

    >>> names_in_metric("did you mean “ro_width_in”?")
    'did you mean “ro_width_mm”?'
    """
    twin_of = declared().metric
    return re.sub(r"“(\w+)”", lambda quoted: f"“{twin.name}”" if (twin := twin_of(quoted[1])) else quoted[0], said)


def _metric_member(name: Any, value: Any, names: Names) -> tuple[Any, Any]:
    if name in names.free:
        return name, value
    twin = names.metric(name) if _is_measured(value) else None
    if twin is None:
        return name, to_metric(value, names)
    return twin.name, _each(value, lambda number: twin.conversion.to_metric(Decimal(str(number))))


def _with_metric_amounts(body: dict[Any, Any], names: Names) -> dict[Any, Any]:
    """Return the body with its amounts and their unit in metric; things that are counted stay."""
    companion = next((name for name in names.units if _named(body.get(name), _BY_UNIT)), None)
    if companion is None or body.keys().isdisjoint(names.amounts):
        return body
    conversion = _BY_UNIT[body[companion]]
    amounts = [*names.amounts, *names.rates]
    figures = {name: Decimal(str(body[name])) for name in amounts if _is_number(body.get(name))}
    converted = {
        name: half_up(figure / conversion.factor) if name in names.rates else conversion.to_metric(figure)
        for name, figure in figures.items()
    }
    return body | converted | {companion: conversion.label}


def _misnamed(body: Any, units: Units, names: Names) -> Iterator[Fault]:
    """Yield a fault for each name that is of the other units."""
    twin_of = names.metric if units.is_metric else names.inside
    for path, name, fields in _members(body, "", names):
        if (twin := twin_of(name)) is None:
            continue
        if twin.name in fields:
            detail = f"the same measure as {twin.name}; give one of them"
        elif units.is_metric:
            detail = f"not metric; write {twin.name}, or leave out ?units=metric"
        else:
            detail = f"metric; add ?units=metric, or write {twin.name}"
        yield _fault(path, fields[name], detail)


def _members(body: Any, path: str, names: Names) -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Yield path, name and surrounding object of every member, however deep, but for what is free."""
    if isinstance(body, list):
        for index, inner in enumerate(body):
            yield from _members(inner, f"{path}[{index}]", names)
    elif isinstance(body, dict):
        for name, inner in body.items():
            yield _join(path, name), name, body
            if name not in names.free:
                yield from _members(inner, _join(path, name), names)


def _read_body(body: Any, path: str, faults: list[Fault], names: Names) -> Any:
    """Return a metric body as it is inside, with what cannot be read added to the faults."""
    if isinstance(body, list):
        return [_read_body(inner, f"{path}[{index}]", faults, names) for index, inner in enumerate(body)]
    if not isinstance(body, dict):
        return body
    read, by_unit = _read_companion(body, path, faults, names)
    for name, sent in body.items():
        if name in names.free:
            read[name] = sent
            continue
        twin = names.inside(name)
        conversion = twin.conversion if twin else by_unit.get(name)
        if conversion is None:
            read.setdefault(name, _read_body(sent, _join(path, name), faults, names))
            continue
        try:
            read[twin.name if twin else name] = _each(sent, partial(_read_measure, conversion=conversion))
        except BadInput as error:
            faults.append(_fault(_join(path, name), sent, error.detail))
    return read


def _read_companion(
    body: dict[str, Any], path: str, faults: list[Fault], names: Names
) -> tuple[dict[str, Any], dict[str, Conversion]]:
    """Return the unit of the amounts as it is called inside, and how to convert each amount."""
    amounts = [name for name in names.amounts if name in body]
    for name in names.units:
        if _named(said := body.get(name), _UNITS):
            conversion = _BY_UNIT[_UNITS[said]]
            return {name: _UNITS[said]}, dict.fromkeys(names.amounts, conversion)
        if _named(said, _BY_UNIT) and amounts:
            detail = f"“{said}” is not metric; write “{_BY_UNIT[said].label}”, or leave out ?units=metric"
            faults.append(_fault(_join(path, name), said, detail))
    if body.keys().isdisjoint(names.units):
        no_unit = f"no unit says what it is in; give {' or '.join(sorted(names.units))} with it"
        faults.extend(_fault(_join(path, name), body[name], no_unit) for name in amounts)
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


def _named(said: Any, table: dict[str, Any]) -> TypeGuard[str]:
    return isinstance(said, str) and said in table


def _join(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name


def _fault(field: str, value: Any, detail: str) -> Fault:
    return Fault(field=field, value=str(value)[:LONGEST_SHOWN], detail=detail)
