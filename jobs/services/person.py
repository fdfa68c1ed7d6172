"""Who signs in: inviting, changing, deactivating, and setting a password by an invitation."""

from __future__ import annotations

from datetime import timedelta
from typing import TypedDict, Unpack

from django.contrib.auth.password_validation import validate_password
from django.db.models import QuerySet
from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.errors import BadInput, Conflict, LastOwner, NotAllowed, NotFound
from jobs.models import Crew, Invitation, Person
from jobs.queries import invitation_by, owners_who_sign_in, person_of
from jobs.services.letter import mail
from jobs.services.password import sign_out_everywhere
from jobs.services.row import change

INVITATION_LASTS = timedelta(days=7)
"""How long a link can be used (company default: somebody who is away for a week finds it in time)."""


OWNERS_ALONE = "only an owner can make, change or deactivate an owner"


class PersonChange(TypedDict, total=False):
    """What of a person the office changes."""

    username: str
    first_name: str
    last_name: str
    email: str
    role: str
    crew: Crew | None


@transaction.atomic
def invite_person(*, by: Person, **values: Unpack[PersonChange]) -> Person:
    """Add somebody who has no password yet, with a link by which they set one.

    Raises:
        NotAllowed: only an owner makes an owner.
        BadInput: the name is taken, or somebody who leads no crew has one.
        ValidationError: a value is not kept.
    """
    _require_may_change(by, role=values.get("role", ""))
    return add_person(invited_by=by, **values)


@transaction.atomic
def make_first_owner(*, username: str, first_name: str = "", email: str = "") -> Invitation:
    """Invite the owner of a service that nobody owns; asked again, make another link for that name.

    Raises:
        Conflict: an owner can sign in already, and invites others.
        BadInput: somebody who is no owner has that name.
    """
    if owner := owners_who_sign_in().first():
        raise Conflict(f"{owner.username} owns this service and invites others; nothing was changed")
    person = Person.objects.filter(username__iexact=username, role=Person.Role.OWNER).first()
    if person is None:
        added = add_person(invited_by=None, username=username, first_name=first_name, email=email, role="owner")
        return added.invitations.open().get()
    if not person.is_active:
        change(person, is_active=True)
    _take_back(person.invitations.open())
    return _invite(person, by=None)


def add_person(*, invited_by: Person | None, **values: Unpack[PersonChange]) -> Person:
    """Add somebody with an open invitation; for who has made sure that this is allowed, within a transaction."""
    person = Person(**values)
    _require_own_name(person)
    _require_crew_of_a_lead(person)
    person.set_unusable_password()
    person.full_clean()
    person.save(force_insert=True)
    _invite(person, by=invited_by)
    return person


@transaction.atomic
def change_person(*, person_id: int, by: Person, **values: Unpack[PersonChange]) -> Person:
    """Change names, address, role or crew; who stops leading a crew has none then.

    Raises:
        NotFound: there is no such person.
        NotAllowed: only an owner makes or changes an owner.
        LastOwner: nobody would be left who can do that.
        BadInput: the name is taken, or somebody who leads no crew has one.
    """
    person = _locked(person_id)
    role = values.get("role", person.role)
    _require_may_change(by, person, role=role)
    if role != Person.Role.OWNER:
        _require_another_owner(person)
    if role != Person.Role.CREW_LEAD:
        values.setdefault("crew", None)
    for name, value in values.items():
        setattr(person, name, value)
    _require_own_name(person)
    _require_crew_of_a_lead(person)
    return change(person, **values)


def deactivating(*, person_id: int, by: Person) -> Person:
    """Return somebody who can be deactivated. Nothing is written.

    Raises:
        NotFound, NotAllowed, Conflict, LastOwner: as `deactivate_person`.
    """
    person = person_of(person_id)
    _require_may_deactivate(by, person)
    return person


@transaction.atomic
def deactivate_person(*, person_id: int, by: Person) -> Person:
    """Let somebody sign in no more; what they recorded stays. Tokens and the open link end. Safe to repeat.

    Raises:
        NotAllowed: only an owner deactivates an owner.
        Conflict: it is oneself.
        LastOwner: it is the only owner who can sign in.
    """
    person = _locked(person_id)
    _require_may_deactivate(by, person)
    sign_out_everywhere(person=person)
    _take_back(person.invitations.open())
    return change(person, is_active=False)


@transaction.atomic
def reactivate_person(*, person_id: int, by: Person) -> Person:
    """Let somebody sign in again, with the password that they had. Safe to repeat."""
    person = _locked(person_id)
    _require_may_change(by, person)
    return change(person, is_active=True)


