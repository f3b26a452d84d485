"""Only for reading: pages are shown from a copy, and nothing is taken that somebody could think was kept."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseBase

from hingeline_app.web.middleware.when_it_fails import only_for_reading

ONLY_LOOKS = ("GET", "HEAD", "OPTIONS")
AT_THE_DOOR = frozenset({
    "light", "demo", "sign-in", "sign-in-password", "sign-in-pin", "passkey-sign-in", "sign-out", "switch", "lock",
    "lock-now", "prove", "passkey-prove", "ledger-verify",
})  # fmt: skip
"""What comes in and goes out, which is no record of the work; and the look at the copy."""


class OnlyForReading:
    """Refuse what would be kept, where the records are a copy to read from."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Let through; pages come to process_view."""
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, page: Callable[..., Any], _arguments: Any, _named: Any
    ) -> HttpResponseBase | None:
        """Refuse, or let through."""
        if not settings.READ_ONLY or request.method in ONLY_LOOKS or _name(request) in AT_THE_DOOR:
            return None
        return only_for_reading(request)


def _name(request: HttpRequest) -> str:
    return str(request.resolver_match.url_name) if request.resolver_match else ""
