"""What may touch what: documents on two products, and what is known of two materials."""

from __future__ import annotations

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import SHELF
from jobs.signed_in import signed_in
from materials import services
from materials.calc.compatibility import STARTING_VERDICTS
from materials.forms import EvidenceForm, PairForm
from materials.models import Compatibility, Evidence

PAGE = "compatibility-page"
ON_A_PAGE = 50
"""So many documents are shown at once (our choice)."""


@Page
def compatibility(request: HttpRequest) -> HttpResponse:
    """The documents, the newest first, and what is said of materials by the shop and in print."""
    evidence = Evidence.objects.select_related("product", "neighbor", "recorded_by").order_by("-recorded_at", "-pk")
    return render(
        request,
        "materials/compatibility.html",
        {
            "page": Paginator(evidence, ON_A_PAGE).get_page(request.GET.get("page")),
            "pairs": Compatibility.objects.order_by("chemistry", "neighbor"),
            "published": [(*pair, found) for pair, found in sorted(STARTING_VERDICTS.items())],
            "evidence_form": EvidenceForm(entered(request, "record")),
            "pair_form": PairForm(entered(request, "judge"), auto_id="pair-%s"),
            "may_change": may(signed_in(request), SHELF),
        },
    )


@compatibility.act(by=SHELF)
def record(request: HttpRequest) -> HttpResponse:
    """Enter a document on two products."""
    found = services.record_evidence(by=signed_in(request), **values_of(EvidenceForm(request.POST)))
    said = f"{found.product} and {found.neighbor}: {found.verdict}"
    return done(request, said, PAGE, at="evidence")


@compatibility.act(by=SHELF)
def judge(request: HttpRequest) -> HttpResponse:
    """Say what two materials do to each other."""
    found = services.judge_pair(**values_of(PairForm(request.POST)))
    said = f"{found.chemistry} and {found.neighbor}: {found.verdict}"
    return done(request, said, PAGE, at="pairs")
