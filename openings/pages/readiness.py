"""What the openings of a job wait for: rules, other trades, and holds of many at once."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.calc import say
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import ANYONE, FIELD, OFFICE
from jobs.queries import job_of
from jobs.signed_in import signed_in
from openings import queries, services
from openings.forms import HoldManyForm, ReleaseManyForm, RulesForm, TradeDoneForm, TradeForm
from openings.models import TradeBefore
from openings.serializers import PageAsked

READINESS = "readiness-page"


@Page
def readiness(request: HttpRequest, job_id: int) -> HttpResponse:
    """From when each opening can be planned and why not today, and what is entered about that."""
    asked = PageAsked(data=request.GET)
    asked.is_valid(raise_exception=True)
    floors = queries.floors_of(job_id)
    return render(
        request,
        "openings/readiness.html",
        {
            "sheet": queries.job_readiness(job_id, page=asked.validated_data["page"]),
            "chosen": set(request.POST.getlist("openings")),
            "trades": [(trade, _done_form(trade, request)) for trade in queries.trades_of(job_id)],
            "rules_form": RulesForm(entered(request, "set_rules"), rules=queries.ready_rules_of(job_id)),
            "trade_form": TradeForm(entered(request, "add_trade"), floors=floors, auto_id="trade_%s"),
            "hold_form": HoldManyForm(entered(request, "hold"), job_id=job_id, floors=floors),
            "release_form": ReleaseManyForm(entered(request, "release")),
            "may_change": may(signed_in(request), OFFICE),
            "may_release": may(signed_in(request), FIELD | OFFICE),
        },
    )


def _done_form(trade: TradeBefore, request: HttpRequest) -> TradeDoneForm:
    is_meant = request.POST.get("trade") == str(trade.pk)
    return TradeDoneForm(
        entered(request, "settle_trade") if is_meant else None,
        initial={"trade": trade.pk, "expected_on": trade.expected_on, "done_on": trade.done_on},
        auto_id=f"trade_{trade.pk}_%s",
    )


@readiness.act(by=ANYONE)
def hold(request: HttpRequest, job_id: int) -> HttpResponse:
    """Place a hold on the selected openings, on a floor, or on those of a delivery."""
    form = HoldManyForm(request.POST, job_id=job_id, floors=queries.floors_of(job_id))
    values = values_of(form)
    delivery = values["delivery"]
    ids = [one.pk for one in values["openings"]] or queries.openings_where(
        job_id=job_id, floor=values["floor"] or None, delivery_id=delivery.pk if delivery else None
    )
    placed = services.place_holds(
        opening_ids=ids,
        kind=values["kind"],
        reason=values["reason"],
        expected_on=values["expected_on"],
        by=signed_in(request),
    )
    kept = f"; {say.counted(len(ids) - len(placed), 'opening')} had one already" if len(placed) < len(ids) else ""
    said = f"{say.counted(len(placed), 'opening')} on hold: {values['kind']}{kept}"
    return done(request, said, READINESS, at="readiness", job_id=job_id)


@readiness.act(by=FIELD | OFFICE)
def release(request: HttpRequest, job_id: int) -> HttpResponse:
    """Release the holds of one kind of the selected openings."""
    values = values_of(ReleaseManyForm(request.POST))
    held = queries.open_holds(values["openings"], kind=values["kind"])
    released = services.release_holds(hold_ids=[one.pk for one in held], by=signed_in(request), note=values["note"])
    said = f"{say.counted(len(released), 'hold')} released: {values['kind']}"
    return done(request, said, READINESS, at="readiness", job_id=job_id)


@readiness.act(by=OFFICE)
def set_rules(request: HttpRequest, job_id: int) -> HttpResponse:
    """Choose the rules by which openings of the job are ready."""
    values = values_of(RulesForm(request.POST, rules=queries.ready_rules_of(job_id)))
    services.set_ready_rules(job=job_of(job_id), **values)
    return done(request, "The rules are saved, and the holds follow them", READINESS, at="rules", job_id=job_id)


@readiness.act(by=OFFICE)
def add_trade(request: HttpRequest, job_id: int) -> HttpResponse:
    """Enter what must be done before."""
    values = values_of(TradeForm(request.POST, floors=queries.floors_of(job_id)))
    added = services.add_trade_before(job=job_of(job_id), **values)
    return done(request, f"Openings wait for: {added}", READINESS, at="trades", job_id=job_id)


@readiness.act(by=OFFICE)
def settle_trade(request: HttpRequest, job_id: int) -> HttpResponse:
    """Say when it is expected, or that it is done."""
    values = values_of(TradeDoneForm(request.POST))
    trade = services.revise_trade_before(
        trade_id=values["trade"], expected_on=values["expected_on"], done_on=values["done_on"]
    )
    said = f"{trade} is done" if trade.done_on else f"{trade} is not done yet"
    return done(request, said, READINESS, at="trades", job_id=job_id)
