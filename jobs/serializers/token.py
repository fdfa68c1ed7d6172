"""JSON ⇄ tokens, passwords and sign-ins."""

from __future__ import annotations

from typing import Any, ClassVar

from rest_framework import serializers
from rest_framework.authtoken.serializers import AuthTokenSerializer

from jobs.calc.sign_in import MOST_TOKEN_DAYS
from jobs.models import SignIn, Token
from jobs.names import KnownNames, ModelBody
from jobs.serializers.person import PersonSerializer


class Credentials(KnownNames, AuthTokenSerializer):
    """Who signs in, and for what."""

    name = serializers.CharField(max_length=60, required=False, help_text="What the token is for.")
    days = serializers.IntegerField(
        min_value=1, max_value=MOST_TOKEN_DAYS, required=False, help_text="How long it lasts; 12 hours if not given."
    )


class TokenOut(serializers.Serializer[Any]):
    token = serializers.CharField(help_text="Send it as `Authorization: Token …`; only its hash is kept.")
    expiry = serializers.DateTimeField()
    user = PersonSerializer()


class TokenSerializer(ModelBody[Token]):
    """A token as it is listed: its secret is kept nowhere."""

    class Meta:
        model = Token
        fields: ClassVar = ["id", "name", "begins_with", "made_at", "expires_at", "updated_at"]
        read_only_fields: ClassVar = fields


class NewPassword(KnownNames):
    """A new password, and the one before."""

    old_password = serializers.CharField(trim_whitespace=False, max_length=1000)
    new_password = serializers.CharField(trim_whitespace=False, max_length=1000)


class UnlockSerializer(KnownNames):
    """Whose name and address are unlocked."""

    sign_in = serializers.IntegerField(min_value=1, help_text="Id of a try to sign in.")


class SignInSerializer(ModelBody[SignIn]):
    class Meta:
        model = SignIn
        fields: ClassVar = ["id", "at", "name", "person", "address", "outcome", "refused_count", "updated_at"]
        read_only_fields: ClassVar = fields
