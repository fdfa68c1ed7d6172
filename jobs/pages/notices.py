"""What somebody was told, and how they want to be told."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs import queries, services
from jobs.forms import NoticesForm
from jobs.page import FormInvalid, Page, done, entered
from jobs.paging import LongPaginator
from jobs.permissions import ANYONE
from jobs.queries import mail_state
from jobs.signed_in import signed_in

NOTICES = "notices-page"
ON_A_PAGE = 30


@Page
def notices(request: HttpRequest) -> HttpResponse:
    """Your own notices, the newest first, and a form for how you are told."""
    person = signed_in(request)
    pages = LongPaginator(queries.notices_of(person), ON_A_PAGE)
    return render(
        request,
        "jobs/notices.html",
        {
            "form": NoticesForm(entered(request, "choose"), choices=queries.choices_of(person)),
            "page": pages.get_page(request.GET.get("page")),
            "zone": queries.office_zone(),
            "mail": mail_state(),
        },
    )


@notices.act(by=ANYONE)
def choose(request: HttpRequest) -> HttpResponse:
    """Keep how you are told."""
    person = signed_in(request)
    form = NoticesForm(request.POST, choices=queries.choices_of(person))
    if not form.is_valid():
        raise FormInvalid(form)
    services.choose_notices(person=person, how=form.how())
    return done(request, "Your choice is kept", NOTICES, at="choice")
