"""Everything that has a name, found by how it begins or what is in it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from django.db.models import Q

from jobs.calc import say
from jobs.models import Crew, Job, Person
from materials.models import Lot, Product, PullSheet, Remnant
from openings.models import Opening

MOST_OF_A_KIND = 8
LONGEST = 80
ROWS_READ = 200

_REMNANT, _SHEET = re.compile(r"r0*(\d{1,18})", re.IGNORECASE), re.compile(r"p0*(\d{1,18})", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """One thing that was found.

    Args:
        kind: what it is, such as `pull sheet`.
        name: what people call it.
        where: what tells it from others of that name.
        page: the name of the address that shows it; `args` and `asked` fill it in.
    """

    kind: str
    id: int
    name: str
    where: str
    page: str
    args: tuple[int, ...] = ()
    asked: str = ""


def search(text: str) -> list[Hit]:
    """Return what goes by `text`, some of each kind at most. One query a kind, each bounded; none for nothing.

    Jobs, crews, products, lots and people are found by any part of their name, openings by how their mark begins,
    alone or after the code of their job (`heron-house/102`), remnants and pull sheets by their number.
    """
    words = " ".join(text.split())[:LONGEST]
    return [hit for kind in KINDS for hit in kind(words)] if words else []


def _jobs(words: str) -> Iterator[Hit]:
    named = Q(code__icontains=words) | Q(name__icontains=words) | Q(address__icontains=words)
    for job in Job.objects.filter(named).order_by("code")[:MOST_OF_A_KIND]:
        where = ", ".join(line.strip() for line in job.address.splitlines() if line.strip())
        yield Hit(kind="job", id=job.pk, name=str(job), where=where, page="job-page", args=(job.pk,))


def _openings(words: str) -> Iterator[Hit]:
    """Yield openings by their mark; so many rows are read at most, whatever how many marks begin alike."""
    code, _, mark = words.rpartition("/") if "/" in words else words.rpartition(" ")
    named = Q(mark__istartswith=words)
    if code.strip() and mark.strip():
        named |= Q(mark__istartswith=mark.strip(), job__in=Job.objects.filter(code__istartswith=code.strip()))
    read = Opening.objects.filter(named).select_related("job").order_by()[:ROWS_READ]
    for one in sorted(read, key=lambda one: (one.is_void, one.mark, one.pk))[:MOST_OF_A_KIND]:
        where = f"{one.job}{f', {one.floor}' if one.floor else ''}{', void' if one.is_void else ''}"
        yield Hit(kind="opening", id=one.pk, name=one.mark, where=where, page="opening-page", args=(one.pk,))


def _crews(words: str) -> Iterator[Hit]:
    named = Q(name__icontains=words) | Q(truck__icontains=words)
    for crew in Crew.objects.filter(named).order_by("name")[:MOST_OF_A_KIND]:
        yield Hit(kind="crew", id=crew.pk, name=str(crew), where=crew.truck, page="crew-page", args=(crew.pk,))


def _people(words: str) -> Iterator[Hit]:
    named = Q()
    for word in words.split():
        named &= Q(first_name__icontains=word) | Q(last_name__icontains=word) | Q(username__icontains=word)
    people = Person.objects.filter(named).select_related("crew").order_by("first_name", "last_name", "username")
    for one in people[:MOST_OF_A_KIND]:
        where = f"{one.get_role_display()}{f', {one.crew}' if one.crew else ''}"
        yield Hit(kind="person", id=one.pk, name=str(one), where=where, page="person-page", args=(one.pk,))


def _products(words: str) -> Iterator[Hit]:
    named = Q(name__icontains=words) | Q(code__icontains=words)
    for one in Product.objects.filter(named).order_by("name", "pk")[:MOST_OF_A_KIND]:
        yield Hit(
            kind="product", id=one.pk, name=one.name, where=f"by the {one.package}", page="product-page", args=(one.pk,)
        )


def _lots(words: str) -> Iterator[Hit]:
    lots = Lot.objects.filter(code__icontains=words).select_related("product").order_by("-received_on", "-pk")
    for lot in lots[:MOST_OF_A_KIND]:
        where = f"{lot.product}, received {say.dated(lot.received_on)}"
        yield Hit(kind="lot", id=lot.pk, name=lot.code, where=where, page="stock-page")


def _remnants(words: str) -> Iterator[Hit]:
    if number := _REMNANT.fullmatch(words):
        for one in Remnant.objects.filter(pk=int(number[1])).select_related("product", "place"):
            where = f"{one.product}, {one.fate or f'at {one.place}'}"
            yield Hit(kind="remnant", id=one.pk, name=one.code, where=where, page="remnants-page")


def _sheets(words: str) -> Iterator[Hit]:
    if number := _SHEET.fullmatch(words):
        sheets = PullSheet.objects.newest().defer("workbook", "basis").select_related("crew_day__crew")
        for one in sheets.filter(crew_day=int(number[1])):
            day = one.crew_day
            asked = f"?on={day.on}#truck-{day.pk}"
            where = f"{day.crew}, {say.dated(day.on)}"
            yield Hit(kind="pull sheet", id=one.pk, name=str(one), where=where, page="staging-page", asked=asked)


KINDS: tuple[Callable[[str], Iterator[Hit]], ...] = (
    _jobs, _openings, _crews, _people, _products, _lots, _remnants, _sheets,
)  # fmt: skip
