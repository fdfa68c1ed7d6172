"""The kind of a file: by its first bytes, since a name can be wrong, or by its ending where the bytes do not tell."""

from __future__ import annotations

import re
from pathlib import PurePath

from openings.errors import BadSchedule

WORKBOOK, TEXT, MODEL = ".xlsx", ".csv", ".ifc"

_ENDINGS = {".xlsx": WORKBOOK, ".csv": TEXT, ".tsv": TEXT, ".txt": TEXT, ".ifc": MODEL}
_WANTED = "save the schedule as .xlsx or .csv"
_OTHER_ENDINGS = {
    ".xls": "The file is called .xls, an old kind of workbook; save it as .xlsx.",
    ".xlsm": "The workbook may carry macros (.xlsm); save it as a plain .xlsx.",
    ".xltx": "The file is a template (.xltx); save it as .xlsx.",
    ".xlsb": "The file is a binary .xlsb workbook; save it as .xlsx.",
    ".ods": "The file is an .ods workbook; save it as .xlsx.",
    ".numbers": "The file is a .numbers workbook; export it as .xlsx.",
    ".pdf": "A PDF holds no cells to read; ask for the schedule as .xlsx or .csv.",
    ".zip": "The file is a zip; unpack it and upload the schedule alone.",
    ".ifczip": "The model is zipped (.ifczip); unpack it and upload the .ifc.",
    ".ifcxml": "The model is written as .ifcxml; export it as .ifc.",
}

_ZIP, _OLE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ENCRYPTED = "EncryptedPackage".encode("utf-16-le")
_PACKED = (b"\x1f\x8b", b"BZh", b"7z\xbc\xaf\x27\x1c", b"Rar!", b"\xfd7zXZ\x00")
_PICTURES = (b"\x89PNG", b"\xff\xd8\xff", b"GIF8", b"II*\x00", b"MM\x00*")
_STEP = b"ISO-10303-21"
_BEGINNING = 1_000
_XML_BOOK = b"schemas-microsoft-com:office:spreadsheet"
_WEB_PAGE = re.compile(
    rb"\s*(?:<!--.{0,200}?-->\s*)?<(?:!doctype html|html|head|meta|table)\b", re.IGNORECASE | re.DOTALL
)
_UNSEEN = re.compile(r"[^\x20-\x7e\xa1-\u1fff\u2010-\u2027\u2030-\ud7ff\uf900-\ufefe]")
_LONGEST_SHOWN = 80


def kind_of(*, filename: str, content: bytes) -> str:
    """Return the kind of a file: `WORKBOOK`, `TEXT` or `MODEL`.

    Raises:
        BadSchedule: it is of no kind that is read, or its bytes are of another kind than its ending says.
    """
    ending = PurePath(filename.strip()).suffix.lower()
    kind = _ENDINGS.get(ending, "")
    called = f"The file is called {ending} but " if kind else "The file "
    if content.startswith(_ZIP):
        return _zipped(ending)
    refusal = _refusal(content)
    if refusal:
        raise BadSchedule(called + refusal)
    if content.lstrip(b"\xef\xbb\xbf \r\n\t").startswith(_STEP):
        if kind != MODEL:
            raise BadSchedule(called + "is a building model; give it the ending .ifc.")
        return kind
    if not kind:
        raise BadSchedule(
            _OTHER_ENDINGS.get(ending) or f"“{shown_name(filename)}” is neither .xlsx nor .csv; {_WANTED}."
        )
    if kind == MODEL:
        raise BadSchedule(
            "The file is called .ifc but is not a building model in the STEP format; export it again as .ifc."
        )
    if kind == WORKBOOK:
        raise BadSchedule("The file is called .xlsx but is not a workbook; if it is text, give it the ending .csv.")
    return kind


def shown_name(filename: str) -> str:
    """Return the end of a file's name as it can be shown, without characters that nobody sees."""
    return _UNSEEN.sub("\N{REPLACEMENT CHARACTER}", filename[-_LONGEST_SHOWN:])


def _zipped(ending: str) -> str:
    if ending == WORKBOOK:
        return WORKBOOK
    if ending == ".xls":
        raise BadSchedule("The file is called .xls but is a newer workbook or a zip; give it the ending .xlsx.")
    if ending in _OTHER_ENDINGS:
        raise BadSchedule(_OTHER_ENDINGS[ending])
    raise BadSchedule(
        f"The file is called {ending or 'without an ending'} but is a zip or a workbook; give it the ending .xlsx."
    )


def _refusal(content: bytes) -> str:
    """Return the kind of file and the way out, if files of that kind are not read; else nothing."""
    beginning = content[:_BEGINNING]
    if content.startswith(_OLE):
        if _ENCRYPTED in content:
            return "is a workbook locked with a password; save it without one."
        return "is an old .xls workbook, or one locked with a password; save it as .xlsx without a password."
    if b"%PDF-" in beginning:
        return "is a PDF, which holds no cells to read; ask for the schedule as .xlsx or .csv."
    if content.startswith(_PACKED):
        return "is a packed archive; unpack it and upload the schedule alone."
    if content.startswith(_PICTURES):
        return "is a picture; ask for the schedule as .xlsx or .csv."
    if content.startswith(rb"{\rtf"):
        return f"is a text document; {_WANTED}."
    if _XML_BOOK in beginning:
        return "is a workbook written as XML; open it in a spreadsheet program and save it as .xlsx."
    if _WEB_PAGE.match(beginning.removeprefix(b"\xef\xbb\xbf")):
        return "is a web page with a table; open it in a spreadsheet program and save it as .xlsx."
    return ""
