"""The wiring: settings, routes, errors, the worker and the embedded servers."""

from config.celery import app as celery_app

__all__ = ["celery_app"]
