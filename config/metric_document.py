"""The OpenAPI document in both units: beside each shape that holds a measure stands its twin in metric."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from config.measured import Names, declared
from config.metric import label_of
from openings.calc.units import BY_NAME, US, Conversion

API_PREFIX = "/api/v1/"
SHAPES = "#/components/schemas/"
METRIC = "Metric"
"""What the name of a shape in metric ends with."""

BOUNDS = ("minimum", "maximum", "default")
LIMITS = ("maximum", "exclusiveMaximum", "minimum", "exclusiveMinimum")

UNITS_PARAMETER = {
    "in": "query",
    "name": "units",
    "schema": {"type": "string", "enum": list(BY_NAME), "default": US.name},
    "description": (
        f"With `metric`, bodies are read and answered as the shapes whose names end with `{METRIC}` say: `ro_width_mm` "
        "for `ro_width_in`, `weight_kg` for `weight_lb`. Filters and `ordering` keep their names."
    ),
}

Schema = dict[str, Any]


def describe_both(result: Schema, **_kwargs: Any) -> Schema:
    """Return the OpenAPI document with `units` as a parameter of every operation, and what it answers then."""
    shapes = result["components"]["schemas"]
    writer = _Writer(shapes, declared())
    shapes.update({name + METRIC: writer.shape(shapes[name]) for name in writer.measured})
    for path, operations in result["paths"].items():
        for operation in operations.values() if path.startswith(API_PREFIX) else ():
            operation.setdefault("parameters", []).append(UNITS_PARAMETER)
            for media in _bodies(operation):
                if writer.is_measured(media["schema"]):
                    media["schema"] = {"anyOf": [media["schema"], writer.shape(media["schema"])]}
    result["components"]["schemas"] = dict(sorted(shapes.items()))
    return result


class _Writer:
    """Writes shapes in metric."""

    def __init__(self, shapes: dict[str, Schema], names: Names) -> None:
        self._shapes, self._names = shapes, names
        self.measured: list[str] = []
        """The shapes that hold a measure, however deep."""
        before = -1
        while len(self.measured) != before:
            before = len(self.measured)
            self.measured = [name for name, shape in shapes.items() if self.is_measured(shape)]

    def is_measured(self, schema: Any) -> bool:
        """Return whether a schema holds a measure, as far as it is known which shapes do."""
        if isinstance(schema, list):
            return any(map(self.is_measured, schema))
        if not isinstance(schema, dict):
            return False
        if _referred(schema) in self.measured:
            return True
        fields = schema.get("properties", {})
        return (
            any(self._names.metric(name) for name in fields)
            or self._has_amounts(fields)
            or any(map(self.is_measured, schema.values()))
        )

    def shape(self, schema: Any) -> Any:
        """Return a schema as it is in metric."""
        if isinstance(schema, list):
            return [self.shape(one) for one in schema]
        if not isinstance(schema, dict):
            return schema
        if (name := _referred(schema)) is not None:
            return {"$ref": SHAPES + name + METRIC} if name in self.measured else schema
        written = {key: self.shape(inner) for key, inner in schema.items() if key != "properties"}
        if fields := schema.get("properties"):
            written["properties"] = dict(self._field(name, inner, fields) for name, inner in fields.items())
            if "required" in schema:
                written["required"] = sorted(self._called(name) for name in schema["required"])
        return written

    def _has_amounts(self, fields: Schema) -> bool:
        return not (fields.keys().isdisjoint(self._names.amounts) or fields.keys().isdisjoint(self._names.units))

    def _called(self, name: str) -> str:
        twin = self._names.metric(name)
        return twin.name if twin else name

    def _field(self, name: str, schema: Schema, fields: Schema) -> tuple[str, Schema]:
        if twin := self._names.metric(name):
            return twin.name, _converted(schema, twin.conversion)
        if name in (*self._names.amounts, *self._names.rates) and self._has_amounts(fields):
            return name, {key: value for key, value in schema.items() if key not in LIMITS}
        if name in self._names.units and self._has_amounts(fields):
            return name, self._unit(schema)
        return name, self.shape(schema)

    def _unit(self, schema: Schema) -> Schema:
        """Return the schema of a unit, its words those of metric."""
        enum = next((self._shapes[name]["enum"] for name in _references(schema) if "enum" in self._shapes[name]), None)
        return {"type": "string", "enum": list(map(label_of, enum))} if enum else schema


def _converted(schema: Any, conversion: Conversion) -> Any:
    """Return the schema of a figure with its bounds in metric."""
    if isinstance(schema, list):
        return [_converted(one, conversion) for one in schema]
    if not isinstance(schema, dict):
        return schema
    return {
        key: float(conversion.to_metric(Decimal(str(value))))
        if key in BOUNDS and isinstance(value, int | float | Decimal)
        else _converted(value, conversion)
        for key, value in schema.items()
    }


def _bodies(operation: Schema) -> Iterator[Schema]:
    """Yield the media types of what an operation reads and answers."""
    for body in (operation.get("requestBody", {}), *operation["responses"].values()):
        yield from (media for media in body.get("content", {}).values() if "schema" in media)


def _referred(schema: Schema) -> str | None:
    reference = schema.get("$ref", "")
    return reference.removeprefix(SHAPES) if reference.startswith(SHAPES) else None


def _references(schema: Any) -> Iterator[str]:
    if isinstance(schema, list):
        for one in schema:
            yield from _references(one)
    elif isinstance(schema, dict):
        if (name := _referred(schema)) is not None:
            yield name
        for inner in schema.values():
            yield from _references(inner)
