"""Everything that has a name, found from every page."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from jobs.page import Page
from materials import queries
from materials.forms.search import SearchForm


@Page
def search(request: HttpRequest) -> HttpResponse:
    """What was found, kind by kind, each with its address."""
    form = SearchForm(request.GET if "q" in request.GET else None)
    words = form.cleaned_data["q"] if form.is_valid() else ""
    found = [(hit, f"{reverse(hit.page, args=hit.args)}{hit.asked}") for hit in queries.search(words)]
    return render(request, "materials/search.html", {"form": form, "words": words, "found": found})
