"""What one person should lift at the edge of the equation's reach, so that nothing beyond it allows more.

A figure that lies beyond the reach counts as the last one within it. So the answer is the RWL within the reach, stays
what the edge gave beyond it, and never rises as a lift gets harder. It is a bound for whoever decides there, no RWL.
"""

from __future__ import annotations

from decimal import Decimal

from openings.calc.lifting_equation import multipliers
from openings.calc.lifting_equation.duration import LONG, column_for
from openings.calc.lifting_equation.multipliers import ASYMMETRY_MOST_DEG, IN_LB
from openings.calc.lifting_equation.task import Hands, LiftTask


def edge_limit_lb(task: LiftTask) -> Decimal:
    """Return the load limit for one person, unrounded, the lower of both ends where both count; > 0.

    Stated conditions have no figure, so they leave it as it is.

    Source:
        DHHS/NIOSH 94-110 (rev. 9/2021) p. 1-22 within its reach; beyond it our choice, on the safe side.
    """
    travel = multipliers.distance(min(task.distance_in, IN_LB.travel_most))
    pace = _frequency(task)
    ends = (task.origin,) if task.destination is None else (task.origin, task.destination)
    return min(_end_lb(hands, travel, pace) for hands in ends)


def _end_lb(hands: Hands, travel: Decimal, pace: Decimal) -> Decimal:
    """Return the limit at one end, multiplied in the order in which the equation states its factors."""
    height_in = min(max(hands.vertical_in, multipliers.NONE), IN_LB.height_most)
    return (
        IN_LB.load
        * multipliers.horizontal(min(hands.horizontal_in, IN_LB.reach_most))
        * multipliers.vertical(height_in)
        * travel
        * multipliers.asymmetry(min(hands.asymmetry_deg, Decimal(ASYMMETRY_MOST_DEG)))
        * pace
        * multipliers.coupling(hands.coupling, hands.vertical_in)
    )


def _frequency(task: LiftTask) -> Decimal:
    """Return FM; by the columns of 8 h for longer work, and the least that the column has for a faster pace."""
    column = column_for(lifts_per_min=task.lifts_per_min, duration_h=task.duration_h) or LONG
    value = multipliers.frequency(task.lifts_per_min, column, task.origin.vertical_in)
    return value or multipliers.least_frequency(column)
