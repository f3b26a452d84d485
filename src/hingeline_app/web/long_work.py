"""How the pages have long work done: as the settings say."""

from __future__ import annotations

from django.conf import settings

from hingeline_app.longwork.ways import Way, way_of


def our_way() -> Way:
    """Give the way of this server."""
    return way_of(settings.LONG_WORK)
