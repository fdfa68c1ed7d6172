"""Who signs in: invited by a link, changed, deactivated; and an owner is always left."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.utils import timezone

from jobs import queries, services
from jobs.errors import BadInput, CallerError, Conflict, LastOwner, NotAllowed, NotFound
from jobs.models import Invitation, Person, Token
from tests.factories import CrewFactory, PersonFactory
from tests.materials.at_once import at_once

pytestmark = pytest.mark.django_db

PASSWORD = "a lapped shingle sheds water"
OWNER, SCHEDULER, LEAD, WAREHOUSE = Person.Role.OWNER, Person.Role.SCHEDULER, Person.Role.CREW_LEAD, "warehouse"


def owner() -> Person:
    return PersonFactory(role=OWNER)


def invited(**values) -> Person:
    return services.invite_person(by=owner(), **({"username": "ann", "first_name": "Ann"} | values))


def link_of(person: Person) -> Invitation:
    return services.renew_invitation(person_id=person.pk, by=PersonFactory(is_superuser=True))


def token_of(person: Person) -> str:
    return Invitation.objects.open().get(person=person).token


def test_who_is_invited_has_no_password_and_sets_one_by_the_link_once():
    ann = invited(role=WAREHOUSE)
    assert not ann.has_usable_password()
    token = token_of(ann)
    assert services.accept_invitation(token=token, password=PASSWORD) == ann
    ann.refresh_from_db()
    assert ann.check_password(PASSWORD)
    with pytest.raises(NotFound, match="used, replaced or has expired"):
        services.accept_invitation(token=token, password="another long password")


def test_a_link_expires_and_is_replaced_and_taken_back():
    ann, by = invited(), PersonFactory()
    first = token_of(ann)
    second = services.renew_invitation(person_id=ann.pk, by=by).token
    for spent in (first, f"{first}0", "", "1-", "x-y", second.replace("-", "-0"), "9" * 30 + "-a"):
        with pytest.raises(NotFound):
            queries.invitation_by(spent)
    assert queries.invitation_by(second).person == ann
    Invitation.objects.open().update(expires_at=timezone.now() - timedelta(seconds=1))
    with pytest.raises(NotFound):
        queries.invitation_by(token_of(ann))
    services.take_back_invitation(invitation_id=Invitation.objects.open().get().pk, by=by)
    assert not Invitation.objects.open().exists()


def test_a_link_ends_with_the_password_that_it_was_made_under():
    ann = PersonFactory()
    token = services.renew_invitation(person_id=ann.pk, by=owner()).token
    ann.set_password(PASSWORD)
    ann.save()
    with pytest.raises(NotFound):
        queries.invitation_by(token)


def test_a_new_password_by_a_link_ends_every_token():
    ann = PersonFactory()
    services.make_token(person=ann, name="a tablet")
    services.accept_invitation(token=services.renew_invitation(person_id=ann.pk, by=owner()).token, password=PASSWORD)
    assert not Token.objects.exists()


def test_an_easy_password_is_refused_and_the_link_stays_good():
    token = token_of(invited())
    with pytest.raises(ValidationError):
        services.accept_invitation(token=token, password="12345678")
    assert queries.invitation_by(token)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"username": "ANN"}, "username"),
        ({"username": "bo", "role": WAREHOUSE, "crew": True}, "crew"),
    ],
    ids=["name in other letters", "crew without lead"],
)
def test_what_is_wrong_is_named_by_its_field(values, field):
    invited()
    if "crew" in values:
        values["crew"] = CrewFactory()
    with pytest.raises(BadInput) as refused:
        services.invite_person(by=owner(), **values)
    assert [fault.field for fault in refused.value.faults] == [field]


def test_a_crew_lead_without_a_crew_is_refused():
    with pytest.raises(ValidationError, match="choose one"):
        invited(role=LEAD)


def test_who_leads_no_longer_has_no_crew():
    lead = PersonFactory(role=LEAD)
    services.change_person(person_id=lead.pk, by=owner(), role=WAREHOUSE)
    lead.refresh_from_db()
    assert (lead.role, lead.crew) == (WAREHOUSE, None)


@pytest.mark.parametrize(
    "act",
    [
        lambda boss, by: services.invite_person(by=by, username="eve", role=OWNER),
        lambda boss, by: services.change_person(person_id=boss.pk, by=by, first_name="Eve"),
        lambda boss, by: services.change_person(person_id=by.pk, by=by, role=OWNER),
        lambda boss, by: services.deactivate_person(person_id=boss.pk, by=by),
        lambda boss, by: services.renew_invitation(person_id=boss.pk, by=by),
        lambda boss, by: services.take_back_invitation(invitation_id=link_of(boss).pk, by=by),
        lambda boss, by: services.reactivate_person(person_id=boss.pk, by=by),
    ],
    ids=["invite", "change", "become", "deactivate", "link", "take back", "reactivate"],
)
def test_only_an_owner_makes_or_changes_an_owner(act):
    boss, by = owner(), PersonFactory()
    owner()
    with pytest.raises(NotAllowed, match="only an owner"):
        act(boss, by)


@pytest.mark.parametrize("power", ["is_superuser", "is_staff"])
def test_who_runs_the_service_is_changed_by_nobody_below(power):
    root = PersonFactory(**{power: True})
    with pytest.raises(NotAllowed, match="runs the service"):
        services.renew_invitation(person_id=root.pk, by=owner())
    assert services.renew_invitation(person_id=root.pk, by=PersonFactory(is_superuser=True))


def test_the_only_owner_who_can_sign_in_stays_one():
    boss, root = owner(), PersonFactory(is_superuser=True)
    services.invite_person(by=boss, username="ann", role=OWNER)  # who has no password yet
    for act in (
        lambda: services.deactivate_person(person_id=boss.pk, by=root),
        lambda: services.change_person(person_id=boss.pk, by=boss, role=SCHEDULER),
    ):
        with pytest.raises(LastOwner, match="only owner who can sign in"):
            act()
    for change in ({"is_active": False}, {"role": SCHEDULER}, {"password": "!"}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Person.objects.filter(role=OWNER).update(**change)
    with pytest.raises(IntegrityError), transaction.atomic():
        boss.delete()
    owner()
    services.change_person(person_id=boss.pk, by=boss, role=SCHEDULER)


@pytest.mark.django_db(transaction=True)
def test_two_owners_cannot_lock_each_other_out_at_once():
    one, two = owner(), owner()
    refused = at_once(
        lambda: _refusal_of(lambda: services.deactivate_person(person_id=one.pk, by=two)),
        lambda: _refusal_of(lambda: services.deactivate_person(person_id=two.pk, by=one)),
    )
    assert queries.owners_who_sign_in().count() == 1
    assert len([one for one in refused if one]) == 1


def _refusal_of(act) -> str:
    try:
        act()
    except (CallerError, IntegrityError) as error:
        return str(error)
    return ""


def test_who_is_deactivated_has_no_token_and_no_link_and_comes_back():
    by, ann = owner(), PersonFactory()
    services.make_token(person=ann, name="a tablet")
    token = services.renew_invitation(person_id=ann.pk, by=by).token
    services.deactivate_person(person_id=ann.pk, by=by)
    assert not Token.objects.exists()
    with pytest.raises(NotFound):
        queries.invitation_by(token)
    with pytest.raises(Conflict, match="reactivate"):
        services.renew_invitation(person_id=ann.pk, by=by)
    services.reactivate_person(person_id=ann.pk, by=by)
    ann.refresh_from_db()
    assert ann.is_active


def test_nobody_deactivates_themselves():
    by = owner()
    with pytest.raises(Conflict, match="yourself"):
        services.deactivate_person(person_id=by.pk, by=by)


def test_signing_in_is_no_change_of_a_person():
    ann = PersonFactory()
    before = Person.objects.values_list("updated_at", flat=True).get(pk=ann.pk)
    Person.objects.filter(pk=ann.pk).update(last_login=timezone.now())
    assert Person.objects.values_list("updated_at", flat=True).get(pk=ann.pk) == before


def test_people_take_two_queries_however_many(django_assert_num_queries):
    for n in range(4):
        invited(username=f"p{n}")
    with django_assert_num_queries(2):
        assert len([person.usable_invitation for person in queries.people()]) == 8
