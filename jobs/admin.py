"""People, crews and jobs under /admin/, for whoever runs the service."""

from __future__ import annotations

from typing import ClassVar

from django.contrib import admin
from django.contrib.auth.admin import UserAdmin

from jobs.models import Crew, Job, Person


@admin.register(Person)
class PersonAdmin(UserAdmin):
    list_display: ClassVar = ["username", "first_name", "last_name", "role", "crew", "is_active"]
    list_filter: ClassVar = ["role", "crew", "is_active"]
    fieldsets: ClassVar = [*UserAdmin.fieldsets, ("Work", {"fields": ["role", "crew"]})]
    add_fieldsets: ClassVar = [*UserAdmin.add_fieldsets, ("Work", {"fields": ["role", "crew"]})]


admin.site.register([Crew, Job])
