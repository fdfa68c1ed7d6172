"""What a page says, without how its source is laid out."""

from __future__ import annotations

import re
from html import unescape

from django.http import HttpResponse

# Space next to these tags, and just inside the tags of the second group, is seen by nobody.
_BLOCKS = (
    "article|aside|body|caption|dd|details|div|dl|dt|fieldset|figcaption|figure|footer|form|h[1-6]|head|header|hr|html|"
    "legend|li|link|main|meta|nav|noscript|ol|option|p|section|select|summary|svg|g|path|rect|circle|text|table|tbody|td|"
    "tfoot|th|thead|title|tr|ul"
)
_BESIDE_BLOCK = re.compile(rf"\s*(</?(?:{_BLOCKS})\b[^>]*>)\s*")
_INSIDE = re.compile(r"(<(?:button|label)\b[^>]*>)\s+|\s+(</(?:button|label)>)")
_TAG = re.compile(r"<[^>]*>")


def html_of(response: HttpResponse) -> str:
    """Return the HTML of a page with every white space that is not seen left out, and one space for each that is."""
    return compact(response.content.decode())


def compact(html: str) -> str:
    """Return HTML in one line: one space where a browser shows one, none where it shows none."""
    in_line = re.sub(r"\s+", " ", html)
    tight = _TAG.sub(lambda tag: re.sub(r"\s+(/?>)$", r"\1", tag[0]), in_line)
    return _INSIDE.sub(r"\1\2", _BESIDE_BLOCK.sub(r"\1", tight))


_UNREAD = re.compile(r"<(?:script|style|code|mark)\b.*?</(?:script|style|code|mark)>|<!--.*?-->", re.DOTALL)
_SAID_BY_ATTRIBUTE = re.compile(r'\b(?:aria-label|title|placeholder|alt)="([^"]*)"')
_IN_LINE = re.compile(r"</?(?:a|abbr|b|em|i|span|strong)\b[^>]*>")


def texts_of(response: HttpResponse) -> list[str]:
    """Return what a person reads or hears of a page, text by text, what they wrote in a file themselves left out."""
    page = _UNREAD.sub("", html_of(response))
    texts = [*_TAG.sub("\n", _IN_LINE.sub("", page)).splitlines(), *_SAID_BY_ATTRIBUTE.findall(page)]
    return list(dict.fromkeys(unescape(text).strip() for text in texts if text.strip()))
