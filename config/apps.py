from django.apps import AppConfig


class WiringConfig(AppConfig):
    name = "config"
    verbose_name = "Wiring"
