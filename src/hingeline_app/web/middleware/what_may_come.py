"""What may come: how large, whether the disk has room, and nothing kept by the browser or on the way."""

from __future__ import annotations

from collections.abc import Callable

from django.conf import settings
from django.contrib.auth import SESSION_KEY
from django.core.exceptions import RequestDataTooBig
from django.http import HttpRequest, HttpResponse

from hingeline_app.web.disk_room import disk_room
from hingeline_app.web.middleware.when_it_fails import come_in_first, files_wait, too_large

KEPT_BY_BROWSERS = ("/static/", "/look.css")


class WhatMayCome:
    """Refuse what is too large before it is read; tell browsers to keep no page."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Let through what is not too large."""
        size = _announced_size(request)
        if size > int(settings.LARGEST_REQUEST):
            return too_large(request, RequestDataTooBig())
        if size and not disk_room().has_room_for(size):
            return files_wait(request)
        response = self.get_response(request)
        if not request.path.startswith(KEPT_BY_BROWSERS):
            response["Cache-Control"] = "no-store"
        response["Permissions-Policy"] = "geolocation=(), payment=(), usb=()"
        return response


class FilesFromInside:
    """Take what is larger than a form only from somebody who came in: else anybody in the net could fill the disk."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Refuse it before it is read."""
        if _announced_size(request) > int(settings.DATA_UPLOAD_MAX_MEMORY_SIZE) and SESSION_KEY not in request.session:
            return come_in_first(request)
        return self.get_response(request)


def _announced_size(request: HttpRequest) -> int:
    text = request.META.get("CONTENT_LENGTH") or "0"
    return int(text) if text.isascii() and text.isdigit() else 0
