"""Data folders for trials of the embedded servers."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from uuid import uuid4

from config import services


@contextmanager
def trial_data() -> Iterator[Path]:
    """Yield a folder inside the checkout; pytest's own temporary folders let no other user in.

    The servers of the folder, and of those that a test makes in it, may keep their data elsewhere; that goes too.
    """
    folder = services.CHECKOUT / ".weatherlap" / f"trial-{uuid4().hex[:8]}"
    try:
        yield folder
    finally:
        for used in (*folder.glob("*/"), folder):
            shutil.rmtree(services.places_for(used, report=lambda _sentence: None).home, ignore_errors=True)
            shutil.rmtree(used, ignore_errors=True)
