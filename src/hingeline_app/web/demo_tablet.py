"""The invented bench's tablet: its secret is made after the settings were read, so the pages are told."""

from __future__ import annotations

from django.conf import settings


def let_the_pages_know(token: str) -> None:
    """Let a browser of this machine that comes to the demonstration's door be the invented bench's tablet."""
    settings.DEMO_TABLET = token
    settings.IS_INVENTED = True