@transaction.atomic
def renew_invitation(*, person_id: int, by: Person) -> Invitation:
    """Make a new link by which somebody sets a password, the first or another; the link before it ends.

    Raises:
        Conflict: the person is deactivated.
    """
    person = _locked(person_id)
    _require_may_change(by, person)
    if not person.is_active:
        raise Conflict(f"{person} is deactivated; reactivate the account first", about=[about(person)])
    _take_back(person.invitations.open())
    return _invite(person, by=by)


@transaction.atomic
def take_back_invitation(*, invitation_id: int, by: Person) -> Person:
    """End a link, and return whose it was; one that was used or ended before stays as it was.

    Raises:
        NotFound: there is no such invitation.
    """
    found = Invitation.objects.filter(pk=invitation_id).first()
    if found is None:
        raise NotFound(f"there is no invitation {invitation_id}")
    person = _locked(found.person_id)
    _require_may_change(by, person)
    _take_back(Invitation.objects.open().filter(pk=invitation_id))
    return person


@transaction.atomic
def accept_invitation(*, token: str, password: str) -> Person:
    """Set the password of whoever the link is for; all that was signed in by an earlier one ends.

    Raises:
        NotFound: the link was used, replaced or has expired.
        ValidationError: the password is too easy to guess.
    """
    person = _locked(invitation_by(token).person_id)
    invitation = invitation_by(token)  # nobody uses it from now on: that would change the person
    validate_password(password, person)
    person.set_password(password)
    person.save(update_fields=["password"])
    change(invitation, used_at=timezone.now())
    return person


@transaction.atomic
def mail_invitation(*, invitation_id: int, link: str) -> bool:
    """Mail somebody the link by which they set their password; return whether they have an address.

    Args:
        link: the whole address, as it is reached from outside.
    """
    invitation = Invitation.objects.select_related("person", "invited_by").get(pk=invitation_id)
    person = invitation.person
    if not person.email:
        return False
    text = MAILED.format(person=person, by=invitation.invited_by or "Weatherlap", username=person.username, link=link)
    mail(address=person.email, subject="Set your password for Weatherlap", text=text)
    return True


MAILED = """Hello {person},

{by} sends you this link to set your password for Weatherlap. You sign in as {username}.

{link}

The link can be used once, within seven days. If you did not expect it, you need not do anything.
"""


def _require_may_change(by: Person, person: Person | None = None, *, role: str = "") -> None:
    """Let the office change people, and only an owner make, change or deactivate an owner.

    Args:
        person: who is to be changed, as they are now.
        role: the role that they are to have.

    Raises:
        NotAllowed: somebody else may do this.
    """
    if role == Person.Role.OWNER and not (by.is_owner or by.is_superuser):
        raise NotAllowed(OWNERS_ALONE)
    if person and not person.may_be_changed_by(by):
        if person.is_superuser or person.is_staff:
            raise NotAllowed(f"{person} runs the service; only somebody who does too can change that account")
        raise NotAllowed(OWNERS_ALONE)


def _locked(person_id: int) -> Person:
    person = Person.objects.select_for_update(no_key=True).filter(pk=person_id).first()
    if person is None:
        raise NotFound(f"there is no person {person_id}")
    return person


def _require_may_deactivate(by: Person, person: Person) -> None:
    _require_may_change(by, person)
    if person.pk == by.pk:
        raise Conflict("you cannot deactivate yourself; ask somebody else of the office", about=[about(person)])
    _require_another_owner(person)


def _require_another_owner(person: Person) -> None:
    """Refuse what would leave nobody who can make owners; a trigger keeps it where two are at it at once."""
    owners = owners_who_sign_in()
    if owners.filter(pk=person.pk).exists() and not owners.exclude(pk=person.pk).exists():
        sentence = f"{person} is the only owner who can sign in; make somebody else an owner first"
        raise LastOwner(sentence, about=[about(person)])


def _require_own_name(person: Person) -> None:
    if Person.objects.filter(username__iexact=person.username).exclude(pk=person.pk).exists():
        sentence = f"somebody signs in as {person.username} already; choose another name"
        raise BadInput.of("username", person.username, sentence)


def _require_crew_of_a_lead(person: Person) -> None:
    if person.crew_id and person.role != Person.Role.CREW_LEAD:
        raise BadInput.of("crew", str(person.crew), "only a crew lead has a crew; leave it out, or choose crew lead")


def _take_back(invitations: QuerySet[Invitation]) -> None:
    for invitation in invitations:
        change(invitation, taken_back_at=timezone.now())


def _invite(person: Person, *, by: Person | None) -> Invitation:
    invitation = Invitation(person=person, invited_by=by, expires_at=timezone.now() + INVITATION_LASTS)
    invitation.save(force_insert=True)
    return invitation
