"""Rows for tests. A test states only what it is about; the rest is filled in here."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import factory
from django.utils import timezone

from jobs.models import Crew, Job, Person, SignIn
from materials.calc.parts import MEASURES, Part
from materials.calc.product import Measure
from materials.models import DetailProduct, Lot, Place, Product, Remnant
from openings.models import InstallationDetail, Opening


class CrewFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Crew

    name = factory.Sequence(lambda n: f"Crew {n}")
    truck = factory.Sequence(lambda n: f"Truck {n}")
    people_count = 3
    weekdays = "1234567"


class PersonFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Person

    username = factory.Sequence(lambda n: f"person-{n}")
    role = Person.Role.SCHEDULER
    crew = factory.Maybe(
        factory.LazyAttribute(lambda person: person.role == Person.Role.CREW_LEAD),
        yes_declaration=factory.SubFactory(CrewFactory),
        no_declaration=None,
    )


class JobFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Job

    code = factory.Sequence(lambda n: f"job-{n}")
    name = "Weir Cottage"
    time_zone = "UTC"  # the date of `tomorrow` is then that of the site, at any hour
    address = "2 Weir Lane"


class DetailFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = InstallationDetail

    job = factory.SubFactory(JobFactory)
    name = factory.Sequence(lambda n: f"detail {n}")
    mounting = "flange"
    barrier_before_window = True
    jamb_flashing_over_flange = True
    strip_width_in = Decimal(9)


class OpeningFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Opening

    job = factory.SubFactory(JobFactory)
    detail = factory.SubFactory(DetailFactory, job=factory.SelfAttribute("..job"))
    mark = factory.Sequence(lambda n: f"W{n}")
    schedule_mark = factory.SelfAttribute("mark")
    position = factory.Sequence(lambda n: n)
    ro_width_in = Decimal(36)
    ro_height_in = Decimal(54)
    unit_width_in = Decimal("35.5")
    unit_height_in = Decimal("53.5")
    is_void = False
    is_finished = factory.SelfAttribute("is_void")


class ProductFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Product

    code = factory.Sequence(lambda n: f"product-{n}")
    name = factory.LazyAttribute(lambda product: product.code)
    measure = Measure.COUNT.value
    package = Product.Package.BOX
    package_quantity = Decimal(100)


def make_sign_in(**values: Any) -> SignIn:
    """Return a wrong try to sign in, from an address of the documentation (RFC 5737)."""
    wrong = {"name": "ines", "counted_as": "ines", "address": "203.0.113.7", "network": "203.0.113.7"}
    return SignIn.objects.create(**wrong | {"outcome": SignIn.Outcome.WRONG} | values)


def make_openings(count: int, *, job: Job | None = None, **values: Any) -> list[Opening]:
    """Return openings of one job with one detail."""
    detail = DetailFactory(job=job or JobFactory())
    return OpeningFactory.create_batch(count, job=detail.job, detail=detail, **values)


def make_catalogue(*, strip_width_in: int = 9) -> dict[Part, Product]:
    """Return one standard product for every part, strips of that width."""
    packed = {
        Measure.LENGTH: (Product.Package.ROLL, Decimal(900)),
        Measure.VOLUME: (Product.Package.CARTRIDGE, Decimal("18.23")),
        Measure.COUNT: (Product.Package.BOX, Decimal(100)),
    }
    products = {}
    for part in Part:
        package, quantity = packed[MEASURES[part]]
        width_in = Decimal(strip_width_in) if part.endswith("strip") else None
        products[part] = ProductFactory(
            code=part.replace(" ", "-"),
            measure=MEASURES[part].value,
            package=package,
            package_quantity=quantity,
            width_in=width_in,
        )
        DetailProduct.objects.create(detail=None, part=part.value, product=products[part])
    return products


def make_stock(product: Product, packages: int, *, lot: Lot | None = None) -> Place:
    """Return a warehouse that holds so many packages of a product more."""
    supplier, _ = Place.objects.get_or_create(kind=Place.Kind.SUPPLIER, name="Supplier")
    warehouse, _ = Place.objects.get_or_create(kind=Place.Kind.WAREHOUSE, name="Warehouse")
    product.movements.create(source=supplier, destination=warehouse, packages=packages, lot=lot)
    return warehouse


def make_remnant(product: Product, length_in: int | str, **values: Any) -> Remnant:
    """Return a remnant of a product: in the warehouse, unless another place is given."""
    if "place" not in values:
        values["place"], _ = Place.objects.get_or_create(kind=Place.Kind.WAREHOUSE, name="Warehouse")
    return Remnant.objects.create(product=product, length_in=Decimal(length_in), **values)


def tomorrow(days: int = 1) -> date:
    """Return a day that is ahead in every time zone that the tests use."""
    return timezone.now().date() + timedelta(days=days)
