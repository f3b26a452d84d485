"""What a tablet is set to: language, light, hand, pad, decimal sign, the scale's line. Cookies, nobody's record."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponseBase
from django.utils.translation import gettext_lazy as _

A_YEAR = 365 * 24 * 60 * 60


@dataclass(frozen=True)
class Setting:
    """One setting: its cookie, its question, and the choices; the first one holds until another is chosen."""

    name: str
    asks: Any
    choices: Mapping[str, Any]

    def of(self, request: HttpRequest) -> str:
        """Give what this tablet is set to."""
        chosen = request.COOKIES.get(self.name, "")
        return chosen if chosen in self.choices else next(iter(self.choices))


LIGHT = Setting("light", _("Light"), {
    "": _("as the tablet's system wishes"), "day": _("day"), "night": _("night"),
    "sun": _("sun: black on white, thicker lines")})  # fmt: skip
HAND = Setting("hand", _("Hand that works"), {
    "right": _("right: buttons at the right"), "left": _("left: buttons and entries at the left")})  # fmt: skip
PAD = Setting("pad", _("Typing numbers"), {
    "own": _("the pad of these pages; the tablet's keyboard stays away from the picture"),
    "keyboard": _("the tablet's own keyboard")})  # fmt: skip
KEYS = Setting("keys", _("Keys of a keyboard that do something by themselves"), {
    "on": _("on: press ? to see them"), "off": _("off: they do nothing by themselves")})  # fmt: skip
DECIMAL = Setting("decimal", _("Decimal sign on the pad"), {
    "": _("as the workshop's language writes it"), "point": _("point: 0.840"), "comma": _("comma: 0,840")})  # fmt: skip
# The first is what most scales are set to (common practice, no source).
SPEEDS = ("9600", "1200", "2400", "4800", "19200", "38400", "115200")
BAUD = Setting("baud", _("Speed of the scale's line, bits a second"), {each: each for each in SPEEDS})
# Each language by its own name: who looks for it reads that one.
LANGUAGE = Setting("language", _("Language of these pages"), {
    "": _("the workshop's language"), **dict(settings.LANGUAGES)})  # fmt: skip
CHOICE_OF_LANGUAGES = (LANGUAGE,) if len(settings.LANGUAGES) > 1 else ()
SETTINGS = (*CHOICE_OF_LANGUAGES, LIGHT, HAND, PAD, DECIMAL, KEYS, BAUD)
# Languages that write a comma, of those that the pages may be in.
WITH_A_COMMA = frozenset({"de", "fr", "es", "it", "nl", "pl", "cs", "sv", "nb", "da", "fi", "pt"})


def settings_of(request: HttpRequest) -> dict[str, str]:
    """Give what this tablet is set to, the decimal sign worked out."""
    found = {each.name: each.of(request) for each in SETTINGS}
    language = str(getattr(request, "LANGUAGE_CODE", "en")).partition("-")[0]
    if not found["decimal"]:
        found["decimal"] = "comma" if language in WITH_A_COMMA else "point"
    return found


def remember_settings(request: HttpRequest, response: HttpResponseBase) -> None:
    """Set this tablet to what was chosen; what is none of the choices changes nothing."""
    for each in SETTINGS:
        chosen = request.POST.get(each.name, "no choice")
        if chosen in each.choices:
            response.set_cookie(each.name, chosen, max_age=A_YEAR, samesite="Strict", secure=request.is_secure())
