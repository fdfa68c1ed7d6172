"""What is typed or chosen about people ⇄ values."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.password_validation import password_validators_help_texts

from jobs.models import Crew, Person


class PersonForm(forms.Form):
    """Who somebody is, and what they may do."""

    first_name = forms.CharField(max_length=150, label="First name")
    last_name = forms.CharField(max_length=150, required=False, label="Last name")
    username = forms.CharField(
        max_length=150,
        validators=[Person.username_validator],
        label="Signs in as",
        help_text="One word, such as the first name: letters, digits and @ . + - _",
        widget=forms.TextInput(attrs={"autocapitalize": "none", "autocomplete": "off", "spellcheck": "false"}),
    )
    email = forms.EmailField(max_length=254, required=False, label="E-mail")
    role = forms.ChoiceField(label="Role")
    crew = forms.ModelChoiceField(
        Crew.objects.all(), required=False, label="Crew", empty_label="none", help_text="For a crew lead."
    )

    def __init__(self, data: Any = None, *, by: Person, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        may_make_owners = by.is_owner or by.is_superuser
        roles = [choice for choice in Person.Role.choices if may_make_owners or choice[0] != Person.Role.OWNER]
        self.fields["role"] = forms.ChoiceField(label="Role", choices=[("", "choose a role"), *roles])


def values_now(person: Person) -> dict[str, Any]:
    """Return what the form of a person shows before anybody types."""
    return {name: getattr(person, name) for name in ("first_name", "last_name", "username", "email", "role", "crew")}


class WelcomeForm(forms.Form):
    """The password that somebody sets for themselves, typed twice."""

    password = forms.CharField(
        label="Password",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text=" ".join(password_validators_help_texts()),
    )
    again = forms.CharField(
        label="The same again", strip=False, widget=forms.PasswordInput(attrs={"autocomplete": "new-password"})
    )

    def clean(self) -> dict[str, Any]:
        values = self.cleaned_data
        if "password" in values and "again" in values and values["password"] != values["again"]:
            raise forms.ValidationError({"again": "the two are not the same; type the password again"})
        return values
