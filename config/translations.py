"""What is said in several languages: looked up in code and templates, and kept in a catalog that somebody fills in.

Sentences stand in the catalogs whole. Those of the code are what `Sentence("…")` is given; those of the templates stand
in `translate` and `blocktranslate`. Nothing here needs the programs of gettext.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple, TypeVar

import polib
from django.conf import settings
from django.template import Engine, Template
from django.template.base import Node
from django.templatetags.i18n import BlockTranslateNode, TranslateNode

Kind = TypeVar("Kind", bound=Node)

FLOORS = ("config", "jobs", "openings", "materials")
SENTENCE = "Sentence"
HEADER = {
    "Project-Id-Version": "Weatherlap",
    "MIME-Version": "1.0",
    "Content-Type": "text/plain; charset=UTF-8",
    "Content-Transfer-Encoding": "8bit",
    "Plural-Forms": "nplurals=2; plural=(n != 1);",
}


class Said(NamedTuple):
    """A text as the catalogs have it, its plural where it counts something, how it is filled in, and its file."""

    text: str
    plural: str
    form: str
    at: str


def catalog_path(language: str) -> Path:
    """Return where the texts of a language stand."""
    return Path(settings.BASE_DIR, "config", "locale", language, "LC_MESSAGES", "django.po")


def compiled_path(language: str) -> Path:
    """Return where Django reads them."""
    return catalog_path(language).with_suffix(".mo")


def said() -> list[Said]:
    """Return every text that is translated, each once, in the order of the files."""
    return list({one.text: one for one in (*_in_code(), *_in_templates())}.values())


def catalog(language: str) -> polib.POFile:
    """Return the catalog as it ought to be: every text there is, with the translations that there are already."""
    path = catalog_path(language)
    kept = {entry.msgid: entry for entry in polib.pofile(str(path))} if path.exists() else {}
    made = polib.POFile(wrapwidth=100)
    made.metadata = HEADER | {"Language": language}
    made.header = "Our own wording."
    made.extend(_entry(one, kept.get(one.text)) for one in said())
    return made


def missing(language: str) -> list[str]:
    """Return the texts that are not translated yet."""
    return [entry.msgid for entry in catalog(language) if not entry.translated()]


def write(language: str) -> None:
    """Write the catalog and what Django reads."""
    catalog_path(language).parent.mkdir(parents=True, exist_ok=True)
    made = catalog(language)
    made.save(str(catalog_path(language)))
    made.save_as_mofile(str(compiled_path(language)))


def is_written(language: str) -> bool:
    """Return whether both files say what `write` would."""
    made, path, compiled = catalog(language), catalog_path(language), compiled_path(language)
    if not (path.exists() and compiled.exists()):
        return False
    return path.read_text("utf-8") == str(made) and compiled.read_bytes() == made.to_binary()


def _entry(one: Said, kept: polib.POEntry | None) -> polib.POEntry:
    entry = polib.POEntry(msgid=one.text, occurrences=[(one.at, "")], flags=[one.form] if one.form else [])
    if one.plural:
        entry.msgid_plural = one.plural
        entry.msgstr_plural = kept.msgstr_plural if kept and kept.msgstr_plural else {0: "", 1: ""}
    else:
        entry.msgstr = kept.msgstr if kept else ""
    return entry


def _in_code() -> Iterator[Said]:
    for path in _files("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == SENTENCE:
                match node.args[:1]:
                    case [ast.Constant(value=str(text))]:
                        yield Said(text, "", "python-brace-format" if "{" in text else "", _named(path))


def _in_templates() -> Iterator[Said]:
    engine = Engine.get_default()
    for path in _files("*.html"):
        yield from _of_template(engine.from_string(path.read_text("utf-8")), _named(path))


def _of_template(template: Template, at: str) -> Iterator[Said]:
    for node in _nodes(template, TranslateNode):
        yield _said_of(node.filter_expression.var.literal, "", at)
    for block in _nodes(template, BlockTranslateNode):
        plural = block.render_token_list(block.plural)[0] if block.plural else ""
        yield _said_of(block.render_token_list(block.singular)[0], plural, at)


def _nodes(template: Template, kind: type[Kind]) -> list[Kind]:
    return [node for node in template.nodelist.get_nodes_by_type(kind) if isinstance(node, kind)]


def _said_of(text: str, plural: str, at: str) -> Said:
    return Said(text, plural, "python-format" if "%(" in text else "", at)


def _files(pattern: str) -> list[Path]:
    return sorted(path for floor in FLOORS for path in Path(settings.BASE_DIR, floor).rglob(pattern))


def _named(path: Path) -> str:
    return path.relative_to(settings.BASE_DIR).as_posix()
