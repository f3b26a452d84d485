"""The pages as Django knows them."""

from django.apps import AppConfig


class WebConfig(AppConfig):
    """The pages."""

    name = "hingeline_app.web"
    label = "web"
    verbose_name = "Pages"
