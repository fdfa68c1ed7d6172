"""What an empty service needs, in the order in which a firm that starts enters it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.urls import reverse

from jobs.models import Company, Crew, Job, Person
from materials.models import Movement, Product
from openings.models import InstallationDetail, Opening


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing to enter.

    Args:
        why: what it is for.
        go: the words of the way to it.
        address: where it is entered; empty until what it belongs to is there.
    """

    title: str
    why: str
    go: str
    address: str
    is_done: bool


def first_steps() -> list[Step]:
    """Return every step, done or not. One query each."""
    return list(_steps())


def is_empty() -> bool:
    """Return whether nothing can be planned yet, since there is no opening. One query."""
    return not Opening.objects.exists()


def _steps() -> Iterator[Step]:
    yield Step(
        title="Company",
        why="Name, state and time zone: new jobs and the calendar of public holidays begin with them.",
        go="Enter the company",
        address=reverse("company-page"),
        is_done=Company.objects.exists(),
    )
    yield Step(
        title="Crews",
        why="Each truck with its people, the hours they work and the weekdays.",
        go="Add a crew",
        address=reverse("crew-new-page"),
        is_done=Crew.objects.exists(),
    )
    yield Step(
        title="People",
        why="A lead for each crew, the warehouse, a second scheduler: each gets a link and chooses a password.",
        go="Invite somebody",
        address=f"{reverse('people-page')}#invite",
        is_done=Person.objects.filter(is_active=True).count() > 1,
    )
    yield Step(
        title="Catalog",
        why="The products the shop lays: begin with a list to edit, or upload a spreadsheet.",
        go="Open the catalog",
        address=reverse("products-page"),
        is_done=Product.objects.exists(),
    )
    yield Step(
        title="Stock on hand",
        why="What is in the warehouse today, so that sheets and orders count with it.",
        go="Enter the first stock",
        address=reverse("stock-page"),
        is_done=Movement.objects.exists(),
    )
    first = Job.objects.order_by("pk").first()
    yield Step(
        title="First job",
        why="The site: address, whom to ask for, and the time at which pull sheets are issued.",
        go="Add a job",
        address=reverse("job-new-page"),
        is_done=first is not None,
    )
    yield Step(
        title="Installation detail",
        why="How its units are held and flashed: begin with a starting point and change what differs.",
        go="Choose a detail",
        address=reverse("details-page", args=[first.pk]) if first else "",
        is_done=InstallationDetail.objects.exists(),
    )
    yield Step(
        title="Openings",
        why="The job’s window schedule as a file, or its openings one by one.",
        go="Upload the window schedule",
        address=reverse("schedule-page", args=[first.pk]) if first else "",
        is_done=Opening.objects.exists(),
    )
