"""A list in a file that is looked at before it is taken."""

from __future__ import annotations

from collections.abc import Container
from typing import Any

from django import forms

from openings.errors import BadList
from openings.schedules import ListedRow


class ListFileForm(forms.Form):
    """The file of a list."""

    file = forms.FileField(
        label="List",
        help_text=".xlsx or .csv",
        widget=forms.FileInput(attrs={"accept": ".xlsx,.csv,.txt,.tsv"}),
    )


class TakeListForm(forms.Form):
    """The lines of a list that was looked at, as they were read."""

    lines = forms.JSONField(widget=forms.HiddenInput)


def lines_sent(sent: Any, *, columns: Container[str]) -> list[ListedRow]:
    """Return the lines that were looked at.

    Args:
        sent: row and texts by column of each line, as they were sent along.
        columns: the columns that such a list may have.

    Raises:
        BadList: they are not what was sent along.
    """
    wrong = BadList("the list that was checked is not whole any more; upload its file again")
    if not isinstance(sent, list):
        raise wrong
    lines = []
    for one in sent:
        match one:
            case [int() as row, dict() as values] if all(isinstance(text, str) for text in values.values()):
                kept = {name: text for name, text in values.items() if name in columns}
                lines.append(ListedRow(row=row, values=kept))
            case _:
                raise wrong
    return lines
