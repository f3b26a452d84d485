"""From a folder to Django set up on it: the one place where the settings are chosen."""

from __future__ import annotations

import os
from collections.abc import Sequence

from hingeline_app.serving.options import ServeOptions
from hingeline_app.settings import places


def set_up_django(options: ServeOptions, hosts: Sequence[str]) -> None:
    """Choose the settings for a folder and set Django up, before anything of it is imported."""
    os.environ[places.DATA] = os.fspath(options.data)
    if options.backups:
        os.environ[places.BACKUPS] = os.fspath(options.backups)
    if hosts:
        os.environ[places.HOSTS] = ",".join(hosts)
    if options.loopback:
        os.environ[places.LOOPBACK] = "1"
    kind = "server" if places.database_address() else "embedded"
    os.environ["DJANGO_SETTINGS_MODULE"] = f"hingeline_app.settings.{kind}"
    import django

    django.setup()
