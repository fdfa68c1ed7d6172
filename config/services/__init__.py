"""PostgreSQL and Redis for a machine that has neither, from the programs inside two wheels.

    with running(default_data(), report=print) as urls:
        ...  # urls.database_url and urls.redis_url answer here, and stand in the environment

An address in DATABASE_URL or REDIS_URL takes the place of the embedded server. Nothing here knows Django.
"""

from config.services.claim import Claim, Urls, claimed, published
from config.services.embedded import Report, running, start, urls_for
from config.services.errors import InUse, ServiceError
from config.services.places import CHECKOUT, Places, default_data, places_for, secret
from config.services.processes import Program, Supervisor
from config.services.signals import Stopped, StopSignals

__all__ = [
    "CHECKOUT",
    "Claim",
    "InUse",
    "Places",
    "Program",
    "Report",
    "ServiceError",
    "StopSignals",
    "Stopped",
    "Supervisor",
    "Urls",
    "claimed",
    "default_data",
    "places_for",
    "published",
    "running",
    "secret",
    "start",
    "urls_for",
]
