"""A schedule file to upload, and what of its difference is applied ⇄ values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, cast

from django import forms
from django.utils.datastructures import MultiValueDict

from openings.calc.starting_details import STARTING_DETAILS
from openings.queries import detail_names
from openings.schedules import APPLIED, Change, Group, Line, grouped

LINES_SHOWN = 500
"""How many openings of a list have a box of their own, and how many groups are shown: more would nobody read."""

KINDS = {
    Change.ADDED: "add new openings",
    Change.CHANGED: "update changed openings",
    Change.REMOVED: "mark void the openings that are no longer in the file",
}


def detail_field(job_id: int) -> forms.ChoiceField:
    """Return the choice of a detail for rows that name none: the job's own, then starting points."""
    own = detail_names(job_id)
    shipped = [name for name in STARTING_DETAILS if name not in own]
    return forms.ChoiceField(
        required=False,
        label="Detail for rows that name none",
        help_text="One of the job’s own details, or a starting point that is copied into the job.",
        choices=[
            ("", "the job's default"),
            *([("Details of this job", [(name, name) for name in own])] if own else []),
            ("Starting points", [(name, name) for name in shipped]),
        ],
    )


class ScheduleForm(forms.Form):
    file = forms.FileField(
        label="Window schedule",
        help_text=".xlsx or .csv up to 20 MB, .ifc up to 60 MB",
        widget=forms.FileInput(attrs={"accept": ".xlsx,.csv,.txt,.tsv,.ifc"}),
    )

    def __init__(self, *args: Any, job_id: int, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["detail"] = detail_field(job_id)


class WeightsForm(forms.Form):
    """Which weights in doubt somebody confirms, among those that the page shows."""

    weights = forms.MultipleChoiceField(error_messages={"required": "select the weights that are right"})

    def __init__(self, data: Any = None, *, outcome: Mapping[str, Any] | None) -> None:
        super().__init__(data)
        said = [doubt["said"] for doubt in (outcome or {}).get("weights_in_doubt", ())]
        cast(forms.MultipleChoiceField, self.fields["weights"]).choices = [(one, one) for one in said]

    @property
    def ticked(self) -> list[str]:
        """What was selected, as the browser sent it."""
        return list(self["weights"].value() or ())


@dataclass(frozen=True, slots=True, kw_only=True)
class Boxed:
    """A group with the marks of those of its openings that have a box of their own."""

    group: Group
    marks: tuple[str, ...]

    @property
    def rest_count(self) -> int:
        """How many go by the box of the group alone."""
        return len(self.group.lines) - len(self.marks)


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """Openings with which the same kind of thing happens; of a long list only the first have boxes.

    Args:
        groups: all that are not new.
        openings: the new ones.
        rest_count: how many are not shown.
    """

    change: Change
    title: str
    count: int
    groups: tuple[Boxed, ...] = ()
    openings: tuple[Mapping[str, Any], ...] = ()
    rest_count: int = 0

    @property
    def kind(self) -> str:
        """The words of the box by which all of them go."""
        return KINDS[Change.ADDED if self.change is Change.RESTORED else self.change]


class TakeForm(forms.Form):
    """What of a difference is applied: kinds, and a checked box for each group and opening that is shown.

    What has a box that is not checked is left as it is. In a long list an opening without a box goes by its group, and
    one that is not shown by its kind alone.
    """

    kinds = forms.MultipleChoiceField(
        choices=[(kind.value, words) for kind, words in KINDS.items()],
        required=False,
        widget=forms.CheckboxSelectMultiple,
        label="Apply",
    )
    seen = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)
    has_boxes = forms.BooleanField(required=False, initial=True, widget=forms.HiddenInput)
    """What a page sends that showed boxes for the openings of a first file; without it all of them are made."""

    data: MultiValueDict[str, str]

    def __init__(self, data: Any = None, *, outcome: Mapping[str, Any] | None, choice: Mapping[str, Any]) -> None:
        """Show the difference of an outcome as it was chosen last, or read what was selected of it.

        Args:
            choice: kinds and marks to leave, as a draft keeps them.
        """
        shown = outcome or {}
        kinds = choice.get("kinds", [kind.value for kind in APPLIED])
        super().__init__(data, initial={"kinds": kinds, "seen": shown.get("fingerprint", "")})
        self.is_revision = bool(shown.get("is_revision") or any(shown.get("difference", {}).values()))
        self.lists = tuple(_lists(shown)) if shown else ()
        self._left_before = frozenset(choice.get("leave", ()))

    @cached_property
    def left(self) -> frozenset[str]:
        """Marks of the openings that are shown and not selected."""
        if not self.is_bound:
            return self._left_before
        if not self.is_revision and not self.data.get("has_boxes"):
            return frozenset()
        ticked, groups = set(self.data.getlist("tick")), set(self.data.getlist("group"))
        left = {one["mark"] for listed in self.lists for one in listed.openings if one["mark"] not in ticked}
        for boxed in self._groups:
            group = boxed.group
            is_left = len(group.lines) > 1 and group.key not in groups
            left.update(group.marks if is_left else set(boxed.marks) - ticked)
        return frozenset(left)

    def clean(self) -> dict[str, Any]:
        """Refuse a first file of which nothing is left to make."""
        if not self.is_revision and self.lists and all(self._is_left_whole(listed) for listed in self.lists):
            self.add_error(None, "Every opening is left out; select at least one, or discard the file.")
        return self.cleaned_data

    def _is_left_whole(self, listed: Listed) -> bool:
        return not listed.rest_count and all(one["mark"] in self.left for one in listed.openings)

    @cached_property
    def left_groups(self) -> frozenset[str]:
        """Keys of the groups of which nothing is taken."""
        return frozenset(boxed.group.key for boxed in self._groups if self.left.issuperset(boxed.group.marks))

    @property
    def _groups(self) -> list[Boxed]:
        return [boxed for listed in self.lists for boxed in listed.groups]

    @property
    def would(self) -> dict[str, int]:
        """How many openings would be added, changed, … and left, as it was chosen; the form must be valid."""
        counts = {listed.change.value: self._taken_count(listed) for listed in self.lists}
        if not self.is_revision:
            return counts
        return {**counts, "left": sum(listed.count for listed in self.lists) - sum(counts.values())}

    def _taken_count(self, listed: Listed) -> int:
        if (Change.ADDED if listed.change is Change.RESTORED else listed.change) not in self.chosen_kinds:
            return 0
        marks = {one["mark"] for one in listed.openings}.union(*(boxed.group.marks for boxed in listed.groups))
        return listed.count - len(marks & self.left)

    @property
    def chosen_kinds(self) -> list[str]:
        """Kinds that are applied; the form must be valid. All of them where nothing stands that could be left."""
        return self.cleaned_data["kinds"] if self.is_revision else [kind.value for kind in APPLIED]


def _lists(outcome: Mapping[str, Any]) -> list[Listed]:
    difference, counts = outcome["difference"], outcome["counts"]
    listed = [
        _listed(change, title, difference[change], count=counts[change])
        for change, title in (
            (Change.CHANGED, "Changed"),
            (Change.REMOVED, "No longer in the file"),
            (Change.RESTORED, "Void, in the file again"),
        )
        if difference[change]
    ]
    if count := counts[Change.ADDED]:
        shown = tuple(outcome["openings"][:LINES_SHOWN])
        rest_count = count - len(shown)
        listed.append(Listed(change=Change.ADDED, title="New", count=count, openings=shown, rest_count=rest_count))
    return listed


def _listed(change: Change, title: str, lines: Sequence[Line], *, count: int) -> Listed:
    groups, boxes = [], LINES_SHOWN
    for group in grouped(lines)[:LINES_SHOWN]:
        marks = tuple(group.marks[: max(boxes, 0)]) if len(group.lines) > 1 else tuple(group.marks)
        groups.append(Boxed(group=group, marks=marks))
        boxes -= len(marks)
    shown_count = sum(len(boxed.group.lines) for boxed in groups)
    return Listed(change=change, title=title, count=count, groups=tuple(groups), rest_count=count - shown_count)
