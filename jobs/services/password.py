"""Setting a password, and ending what was opened with the one before."""

from __future__ import annotations

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db.models import F

from jobs import transaction
from jobs.models import Person, Token


@transaction.atomic
def set_password(*, person: Person, password: str) -> Person:
    """Give somebody a new password. What they were signed in with anywhere, sessions and tokens, ends.

    Raises:
        ValidationError: of `new_password`, where it is too easy to guess.
    """
    try:
        validate_password(password, person)
    except ValidationError as error:
        raise ValidationError({"new_password": error.error_list}) from error
    person.set_password(password)
    person.save(update_fields=["password"])
    return person


@transaction.atomic
def sign_out_everywhere(*, person: Person) -> Person:
    """End every session and every token of somebody; their password stays."""
    Person.objects.filter(pk=person.pk).update(sign_outs=F("sign_outs") + 1)
    Token.objects.filter(person=person).delete()
    person.refresh_from_db(fields=["sign_outs"])
    return person


class EndsTokens:
    """Ends the tokens of whoever gets a new password, by whatever door: Django tells its validators of each.

    Sessions end by themselves, since their hash is made with the password.
    """

    def validate(self, password: str, user: Person | None = None) -> None:
        """Any password will do."""

    def get_help_text(self) -> str:
        return ""

    def password_changed(self, password: str, user: Person | None = None) -> None:
        if user is not None:
            Token.objects.filter(person=user).delete()
