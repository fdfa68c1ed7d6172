"""The settings as the type checker loads them; the program never does.

mypy asks Django for its models, which needs settings, and those need what a machine sets. Nothing is connected to.
"""

from __future__ import annotations

import os

for _name, _stand_in in {
    "SECRET_KEY": "only for types",
    "DATABASE_URL": "postgresql:///types",
    "REDIS_URL": "redis://localhost",
}.items():
    os.environ.setdefault(_name, _stand_in)

from config.settings import *  # noqa: E402, F403 (after what it reads)
