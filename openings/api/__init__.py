"""Endpoints of openings, split by noun."""

from openings.api.assignment import Assignments
from openings.api.board import CrewBoard
from openings.api.install import Callbacks, InstallRecords
from openings.api.opening import Details, Holds, JobLabor, Measurements, Openings
from openings.api.schedule import Schedules

__all__ = [
    "Assignments",
    "Callbacks",
    "CrewBoard",
    "Details",
    "Holds",
    "InstallRecords",
    "JobLabor",
    "Measurements",
    "Openings",
    "Schedules",
]
