"""The revised lifting equation of DHHS/NIOSH 94-110 (1994, rev. 9/2021), and what it says of setting a unit."""

from openings.calc.lifting_equation.assess import Assessment, assess
from openings.calc.lifting_equation.composite import Composite, Part, composite_index, part_of
from openings.calc.lifting_equation.duration import (
    Duration,
    Session,
    counted_h,
    duration_category,
    frequency_of,
)
from openings.calc.lifting_equation.edge import edge_limit_lb
from openings.calc.lifting_equation.ends import End, Multiplier
from openings.calc.lifting_equation.setting import horizontal_from_width_in, setting_lift, setting_limit_lb
from openings.calc.lifting_equation.task import Condition, Coupling, Hands, LiftTask, Mode

__all__ = [
    "Assessment",
    "Composite",
    "Condition",
    "Coupling",
    "Duration",
    "End",
    "Hands",
    "LiftTask",
    "Mode",
    "Multiplier",
    "Part",
    "Session",
    "assess",
    "composite_index",
    "counted_h",
    "duration_category",
    "edge_limit_lb",
    "frequency_of",
    "horizontal_from_width_in",
    "part_of",
    "setting_lift",
    "setting_limit_lb",
]
