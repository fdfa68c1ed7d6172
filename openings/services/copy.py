"""Openings like one that is there: a wall of the same window is entered once."""

from __future__ import annotations

from collections.abc import Sequence

from jobs import transaction
from jobs.about import about
from jobs.errors import BadInput, Conflict
from openings.calc.marks import following_marks, marks_from
from openings.models import Opening
from openings.models.opening import MOST_COPIES, SITE_COLUMNS
from openings.services.follow import follow_rules
from openings.services.leak import require_shedding
from openings.services.lock import lock_detail, lock_opening

_KEPT = (
    "job", "schedule_mark", "detail", "position", "ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in",
    "operation", "floor", "weight_lb", "weight_confirmed_by", "frame_material", "lites_in", "design_pressure_psf",
    "access", "storeys_up", *SITE_COLUMNS, "remarks",
)  # fmt: skip
"""What a copy has of its pattern: not what was measured, planned or recorded of that one hole in the wall."""


@transaction.atomic
def copy_opening(
    *, opening_id: int, count: int = 1, first_mark: str = "", floor: str | None = None
) -> Sequence[Opening]:
    """Add openings like one that is there, beside it in the order of its job; they are added by hand.

    A weight that somebody confirmed stays confirmed: unit, size, glass and frame are the same. As many queries
    however many copies.

    Args:
        count: 1 to `MOST_COPIES`.
        first_mark: the mark of the first, from which the others count on; without it they follow the highest of the
            schedule mark.
        floor: where they are; None for the floor of the pattern.

    Raises:
        NotFound: there is no such opening.
        BadInput: that many are not copied at once.
        Conflict: one of the marks is taken.
        DetailLeaks: the detail lets water in, and nobody has accepted that.
        ValidationError: a value or a constraint is not kept.
    """
    if not 1 <= count <= MOST_COPIES:
        raise BadInput.of("count", str(count), f"copy 1 to {MOST_COPIES} at once; more come from a window schedule")
    pattern = lock_opening(opening_id)
    pattern.detail = lock_detail(pattern.detail_id)
    require_shedding(pattern.detail)
    marks = _marks(pattern, count, first_mark.strip())
    kept = {name: getattr(pattern, name) for name in _KEPT} | ({} if floor is None else {"floor": floor})
    copies = [Opening(mark=mark, **kept) for mark in marks]
    copies[-1].full_clean()  # all are alike but for their marks, of which the last is the longest
    added = Opening.objects.bulk_create(copies)
    follow_rules([one.pk for one in added])
    return added


def _marks(pattern: Opening, count: int, first: str) -> list[str]:
    """Return the marks of the copies. One query.

    Raises:
        Conflict: one is taken.
    """
    in_job = dict(Opening.objects.filter(job=pattern.job_id).values_list("mark", "pk"))
    if not first:
        return following_marks(pattern.schedule_mark, taken=in_job, count=count)
    marks = marks_from(first, count=count)
    if taken := [mark for mark in marks if mark in in_job]:
        is_one = len(taken) == 1
        sentence = (
            f"{', '.join(taken)} {'is' if is_one else 'are'} in {pattern.job.code} already; give another first mark"
        )
        raise Conflict(
            sentence, about=[about(one) for one in Opening.objects.filter(pk__in=[in_job[m] for m in taken])]
        )
    return marks
