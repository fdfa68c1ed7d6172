"""One request for every operation that writes: what must stand before it, and what is sent."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.utils import timezone
from rest_framework.response import Response
from rest_framework.test import APIClient

from jobs.models import CalendarLink, CompanyDay, Webhook
from jobs.services import add_person, add_webhook, make_calendar_link, stop_webhook
from materials import services
from materials.models import Compatibility, DetailProduct, Lot, Place
from openings.calc.lay_order import steps_for
from openings.models import Delivery, InstallRecord, ReadyRules, ScheduleDraft, TradeBefore, Unit
from tests.factories import (
    CrewFactory,
    DetailFactory,
    JobFactory,
    PersonFactory,
    ProductFactory,
    make_catalogue,
    make_openings,
    make_remnant,
    make_sign_in,
    make_stock,
    tomorrow,
)
from tests.materials.crew_days import make_crew_day, written
from tests.materials.rolls import make_loaded_roll, make_sheet, make_strip
from tests.openings.api.clients import API
from tests.openings.api.test_measurements import TAPE
from tests.openings.rows import live, make_assigned, measure, schedule_of, start

MULTIPART = "multipart"
DRY = "rain on the forecast"


@dataclass(frozen=True, kw_only=True)
class Write:
    """One request that succeeds.

    Args:
        of: id of the row that is changed, where one is.
        other: what differs from `body` when something else is sent with the same key.
    """

    body: dict[str, Any] = field(default_factory=dict)
    of: int | None = None
    other: dict[str, Any] = field(default_factory=lambda: {"note": "something else"})
    format: str = "json"

    def send(self, client: APIClient, operation: str, *, other: bool = False, **headers: str) -> Response:
        """Send it, with files that can be read again."""
        method, path = operation.split()
        body = self.body | (self.other if other else {})
        sent = {name: value() if callable(value) else value for name, value in body.items()}
        address = f"{API}{path}".replace("{id}", str(self.of)).replace("{roll_id}", str(self.of))
        for name in ("{crew_id}", "{job_id}"):
            address = address.replace(name, str(self.of))
        return client.generic_json(method, address, sent, self.format, headers)


class Caller(APIClient):
    """Somebody who may do everything."""

    def generic_json(self, method: str, path: str, body: Any, format: str, headers: dict[str, str]) -> Response:
        return getattr(self, method.lower())(path, body, format=format, headers=headers)


def caller() -> Caller:
    client = Caller(raise_request_exception=False)
    client.force_authenticate(PersonFactory(is_superuser=True))
    return client


def touch(table: str, pk: int) -> None:
    """Change a row as somebody else would have meanwhile."""
    with connection.cursor() as cursor:
        cursor.execute(f'UPDATE "{table}" SET updated_at = now() WHERE id = %s', [pk])


def _file(name: str = "windows.csv", rows: str = "W1,2,36,54,") -> Callable[[], SimpleUploadedFile]:
    return lambda: SimpleUploadedFile(name, schedule_of(rows))


def _record() -> InstallRecord:
    return start(make_assigned()[0])


def _done() -> Write:
    record = _record()
    for step in steps_for(record.opening.detail.as_facts()):
        record.steps.create(step=step.code, recorded_by=record.started_by, recorded_at=record.started_at)
    record.hours.create(person="Ann", on=tomorrow(0), person_h=2)
    return Write(of=record.pk)


def _first_step() -> Write:
    record = _record()
    code = steps_for(record.opening.detail.as_facts())[0].code
    return Write(of=record.pk, body={"step": code}, other={"note": DRY})


def _draft(state: str) -> int:
    return ScheduleDraft.objects.create(
        job=DetailFactory().job,
        filename="windows.csv",
        content=schedule_of("W1,2,36,54,"),
        sha256="a" * 64,
        state=state,
    ).pk


def _choice() -> DetailProduct:
    return DetailProduct.objects.create(part="shim", product=ProductFactory())


def _loading() -> Write:
    products = make_catalogue()
    for product in products.values():
        make_stock(product, 50)
    sheet = written(make_crew_day())
    line = sheet.lines.filter(product__isnull=False).first()
    return Write(of=sheet.pk, body={"line": line.pk, "packages": 1}, other={"packages": 2})


def _moving() -> Write:
    product, crew = ProductFactory(), CrewFactory()
    truck = Place.objects.create(kind=Place.Kind.TRUCK, name="Truck", crew=crew)
    body = {"product": product.pk, "source": make_stock(product, 5).pk, "destination": truck.pk, "packages": 1}
    return Write(body=body, other={"packages": 2})


def _counting() -> Write:
    place = Place.objects.create(kind=Place.Kind.WAREHOUSE, name="Yard")
    return Write(
        body={"place": place.pk, "lines": [{"product": ProductFactory().pk, "packages": 5}]}, other={"reason": "again"}
    )


def _requesting() -> Write:
    make_catalogue()
    day = make_crew_day()
    return Write(body={"crew": day.crew_id, "on": str(day.on)}, other={"on": str(tomorrow(2))})


def _giving(name: str, many: bool) -> Write:
    openings = [opening.pk for opening in make_openings(2)]
    crew, on = CrewFactory(people_count=20).pk, str(tomorrow())
    return Write(body={name: openings if many else openings[0], "crew": crew, "on": on}, other={"on": str(tomorrow(2))})


def _carrying() -> Write:
    crew = CrewFactory(people_count=20)
    assignments = [live(opening).pk for opening in make_assigned(2, crew=crew)]
    return Write(
        body={"assignments": assignments, "crew": crew.pk, "on": str(tomorrow(2))}, other={"on": str(tomorrow(3))}
    )


def _changing_places() -> Write:
    (one,), (other,) = (make_assigned(crew=CrewFactory(people_count=20)) for _ in range(2))
    days = [(live(one), live(other).crew_day.crew), (live(other), live(one).crew_day.crew)]
    moves = [{"crew": crew.pk, "on": str(tomorrow()), "assignments": [given.pk]} for given, crew in days]
    return Write(body={"moves": moves}, other={"short_crew_reason": "two lifters"})


def _opening_body() -> dict[str, Any]:
    detail = DetailFactory()
    sizes = {"ro_width_in": 36, "ro_height_in": 54, "unit_width_in": 35, "unit_height_in": 53}
    return {"job": detail.job_id, "detail": detail.pk, "mark": "W9"} | sizes


def _named(row: Any, name: str = "name") -> Write:
    return Write(of=row.pk, body={name: "another"}, other={name: "a third"})


def _unit() -> Unit:
    return make_openings(1)[0].units.create(ordered_on=tomorrow(-2))


def _delivery() -> Delivery:
    return Delivery.objects.create(job=JobFactory(), supplier="Sash works")


def _calendar_link() -> CalendarLink:
    return make_calendar_link(job=JobFactory(), label="the builder", by=PersonFactory()).link


def _webhook() -> Webhook:
    return add_webhook(name="payroll", address="https://hooks.example.test/", kinds=[], by=PersonFactory())


def _settling() -> Write:
    product = make_strip()
    make_stock(product, 1)
    roll = make_loaded_roll(make_sheet(), product)
    return Write(of=roll.pk, body={"came_back_in": 100}, other={"came_back_in": 90})


def _remnant_body() -> dict[str, Any]:
    product = make_strip()
    return {"product": product.pk, "length_in": 300, "place": make_stock(product, 1).pk}


WRITES: dict[str, Callable[[], Write]] = {
    "POST /jobs/": lambda: Write(
        body={"code": "weir", "name": "Weir Cottage", "address": "2 Weir Lane"}, other={"code": "mill"}
    ),
    "PATCH /jobs/{id}/": lambda: _named(JobFactory()),
    "POST /crews/": lambda: Write(body={"name": "Blue", "truck": "T1", "people_count": 3}, other={"name": "Red"}),
    "PATCH /crews/{id}/": lambda: _named(CrewFactory()),
    "POST /people/": lambda: Write(body={"username": "ann", "email": "ann@example.com"}, other={"username": "bo"}),
    "PATCH /people/{id}/": lambda: _named(PersonFactory(), "first_name"),
    "POST /people/{id}/deactivate/": lambda: Write(of=PersonFactory().pk),
    "POST /people/{id}/reactivate/": lambda: Write(of=PersonFactory(is_active=False).pk),
    "POST /invitations/": lambda: Write(body={"person": PersonFactory().pk}, other={"person": PersonFactory().pk}),
    "POST /invitations/{id}/take-back/": lambda: Write(
        of=add_person(invited_by=None, username="ann").invitations.get().pk
    ),
    "POST /crews/{crew_id}/retire/": lambda: Write(of=CrewFactory().pk),
    "POST /crews/{crew_id}/return/": lambda: Write(of=CrewFactory(retired_at=timezone.now()).pk),
    "POST /jobs/{job_id}/close/": lambda: Write(of=JobFactory().pk),
    "POST /jobs/{job_id}/archive/": lambda: Write(of=JobFactory(closed_at=timezone.now()).pk),
    "POST /jobs/{job_id}/reopen/": lambda: Write(of=JobFactory(closed_at=timezone.now()).pk),
    "POST /company-days/": lambda: Write(
        body={"on": str(tomorrow()), "name": "Thanksgiving Day", "shift_h": 0}, other={"shift_h": 4}
    ),
    "PATCH /company-days/{id}/": lambda: _named(
        CompanyDay.objects.create(on=tomorrow(), name="Flood", shift_h=0, confirmed_by=PersonFactory())
    ),
    "POST /crew-days/off/": lambda: Write(
        body={"crew": CrewFactory().pk, "first": str(tomorrow()), "last": str(tomorrow(3)), "off_reason": "vacation"},
        other={"off_reason": "training"},
    ),
    "POST /crew-days/": lambda: Write(
        body={"crew": CrewFactory().pk, "on": str(tomorrow())}, other={"on": str(tomorrow(2))}
    ),
    "PATCH /crew-days/{id}/": lambda: Write(
        of=make_crew_day().pk, body={"capacity_person_h": 8}, other={"capacity_person_h": 9}
    ),
    "POST /forecasts/": lambda: Write(
        body={"job": JobFactory().pk, "on": str(tomorrow()), "low_f": 40, "high_f": 60}, other={"high_f": 61}
    ),
    "PATCH /forecasts/{id}/": lambda: Write(
        of=JobFactory().forecasts.create(on=tomorrow(), low_f=40, high_f=60).pk,
        body={"high_f": 62},
        other={"high_f": 63},
    ),
    "POST /auth/unlock/": lambda: Write(body={"sign_in": make_sign_in().pk}, other={"sign_in": make_sign_in().pk}),
    "POST /calendar-links/": lambda: Write(
        body={"label": "the builder", "job": JobFactory().pk}, other={"label": "somebody else"}
    ),
    "POST /calendar-links/{id}/revoke/": lambda: Write(of=_calendar_link().pk),
    "POST /webhooks/": lambda: Write(
        body={"name": "payroll", "address": "https://hooks.example.test/", "kinds": ["no_sheet"]},
        other={"name": "billing"},
    ),
    "PATCH /webhooks/{id}/": lambda: _named(_webhook()),
    "POST /webhooks/{id}/stop/": lambda: Write(of=_webhook().pk),
    "POST /webhooks/{id}/resume/": lambda: Write(of=stop_webhook(webhook_id=_webhook().pk).pk),
    "POST /details/": lambda: Write(
        body={"job": JobFactory().pk, "name": "bay", "mounting": "flange", "barrier_before_window": True},
        other={"name": "bow"},
    ),
    "PATCH /details/{id}/": lambda: _named(DetailFactory()),
    "POST /details/{id}/accept-leak/": lambda: Write(
        of=DetailFactory(pan_turn_up_in=Decimal(2)).pk, body={"why": "under a deep porch"}, other={"why": "a shed"}
    ),
    "POST /openings/": lambda: Write(body=_opening_body(), other={"mark": "W8"}),
    "PATCH /openings/{id}/": lambda: _named(make_openings(1)[0], "remarks"),
    "POST /openings/{id}/void/": lambda: Write(
        of=make_openings(1)[0].pk, body={"why": "left out"}, other={"why": "a door"}
    ),
    "POST /openings/{id}/restore/": lambda: Write(of=make_openings(1, is_void=True)[0].pk),
    "POST /openings/{id}/copy/": lambda: Write(of=make_openings(1)[0].pk, body={"count": 2}, other={"count": 3}),
    "POST /measurements/": lambda: Write(
        body=TAPE | {"opening": make_openings(1, ro_width_in=72, ro_height_in=60)[0].pk}, other={"twist_in": 0}
    ),
    "POST /measurements/{id}/accept/": lambda: Write(of=measure(make_openings(1)[0], "36.125", "54").pk),
    "POST /holds/": lambda: Write(
        body={"opening": make_openings(1)[0].pk, "kind": "access", "reason": "stairs"}, other={"reason": "scaffold"}
    ),
    "POST /holds/{id}/release/": lambda: Write(
        of=make_openings(1)[0].holds.create(kind="access", reason="stairs").pk, body={"note": "built"}
    ),
    "PATCH /holds/{id}/": lambda: Write(
        of=make_openings(1)[0].holds.create(kind="access", reason="stairs").pk,
        body={"expected_on": str(tomorrow(3))},
        other={"expected_on": str(tomorrow(4))},
    ),
    "POST /holds/many/": lambda: Write(
        body={"openings": [one.pk for one in make_openings(2)], "kind": "access", "reason": "stairs"},
        other={"reason": "scaffold"},
    ),
    "POST /holds/release-many/": lambda: Write(
        body={"holds": [one.holds.create(kind="access", reason="stairs").pk for one in make_openings(2)]},
        other={"note": "built"},
    ),
    "POST /units/": lambda: Write(
        body={"opening": make_openings(1)[0].pk, "ordered_on": str(tomorrow(-2))}, other={"order_ref": "A 7"}
    ),
    "PATCH /units/{id}/": lambda: _named(_unit(), "order_ref"),
    "POST /units/many/": lambda: Write(
        body={"openings": [one.pk for one in make_openings(2)], "ordered_on": str(tomorrow(-2))},
        other={"order_ref": "A 7"},
    ),
    "POST /units/receive/": lambda: Write(body={"units": [_unit().pk]}, other={"stands_at": "garage"}),
    "POST /units/{id}/reorder/": lambda: Write(
        of=_unit().pk, body={"ordered_on": str(tomorrow(-1))}, other={"order_ref": "A 8"}
    ),
    "POST /deliveries/": lambda: Write(
        body={"job": JobFactory().pk, "supplier": "Sash works"}, other={"supplier": "Pane works"}
    ),
    "PATCH /deliveries/{id}/": lambda: _named(_delivery(), "note"),
    "POST /deliveries/{id}/receive/": lambda: Write(of=_delivery().pk, other={"stands_at": "garage"}),
    "POST /ready-rules/": lambda: Write(body={"job": JobFactory().pk, "units": True}, other={"units": False}),
    "PATCH /ready-rules/{id}/": lambda: Write(
        of=ReadyRules.objects.create(job=JobFactory()).pk, body={"units": True}, other={"measured": True}
    ),
    "POST /trades-before/": lambda: Write(body={"job": JobFactory().pk, "name": "WRB"}, other={"name": "framing"}),
    "PATCH /trades-before/{id}/": lambda: _named(TradeBefore.objects.create(job=JobFactory(), name="WRB")),
    "POST /assignments/": lambda: _giving("opening", many=False),
    "POST /assignments/many/": lambda: _giving("openings", many=True),
    "POST /assignments/move/": _carrying,
    "POST /assignments/move-all/": _changing_places,
    "POST /assignments/undo/": lambda: Write(body={"board_act": live(make_assigned()[0]).given_in_id}),
    "POST /assignments/{id}/withdraw/": lambda: Write(of=live(make_assigned()[0]).pk),
    "POST /install-records/": lambda: Write(
        body={"opening": make_assigned()[0].pk, "other_day": True}, other={"other_day": False}
    ),
    "POST /install-records/{id}/steps/": _first_step,
    "POST /install-records/{id}/hours/": lambda: Write(
        of=_record().pk, body={"person": "Ann", "on": str(tomorrow(0)), "person_h": 2}, other={"person": "Ben"}
    ),
    "POST /install-records/{id}/done/": _done,
    "POST /callbacks/": lambda: Write(
        body={"opening": make_openings(1)[0].pk, "reported_on": str(tomorrow(-1)), "complaint": "whistles"},
        other={"complaint": "leaks"},
    ),
    "PATCH /callbacks/{id}/": lambda: _named(
        make_openings(1)[0].callbacks.create(reported_on=tomorrow(-1), complaint="whistles"), "resolution"
    ),
    "POST /schedules/": lambda: Write(
        body={"job": DetailFactory().job_id, "file": _file()},
        other={"file": _file(rows="W2,1,36,54,")},
        format=MULTIPART,
    ),
    "POST /schedule-drafts/": lambda: Write(
        body={"job": DetailFactory().job_id, "file": _file()}, other={"file": _file(name="other.csv")}, format=MULTIPART
    ),
    "POST /schedule-drafts/{id}/settle/": lambda: Write(
        of=_draft("read"), body={"mapping": {}}, other={"detail": "bay"}
    ),
    "POST /schedule-drafts/{id}/take/": lambda: Write(of=_draft("read"), body={"seen": "a" * 64}, other={"seen": "b"}),
    "POST /schedule-drafts/{id}/discard/": lambda: Write(of=_draft("read")),
    "POST /products/": lambda: Write(
        body={"code": "shim", "name": "Shim", "measure": "each", "package": "box", "package_quantity": 100},
        other={"code": "wedge"},
    ),
    "PATCH /products/{id}/": lambda: _named(ProductFactory()),
    "POST /products/{id}/retire/": lambda: Write(of=ProductFactory().pk),
    "POST /products/{id}/reinstate/": lambda: Write(of=services.retire_product(product_id=ProductFactory().pk).pk),
    "POST /products/start/": lambda: Write(body={"codes": ["shim-84"]}, other={"codes": ["strap-100"]}),
    "POST /detail-products/": lambda: Write(
        body={"part": "shim", "product": ProductFactory().pk}, other={"part": "strap"}
    ),
    "PATCH /detail-products/{id}/": lambda: Write(
        of=_choice().pk, body={"product": ProductFactory().pk}, other={"part": "strap"}
    ),
    "POST /detail-products/{id}/drop/": lambda: Write(of=_choice().pk),
    "POST /compatibilities/": lambda: Write(
        body={"chemistry": "butyl", "neighbor": "silicone", "verdict": "not compatible", "source": "a test"},
        other={"source": "a letter"},
    ),
    "PATCH /compatibilities/{id}/": lambda: _named(
        Compatibility.objects.create(chemistry="a", neighbor="b", verdict="compatible", source="a test"), "source"
    ),
    "POST /compatibility-evidence/": lambda: Write(
        body={
            "product": ProductFactory().pk,
            "neighbor": ProductFactory().pk,
            "verdict": "compatible",
            "document": "test 1",
        },
        other={"document": "test 2"},
    ),
    "POST /places/": lambda: Write(body={"kind": "warehouse", "name": "North yard"}, other={"name": "South yard"}),
    "PATCH /places/{id}/": lambda: _named(Place.objects.create(kind="warehouse", name="Yard")),
    "POST /lots/": lambda: Write(
        body={"product": ProductFactory().pk, "code": "L1", "received_on": str(tomorrow(-1))}, other={"code": "L2"}
    ),
    "PATCH /lots/{id}/": lambda: _named(
        Lot.objects.create(product=ProductFactory(), code="L1", received_on=tomorrow(-1)), "code"
    ),
    "POST /movements/": _moving,
    "POST /stock/counts/": _counting,
    "POST /pull-sheets/": _requesting,
    "POST /pull-sheets/{id}/load/": _loading,
    "POST /remnants/": lambda: Write(body=_remnant_body(), other={"length_in": 299}),
    "POST /remnants/{id}/scrap/": lambda: Write(of=make_remnant(make_strip(), Decimal(100)).pk),
    "POST /planned-rolls/{roll_id}/settle/": _settling,
}
"""Every operation that creates, changes or moves something."""

ANSWERS_A_SECRET = {"POST /webhooks/{id}/secret/", "POST /calendar-links/{id}/address/"}
"""What is answered is shown once and kept nowhere."""

SAVES_NOTHING = {  # or nothing that may be kept and answered again
    "POST /auth/token/",
    "POST /auth/password/",
    "POST /auth/sign-out-everywhere/",
    "POST /compute/labor/",
    "POST /compute/lift/",
    "POST /compute/water-path/",
    "POST /compute/cuts/",
    "POST /compute/draw/",
}
SETTINGS_OF_THE_SHOP = {
    "PATCH /company/",
    "PATCH /jobs/{job_id}/drives/",
    "PATCH /weather-limits/",
    "PATCH /notice-choices/",
}
"""One value each, and the last one who sets it is right."""
