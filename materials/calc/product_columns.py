"""The columns of a product list: what each is called on the form, in the workbook, and in a file that is taken."""

from __future__ import annotations

from collections.abc import Mapping

PRODUCT_COLUMNS: Mapping[str, str] = {
    "code": "Code",
    "name": "Name",
    "measure": "Counted in",
    "package": "Package",
    "package_quantity": "One package holds",
    "width_in": "Width",
    "trim_in": "Lost at each cut",
    "shortest_remnant_in": "Shortest remnant kept",
    "chemistry": "Made of",
    "attachment": "How it is held",
    "needs_primer": "Needs primer",
    "primer_sqft_per_gal": "Primer covers, sq ft a gallon",
    "min_application_temp_f": "Lowest temperature, °F",
    "max_application_temp_f": "Highest temperature, °F",
    "exposure_limit_days": "Days it may lie open",
    "shelf_life_days": "Days it keeps",
    "movement_class_pct": "Movement it takes, ± %",
    "serves_from_in": "Serves from",
    "serves_up_to_in": "Serves up to",
    "spare_pct": "Spare, %",
    "spare_pieces": "Spare, pieces",
    "fastener_kind": "Nail or screw",
    "fastener_diameter_in": "Shank diameter",
    "fastener_penetration_in": "Depth in the framing",
    "allowable_lb": "Rated load, lb",
}
"""By the column of a product, in the order in which they are asked for."""

REQUIRED_COLUMNS = ("code", "name", "measure", "package", "package_quantity")

ALSO_HEADED: Mapping[str, tuple[str, ...]] = {
    "code": ("Item", "Item number", "SKU", "Part number"),
    "name": ("Product", "Description", "Item name"),
    "measure": ("Measure", "Unit of measure"),
    "package": ("Packed in", "Pack"),
    "package_quantity": ("Quantity per package", "Package quantity", "Per package"),
    "width_in": ("Roll width", "Width, in"),
    "chemistry": ("Material", "Chemistry"),
}
"""Other headings under which files give the same."""

MEASURE_WORDS: Mapping[str, str] = {
    "in": "in", "inch": "in", "inches": "in", "length": "in",
    "cu in": "cu in", "cubic inch": "cu in", "cubic inches": "cu in", "volume": "cu in",
    "each": "each", "ea": "each", "piece": "each", "pieces": "each", "count": "each",
}  # fmt: skip
"""How a list says what a product is counted in, → `Measure`."""
