"""Endpoints of openings, split by noun."""

from openings.api.assignment import Assignments
from openings.api.board import BoardVersions, CrewBoard, RepairsBoard, StrandedBoard
from openings.api.compute import ComputeLabor, ComputeLift, ComputeWaterPath
from openings.api.crew_day import CrewDays
from openings.api.firm import (
    ArchiveJob,
    CloseJob,
    CompanyDays,
    DaysOff,
    ReopenJob,
    RetireCrew,
    ReturnCrew,
)
from openings.api.install import Callbacks, InstallRecords
from openings.api.opening import Details, Holds, JobLabor, Measurements, Openings
from openings.api.rate import LaborRateByName, LaborRates
from openings.api.ready import AllReadyRules, JobReadiness, TradesBefore
from openings.api.schedule import Schedules
from openings.api.schedule_draft import ScheduleDrafts, ScheduleLayouts
from openings.api.schedule_export import CSV, Download, ScheduleText, ScheduleWorkbook, file_answer
from openings.api.unit import Deliveries, Units

__all__ = [
    "CSV",
    "AllReadyRules",
    "ArchiveJob",
    "Assignments",
    "BoardVersions",
    "Callbacks",
    "CloseJob",
    "CompanyDays",
    "ComputeLabor",
    "ComputeLift",
    "ComputeWaterPath",
    "CrewBoard",
    "CrewDays",
    "DaysOff",
    "Deliveries",
    "Details",
    "Download",
    "Holds",
    "InstallRecords",
    "JobLabor",
    "JobReadiness",
    "LaborRateByName",
    "LaborRates",
    "Measurements",
    "Openings",
    "ReopenJob",
    "RepairsBoard",
    "RetireCrew",
    "ReturnCrew",
    "ScheduleDrafts",
    "ScheduleLayouts",
    "ScheduleText",
    "ScheduleWorkbook",
    "Schedules",
    "StrandedBoard",
    "TradesBefore",
    "Units",
    "file_answer",
]
