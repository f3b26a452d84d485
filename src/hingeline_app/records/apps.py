"""The records as Django knows them."""

from django.apps import AppConfig


class RecordsConfig(AppConfig):
    """The records."""

    name = "hingeline_app.records"
    label = "records"
    verbose_name = "Records"
