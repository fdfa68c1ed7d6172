from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from jobs.calc.notice import EventKind, How, mailed_at, starting_choice
from jobs.models import Person

DENVER = "America/Denver"


@pytest.mark.parametrize(
    ("how", "told_at", "on", "due"),
    [
        (How.AT_ONCE, datetime(2026, 11, 30, 20, tzinfo=UTC), None, datetime(2026, 11, 30, 20, tzinfo=UTC)),
        # 1:00 PM on Monday in Denver; Wednesday is soon, Thursday is not
        (
            How.AT_ONCE,
            datetime(2026, 11, 30, 20, tzinfo=UTC),
            date(2026, 12, 2),
            datetime(2026, 11, 30, 20, tzinfo=UTC),
        ),
        (How.AT_ONCE, datetime(2026, 11, 30, 20, tzinfo=UTC), date(2026, 12, 3), datetime(2026, 12, 1, 13, tzinfo=UTC)),
        # 5:59 AM and 6:00 AM in Denver, which is 7 hours behind in winter
        (How.DAILY, datetime(2026, 11, 30, 12, 59, tzinfo=UTC), None, datetime(2026, 11, 30, 13, tzinfo=UTC)),
        (How.DAILY, datetime(2026, 11, 30, 13, 0, tzinfo=UTC), None, datetime(2026, 12, 1, 13, tzinfo=UTC)),
        # that night clocks go forward (second Sunday of March: Energy Policy Act of 2005, section 110)
        (How.DAILY, datetime(2027, 3, 14, 8, 0, tzinfo=UTC), None, datetime(2027, 3, 14, 12, tzinfo=UTC)),
    ],
)
def test_mail_is_due_at_once_or_in_the_morning_where_the_shop_is(how, told_at, on, due):
    assert mailed_at(how, told_at=told_at, on=on, time_zone=DENVER) == due


def test_every_role_has_a_starting_choice_and_every_kind_is_told_to_somebody():
    chosen = {kind: {starting_choice(kind, role) for role in Person.Role.values} for kind in EventKind}
    assert all(hows - {How.NEVER} for hows in chosen.values())
