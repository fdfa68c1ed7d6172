"""Invented openings for the measurements; the same ones in every run."""

from __future__ import annotations

import random
from datetime import date, timedelta
from decimal import Decimal

from django.utils import timezone

from jobs.models import Crew, CrewDay, Job
from materials.calc.parts import MEASURES, Part
from materials.calc.product import Measure
from materials.models import DetailProduct, Product
from openings import services
from openings.calc.starting_details import STARTING_DETAILS
from openings.models import Assignment, InstallationDetail, Opening

GAP_IN = Decimal("0.5")
CREWS, DAYS, OPENINGS_A_DAY = 12, 5, 8


def sides(chance: random.Random) -> tuple[Decimal, Decimal]:
    """Return the width and height of a rough opening, in sixteenths."""
    return Decimal(chance.randint(24 * 16, 96 * 16)) / 16, Decimal(chance.randint(24 * 16, 84 * 16)) / 16


def a_job(code: str) -> Job:
    """Return a job with the starting details."""
    job = Job.objects.create(code=code, name=f"Bench {code}", address="1 Gauge Row")
    for name in STARTING_DETAILS:
        services.add_detail(job=job, name=name, starting_point=name)
    return job


def a_catalogue() -> None:
    """Add one standard product for each part and strip width."""
    packed: dict[Measure, tuple[str, int | Decimal]] = {
        Measure.LENGTH: ("roll", 900),
        Measure.VOLUME: ("cartridge", Decimal("18.23")),
        Measure.COUNT: ("box", 100),
    }
    for part in Part:
        package, quantity = packed[MEASURES[part]]
        product = Product.objects.create(
            code=f"bench-{part.replace(' ', '-')}",
            name=f"Bench {part}",
            measure=MEASURES[part].value,
            package=package,
            package_quantity=quantity,
            width_in=12 if part.endswith("strip") else None,
        )
        DetailProduct.objects.create(part=part.value, product=product)


def a_week() -> date:
    """Assign 8 openings to each of 12 crews on each of 5 days, and return the first day."""
    chance = random.Random(11)  # noqa: S311 (chance of no secret)
    job, first = a_job("week"), timezone.localdate() + timedelta(days=1)
    details = list(InstallationDetail.objects.filter(job=job))
    for number in range(CREWS):
        crew = Crew.objects.create(
            name=f"Bench {number:02}", truck=f"Truck {number:02}", people_count=3, weekdays="1234567"
        )
        for day in range(DAYS):
            crew_day = CrewDay.objects.create(crew=crew, on=first + timedelta(days=day), capacity_person_h=48)
            openings = Opening.objects.bulk_create(
                _opening(job, details, chance, f"{number:02}-{day}-{index}") for index in range(OPENINGS_A_DAY)
            )
            Assignment.objects.bulk_create(
                Assignment(opening=opening, crew_day=crew_day, person_h=3) for opening in openings
            )
    return first


def _opening(job: Job, details: list[InstallationDetail], chance: random.Random, mark: str) -> Opening:
    width_in, height_in = sides(chance)
    return Opening(
        job=job,
        detail=chance.choice(details),
        mark=mark,
        schedule_mark=mark,
        floor=f"Level {chance.randint(1, 4)}",
        ro_width_in=width_in,
        ro_height_in=height_in,
        unit_width_in=width_in - GAP_IN,
        unit_height_in=height_in - GAP_IN,
    )
