"""The words of headings: what they mean here, and which mean something else.

All of them are common practice, no source; the sorts of columns are those of check values 11.3.
"""

from __future__ import annotations

from openings.schedules.layout import Meaning

PHRASES: dict[Meaning, tuple[str, ...]] = {
    Meaning.MARK: (
        "mark", "window mark", "opening mark", "unit mark", "mark no", "mark id", "mark number", "tag", "window tag",
        "tag no", "id", "window id", "opening id", "window no", "window number", "opening no", "opening number",
        "type mark", "marks", "mk", "window type mark", "window marks", "tag number", "ref", "reference", "ref no",
        "window ref", "window reference", "window code", "symbol", "window", "key", "item", "item no", "item number",
        "no", "number",
    ),
    Meaning.QUANTITY: (
        "quantity", "qty", "quan", "quant", "qnty", "count", "no of", "number of", "no of units", "number of units",
        "no of windows", "number of windows", "no of openings", "qty reqd", "qty required", "qty each",
        "quantity required", "no reqd", "no required", "number required", "total qty", "total quantity", "total",
        "total count", "total no", "total number", "total units", "total windows", "window qty", "window quantity",
        "window count", "unit count", "unit qty", "how many", "units", "pcs", "pieces", "ea", "each",
    ),
    Meaning.OPERATION: (
        "operation", "operation type", "operation code", "operating type", "function", "style", "window style", "type",
        "window type", "unit type", "type operation", "type style", "operation style", "opening type", "configuration",
        "window operation", "type of window", "type of operation", "style of window", "type name", "family and type",
        "family", "window family",
    ),
    Meaning.FLOOR: (
        "floor", "floor level", "level", "storey", "story", "floor no", "floor number", "level no", "location",
        "floor location", "room", "room name", "room no", "room number", "area", "space", "elevation", "facade",
        "building",
    ),
    Meaning.DETAIL: (
        "installation detail", "install detail", "detail", "detail no", "details", "flashing detail",
        "mounting detail", "mounting", "installation", "installation method", "install method",
    ),
    Meaning.REMARKS: (
        "remarks", "remark", "notes", "note", "comments", "comment", "window notes", "general notes", "window remarks",
        "window comments", "additional notes", "special notes", "description", "desc",
    ),
    Meaning.WEIGHT: (
        "weight", "unit weight", "weight each", "weight per unit", "weight ea", "wt", "unit wt", "wt each",
        "window weight",
    ),
    Meaning.FRAME_MATERIAL: ("frame material", "material", "window material", "material of frame", "unit material"),
    Meaning.LITES: (
        "lites", "glass thickness", "lite thickness", "thickness of lites", "glass lites", "glass lite thickness",
    ),
    Meaning.DESIGN_PRESSURE: (
        "design pressure", "dp", "design pressure psf", "dp psf", "dp rating", "design pressure rating",
        "design wind pressure",
    ),
    Meaning.ACCESS: ("access", "site access", "window access", "access to opening"),
    Meaning.STOREYS_UP: (
        "storeys up", "stories up", "storeys above grade", "stories above grade", "storeys above ground",
        "stories above ground",
    ),
    Meaning.SILL_ABOVE_FLOOR: (
        "sill above floor", "sill h", "sill h above floor", "sill aff", "sill h aff", "h of sill",
        "h of sill above floor", "sill elevation aff", "sill above finished floor", "sill h above finished floor",
        "window sill h",
    ),
    Meaning.SILL_ABOVE_GRADE: (
        "sill above grade", "sill h above grade", "sill above ground", "sill h above ground", "h of sill above grade",
    ),
    Meaning.CLEAR_WIDTH: (
        "clear w", "clear opening w", "net clear w", "net clear opening w", "egress clear w", "egress w",
        "clear open w",
    ),
    Meaning.CLEAR_HEIGHT: (
        "clear h", "clear opening h", "net clear h", "net clear opening h", "egress clear h", "egress h",
        "clear open h",
    ),
    Meaning.CLEAR_SILL_ABOVE_FLOOR: (
        "clear sill above floor", "clear opening sill above floor", "egress sill h", "clear sill h",
        "clear opening sill h", "sill of clear opening above floor",
    ),
    Meaning.PANE_WIDTH: ("pane w", "w of pane"),
    Meaning.PANE_HEIGHT: ("pane h", "h of pane"),
    Meaning.IS_EGRESS: (
        "egress", "is egress", "egress window", "egress reqd", "egress required", "emergency egress",
        "emergency escape", "escape and rescue", "emergency escape and rescue",
    ),
    Meaning.IS_GRADE_FLOOR: ("grade floor", "is grade floor", "grade floor opening"),
    Meaning.IS_NEAR_DOOR: ("near door", "is near door", "next to door", "beside door"),
    Meaning.IS_NEAR_WALKWAY: ("near walkway", "is near walkway", "walkway", "beside walkway"),
    Meaning.IS_WET_AREA: ("wet area", "is wet area", "near wet area", "wet location"),
}  # fmt: skip
"""Phrases as `words_of` gives them, the plainest way to say it first."""

