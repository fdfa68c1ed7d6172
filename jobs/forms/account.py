"""What is typed about one's own account, and about who signed in ⇄ values."""

from __future__ import annotations

from django import forms
from django.contrib.auth.password_validation import password_validators_help_texts

from jobs.calc.sign_in import MOST_TOKEN_DAYS


class _Secret(forms.CharField):
    """A password as it was typed; it is never shown again."""

    def __init__(self, *, label: str, autocomplete: str, help_text: str = "") -> None:
        widget = forms.PasswordInput(attrs={"autocomplete": autocomplete})
        super().__init__(label=label, strip=False, max_length=1000, widget=widget, help_text=help_text)


class PasswordForm(forms.Form):
    """A new password, and the one before."""

    old_password = _Secret(label="Your password now", autocomplete="current-password")
    new_password = _Secret(
        label="New password", autocomplete="new-password", help_text=" ".join(password_validators_help_texts()).strip()
    )


class TokenForm(forms.Form):
    """A token for a program."""

    name = forms.CharField(label="What it is for", max_length=60, help_text="Such as the program that will use it.")
    days = forms.IntegerField(label="Days until it ends", min_value=1, max_value=MOST_TOKEN_DAYS, initial=90)
    password = _Secret(label="Your password", autocomplete="current-password")


class SignOutForm(forms.Form):
    """Whoever signs out everywhere: to type the password is to be sure."""

    password = _Secret(label="Your password", autocomplete="current-password")


class RevokeForm(forms.Form):
    """Which token ends."""

    token = forms.IntegerField(min_value=1)


class UnlockForm(forms.Form):
    """Whose name and address are unlocked."""

    sign_in = forms.IntegerField(min_value=1)
