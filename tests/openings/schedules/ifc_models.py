"""Invented models, written out as STEP files (ISO 10303-21)."""

from __future__ import annotations

from collections.abc import Iterable

METRE = "IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)"
MILLIMETRE = "IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)"


def model(entities: Iterable[str], *, schema: str = "IFC2X3", unit: str | None = MILLIMETRE) -> str:
    """Return a model of these entities, numbered from #101; the unit of length is #1 of the fixed ones.

    Entities #1 to #9 are the project: #3 is the storey “Ground Floor”, #4 the storey “First Floor”.
    """
    project = [
        f"#1={unit};" if unit else "",
        "#2=IFCUNITASSIGNMENT((#1));" if unit else "",
        f"#3=IFCBUILDINGSTOREY('{guid(3)}',$,'Ground Floor',$,$,$,$,$,.ELEMENT.,0.);",
        f"#4=IFCBUILDINGSTOREY('{guid(4)}',$,'First Floor',$,$,$,$,$,.ELEMENT.,3.);",
        f"#5=IFCPROJECT('{guid(5)}',$,'Invented house',$,$,$,$,$,{'#2' if unit else '$'});",
        "#6=IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0);",
    ]
    numbered = [f"#{number}={entity};" for number, entity in enumerate(entities, start=101)]
    return "\n".join(
        [
            "ISO-10303-21;",
            "HEADER;",
            "FILE_DESCRIPTION((''),'2;1');",
            "FILE_NAME('','',(''),(''),'','','');",
            f"FILE_SCHEMA(('{schema}'));",
            "ENDSEC;",
            "DATA;",
            *filter(None, project),
            *numbered,
            "ENDSEC;",
            "END-ISO-10303-21;",
            "",
        ]
    )


def guid(number: int) -> str:
    return f"{number:022d}"


def window(number: int, *, name: str = "Window", height: str = "1200.", width: str = "900.", more: str = "") -> str:
    """Return an IfcWindow; height stands before width (IFC2x3 and ISO 16739-1 alike)."""
    return f"IFCWINDOW('{guid(number)}',$,'{name}',$,$,$,$,'T{number}',{height},{width}{more})"


FOURTH = ",.WINDOW.,.SINGLE_PANEL.,$"
"""What a window of IFC4 has beyond one of IFC2x3: PredefinedType, PartitioningType, UserDefinedPartitioningType."""


def held(storey: int, *windows: int) -> str:
    members = ",".join(f"#{number}" for number in windows)
    return f"IFCRELCONTAINEDINSPATIALSTRUCTURE('{guid(700 + windows[0])}',$,$,$,({members}),#{storey})"


def typed(kind: int, *windows: int) -> str:
    members = ",".join(f"#{number}" for number in windows)
    return f"IFCRELDEFINESBYTYPE('{guid(800 + kind)}',$,$,$,({members}),#{kind})"


def described(properties: int, *windows: int) -> str:
    members = ",".join(f"#{number}" for number in windows)
    return f"IFCRELDEFINESBYPROPERTIES('{guid(900 + properties)}',$,$,$,({members}),#{properties})"


def text_property(name: str, value: str) -> str:
    return f"IFCPROPERTYSINGLEVALUE('{name}',$,IFCLABEL('{value}'),$)"


def length_property(name: str, value: str) -> str:
    return f"IFCPROPERTYSINGLEVALUE('{name}',$,IFCPOSITIVELENGTHMEASURE({value}),$)"


def property_set(number: int, name: str, *members: int) -> str:
    named = ",".join(f"#{member}" for member in members)
    return f"IFCPROPERTYSET('{guid(number)}',$,'{name}',$,({named}))"
