"""People, crews and jobs under /admin/, for whoever runs the service."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import admin
from django.contrib.auth.admin import UserAdmin

from jobs.models import Crew, Job, Person

if TYPE_CHECKING:
    PeopleAdmin = UserAdmin[Person]
else:
    PeopleAdmin = UserAdmin  # Django's cannot be subscripted when the program runs


@admin.register(Person)
class PersonAdmin(PeopleAdmin):
    list_display = ["username", "first_name", "last_name", "role", "crew", "is_active"]
    list_filter = ["role", "crew", "is_active"]
    fieldsets = [*(UserAdmin.fieldsets or ()), ("Work", {"fields": ["role", "crew"]})]
    add_fieldsets = [*UserAdmin.add_fieldsets, ("Work", {"fields": ["role", "crew"]})]


admin.site.register([Crew, Job])
