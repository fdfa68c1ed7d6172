"""How a function becomes a task of the worker."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, ParamSpec, TypeVar, cast

from celery import shared_task

if TYPE_CHECKING:
    from celery.contrib.django.task import DjangoTask

Given = ParamSpec("Given")
Back = TypeVar("Back")


def task(do: Callable[Given, Back]) -> DjangoTask[Given, Back]:
    """Decorate a function that the worker does; it can be sent on commit, as every task of its application."""
    return cast("DjangoTask[Given, Back]", shared_task(do))
