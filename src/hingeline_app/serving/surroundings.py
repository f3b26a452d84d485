"""From a folder to Django set up on it: the one place where the settings are chosen."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from hingeline_app.settings import places


def set_up_django(data: Path, hosts: Sequence[str] = (), *, loopback: bool = False) -> None:
    """Choose the settings for a folder and set Django up, before anything of it is imported."""
    os.environ[places.DATA] = os.fspath(data)
    if hosts:
        os.environ[places.HOSTS] = ",".join(hosts)
    if loopback:
        os.environ[places.LOOPBACK] = "1"
    kind = "server" if places.database_address() else "embedded"
    os.environ["DJANGO_SETTINGS_MODULE"] = f"hingeline_app.settings.{kind}"
    import django

    django.setup()