CAVEATS = {
    **dict.fromkeys(
        ("family and type", "family", "window family", "type name"), "the name of the type is read as the operation"
    ),
    **dict.fromkeys(("description", "desc"), "the description is read as remarks"),
}

FOREIGN_PHRASES = frozenset(
    {
        "status", "crew", "crew day", "hold", "holds", "schedule mark", "manufacturer", "mfr", "mfg", "maker", "make",
        "brand", "model", "model no", "series", "product", "glazing", "glass", "glass type", "finish", "color",
        "colour", "hardware", "screen", "screens", "trim", "rev", "revision", "date", "sill", "head", "jamb",
        "mullion", "u value", "u factor", "shgc", "vt", "stc", "oitc", "area sq ft", "area sf", "sq ft", "sf", "cost",
        "price", "total price", "unit price", "total cost", "unit cost", "window area", "opening area", "glass area",
        "frame area", "total area", "area sq", "site", "spec", "spec section", "phase", "phase created", "guid",
        "ifc guid", "keynote", "assembly code", "url", "image", "drawing", "drawing no", "sheet", "sheet no",
        "supplier", "vendor", "frame type", "frame color", "frame finish", "glass size", "tempered", "safety glazing",
        "lock", "operator", "muntin", "muntins", "grids", "grilles", "fire rating", "warranty", "depth", "frame depth",
        "jamb depth", "wall thickness", "wall type", "head h", "sash", "net area", "unit area", "from room", "to room",
        "project no",
    }
)  # fmt: skip
"""Phrases that columns of schedules have and nothing here reads."""

FOREIGN_WORDS = frozenset(
    {
        "glass", "glazing", "glazed", "igu", "daylight", "dlo", "masonry", "mo", "head", "hd", "jamb", "sill",
        "finish", "color", "colour", "manufacturer", "mfr", "brand", "model", "series", "hardware", "screen", "door",
        "doors", "mullion", "muntin", "grille", "grid", "price", "cost", "factor", "shgc", "stc", "oitc", "fire",
        "rating", "lintel", "trim", "casing", "sash", "wall", "depth", "hinge", "lock", "louver", "curtain", "blind",
        "shade", "transom", "sidelite", "panel", "sheet", "drawing", "project", "date", "revision", "phase", "guid",
        "sqft", "sf", "perimeter", "tempered", "tint", "bldg", "exposure", "leaf", "threshold", "rail", "stile",
        "volume", "supplier", "vendor", "url", "u", "pa", "kpa", "swing", "hand", "handing", "author", "created",
        "modified", "sealant", "arch",
    }
)  # fmt: skip
"""Words that say a heading speaks of something else; only an exact phrase above counts against them."""

FILLERS = frozenset(
    {
        "window", "windows", "of", "the", "for", "per", "in", "on", "a", "an", "and", "or", "at", "schedule", "value",
        "data", "info", "reqd", "required", "approx", "is", "to", "s",
    }
)  # fmt: skip
"""Words that change little of what a heading means."""

SAME_WORD = {
    **dict.fromkeys(("width", "widths", "wide", "wd", "wdth", "wid", "wth"), "w"),
    **dict.fromkeys(("height", "heights", "high", "ht", "hgt", "hght", "hts", "hgts"), "h"),
    **dict.fromkeys(("sizes", "dimension", "dimensions", "dim", "dims", "sz"), "size"),
    **dict.fromkeys(("nom", "nom'l", "noml"), "nominal"),
    **dict.fromkeys(("req'd", "req", "rqd", "requd"), "reqd"),
    **dict.fromkeys(("wdw", "wdws", "wndw", "win"), "window"),
    **dict.fromkeys(("nos", "nr", "num", "nbr", "no's"), "no"),
    **dict.fromkeys(("opng", "opg", "opn'g", "opning", "openings"), "opening"),
    "rgh": "rough",
    "wxh": "w x h",
    "hxw": "h x w",
    "mks": "marks",
    "tags": "tag",
    "quantities": "quantity",
    "counts": "count",
    "weights": "weight",
    "operations": "operation",
    **dict.fromkeys(("matl", "mtl", "materials"), "material"),
    "details": "detail",
    "flr": "floor",
    "lvl": "level",
    "loc": "location",
    "oper": "operation",
    "locations": "location",
    "floors": "floor",
    "levels": "level",
    "frames": "frame",
}  # fmt: skip
