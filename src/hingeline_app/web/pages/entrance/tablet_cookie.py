"""How an enrolled tablet is known again: a secret in a cookie that only our pages get, as long as browsers allow."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpResponseBase

# Browsers keep a cookie for 400 days at most; each sign-in renews it.
LASTS = 400 * 24 * 60 * 60


def remember_tablet(response: HttpResponseBase, token: str) -> None:
    """Hand the tablet its secret."""
    response.set_cookie(
        settings.TABLET_COOKIE_NAME,
        token,
        max_age=LASTS,
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Strict",
        path="/",
    )
