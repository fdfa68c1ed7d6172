"""The worker's application, and what all tasks have in common."""

from __future__ import annotations

import os
from typing import ParamSpec, TypeVar

from celery import Celery
from celery.contrib.django.task import DjangoTask
from django.db import InterfaceError, OperationalError, transaction

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")


Given = ParamSpec("Given")
Back = TypeVar("Back")


class RowFirst(DjangoTask[Given, Back]):
    """A task whose row in the database is the truth and the queue only a hint.

    When the broker is down, `delay_on_commit` logs that and the request goes on: the row is saved, and the
    periodic task sends again what has waited too long. A task whose database is away, or in use for longer than it
    waits, is done again later, as one that could not write a file: doing it twice does it once.
    """

    abstract = True
    autoretry_for = (OSError, OperationalError, InterfaceError)
    retry_backoff = True
    max_retries = 5

    def delay_on_commit(  # type: ignore[override]  # Celery's returns nothing, whatever its stub says
        self, *args: Given.args, **kwargs: Given.kwargs
    ) -> None:
        def send() -> None:  # a partial has no name, by which Django reports a robust callback that failed
            self.delay(*args, **kwargs)

        transaction.on_commit(send, robust=True)


app = Celery("weatherlap", task_cls=RowFirst)
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
