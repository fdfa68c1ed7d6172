"""What is typed into the field in the head of every page."""

from __future__ import annotations

from django import forms

from materials.queries.search import LONGEST


class SearchForm(forms.Form):
    """What is searched for."""

    q = forms.CharField(max_length=LONGEST, label="Search", widget=forms.TextInput(attrs={"type": "search"}))
