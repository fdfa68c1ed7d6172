from django.apps import AppConfig


class OpeningsConfig(AppConfig):
    name = "openings"
    verbose_name = "Openings"
