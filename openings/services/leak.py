"""A detail that lets water in: refused where it is given to an opening, unless somebody accepts that by name."""

from __future__ import annotations

from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.errors import BadInput, Conflict
from jobs.models import Person
from jobs.services import change
from openings.calc.water.said import faults_of, leak_faults, leak_of
from openings.errors import DetailLeaks
from openings.models import InstallationDetail
from openings.services.lock import lock_detail


def require_shedding(detail: InstallationDetail) -> None:
    """Refuse a detail for an opening that is to get it.

    Raises:
        DetailLeaks: it lets water in, and nobody has accepted that; `faults` name what and what would mend it.
    """
    if detail.is_leak_accepted:
        return
    if faults := faults_of(detail.as_facts()):
        said = leak_faults(faults, field="detail", value=detail.name)
        raise DetailLeaks(leak_of(detail.name, faults), faults=said, about=[about(detail)])


@transaction.atomic
def accept_leak(*, detail_id: int, by: Person, why: str) -> InstallationDetail:
    """Take a detail as it is, though it lets water in, in somebody's name and with a reason.

    Raises:
        NotFound: there is no such detail.
        BadInput: no reason is given.
        Conflict: it sheds water, so there is nothing to accept.
    """
    detail = lock_detail(detail_id)
    if not why.strip():
        raise BadInput.of("why", why, "say why this detail is used as it is; the reason stands beside your name")
    if not faults_of(detail.as_facts()):
        raise Conflict(f"{detail} lets no water in; there is nothing to accept", about=[about(detail)])
    return change(detail, leak_accepted_by=by, leak_accepted_at=timezone.now(), leak_accepted_why=why.strip())
