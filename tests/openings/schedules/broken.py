"""Files that are broken, or built to break what reads them.

Run as a module it reads thousands of mutated workbooks, so that a crash ends that process and no other:
`python -m tests.openings.schedules.broken SEED COUNT`.
"""

from __future__ import annotations

import io
import random
import re
import struct
import sys
import zipfile

from openings.errors import BadSchedule
from openings.schedules import read_schedule
from tests.openings.schedules.files import SHEET, with_sheet, xlsx

HEADINGS = ["Mark", "Qty", "RO Width", "RO Height", "Floor"]
GOOD = [HEADINGS, ["A", 1, 36, 54, "1"], ["B", 2, 36, 54, "1"]]
STRINGS = "xl/sharedStrings.xml"
_MAIN = b'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
_RELATION = (
    b'<Relationship Id="rIdS" Target="sharedStrings.xml" '
    b'Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings"/></Relationships>'
)


def parts_of(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def zip_of(parts: dict[str, bytes], *, way: int = zipfile.ZIP_DEFLATED) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", way) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return packed.getvalue()


def with_rows(xml: bytes) -> bytes:
    """Return a good workbook with rows, as XML, beneath its own."""
    return with_sheet(xlsx(GOOD), lambda part: part.replace(b"</sheetData>", xml + b"</sheetData>"))


def with_part(name: str, part: bytes) -> bytes:
    return zip_of({**parts_of(xlsx(GOOD)), name: part})


def with_shared(content: bytes, *, extra: bytes = b"", attributes: bytes = b"") -> bytes:
    """Return the workbook with its texts in a part of their own, as most programs write them."""
    parts, texts = parts_of(content), []

    def point(cell: re.Match[bytes]) -> bytes:
        texts.append(cell[2])
        return b'<c r="%s" t="s"><v>%d</v></c>' % (cell[1], len(texts) - 1)

    parts[SHEET] = re.sub(rb'<c r="(\w+)" t="inlineStr"><is>(.*?)</is></c>', point, parts[SHEET])
    items = b"".join(b"<si>%s</si>" % text for text in texts) + extra
    parts[STRINGS] = b"<sst " + _MAIN + attributes + b">" + items + b"</sst>"
    relations = "xl/_rels/workbook.xml.rels"
    parts[relations] = parts[relations].replace(b"</Relationships>", _RELATION)
    return zip_of(parts)


def directory_of(count: int) -> bytes:
    """Return a zip that is nothing but a directory of so many empty parts."""
    entry = struct.pack("<4s4B4HL2L5H2L", b"PK\x01\x02", 20, 3, 20, *[0] * 8, 1, *[0] * 6) + b"x"
    length = len(entry) * count
    end = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, count & 0xFFFF, count & 0xFFFF, length, 4, 0)
    return b"PK\x03\x04" + entry * count + end


def understating(name: str, part: bytes, *, size: int) -> bytes:
    """Return a workbook one part of which unpacks to far more than its directory says."""
    content = bytearray(with_part(name, part))
    entry = content.rindex(name.encode()) - 46
    content[entry + 24 : entry + 28] = size.to_bytes(4, "little")
    return bytes(content)


_NUMBERS = (b"0", b"-1", b"16385", b"1048577", b"2147483648", b"4294967295", b"4294967296", b"99999999999999999999")
_TOKENS = (
    b'<c r="XFD1048576"><v>1</v></c>', b'<c r="A1" r="XFD1048576"><v>1</v></c>', b"<c><v>1</v></c>", b"</c>", b"<v>",
    b'<row r="1048576">', b"<row>", b"</row>", b't="s"', b't="e"', b't="d"', b's="9999999"', b"<!--",
    b"<![CDATA[", b"]]>",
    b"&#x10FFFF;", b"&x;", b"_x0000_", b"_xD800_", b"\xff", b"\x00", b'"', b"<", b">", b"1e308", b"nan", b"x:",
    b'<f t="shared" si="0" ref="A1:XFD9">A1</f>', b'<mergeCell ref="A1:XFD1048576"/>', b'<mergeCell ref="B2:A1"/>',
    b'<dimension ref="A1:XFD1048576"/>', b'<col min="1" max="99999" hidden="1"/>', b"\xe2\x80\x8e",
)  # fmt: skip


def mutated(parts: dict[str, bytes], chance: random.Random) -> bytes:
    """Return a workbook with up to three small changes to the parts that say where its cells are."""
    changed = dict(parts)
    for _ in range(chance.randint(1, 3)):
        name = chance.choice([SHEET, SHEET, STRINGS, "xl/styles.xml", "xl/workbook.xml"])
        part = changed[name]
        place, length = chance.randrange(len(part)), chance.randint(1, 60)
        match chance.randrange(6):
            case 0 | 1:
                number = chance.choice([*re.finditer(rb"\d+", part)] or [re.compile(b"").match(part)])
                changed[name] = part[: number.start()] + chance.choice(_NUMBERS) + part[number.end() :]
            case 2 | 3:
                tag = chance.choice([*re.finditer(rb"<[^<>]*>", part)] or [re.compile(b"").match(part)])
                changed[name] = part[: tag.start()] + chance.choice(_TOKENS) + part[chance.choice(tag.span()) :]
            case 4:
                changed[name] = part[:place] + part[place + length :]
            case 5:
                changed[name] = part[:place] + chance.randbytes(2) + part[place + chance.randint(0, 2) :]
        changed[name] = changed[name] or b" "
    return zip_of(changed, way=zipfile.ZIP_STORED)


def main() -> None:
    """Read mutated workbooks, saying before each which one it is."""
    first, count = map(int, sys.argv[1:])
    lines = [[*HEADINGS, "Remarks"], *([f"W{row}", 1, 36.5, "4'-6\"", "Level 1", "façade"] for row in range(9))]
    book = xlsx([*lines, ["Total", "=SUM(B2:B9)"]])
    parts = parts_of(with_shared(book, attributes=b' count="9" uniqueCount="9"'))
    for seed in range(first, first + count):
        sys.stdout.write(f"{seed} ")
        sys.stdout.flush()
        try:
            read_schedule(filename="a.xlsx", content=mutated(parts, random.Random(seed)))
        except BadSchedule:
            continue


if __name__ == "__main__":
    main()
