"""The firm itself."""

from __future__ import annotations

from typing import Unpack

from jobs import transaction
from jobs.models import Company
from jobs.models.values import CompanyValues
from jobs.services.row import add, change


@transaction.atomic
def set_company(**values: Unpack[CompanyValues]) -> Company:
    """Enter the firm, or change what is named of it; jobs and crews that are there keep what they have.

    Raises:
        ValidationError: a value or a constraint is not kept.
    """
    row = Company.objects.select_for_update().first()
    return change(row, **values) if row else add(Company(pk=Company.THE_ONE, **values))
