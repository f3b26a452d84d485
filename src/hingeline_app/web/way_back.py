"""The way back after a door: the page that was asked for, and what was typed into its address for its person only.

What stands behind ``?`` or ``#`` of an address may be what a person typed. On its way through a door it is marked with
whose it is, ``PERSON:/page?what=was-typed``; to anybody else, and where nobody knows whose it is, only the page opens.
A link that came to a browser from elsewhere was typed by nobody there: it is marked so, and whoever signs in opens it.
"""

from __future__ import annotations

import re
from typing import Any

from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme

MARKED = re.compile(r"([0-9a-f-]{36}):(/.*)", re.S)
# From here on an address is no longer the place of a page.
BEHIND_THE_PLACE = re.compile(r"[?#].*", re.S)
# In the place of a person, for what nobody typed here.
FROM_A_LINK = "00000000-0000-0000-0000-000000000000"


def marked(address: str, person: Any) -> str:
    """Mark an address with whose it is; a mere place needs no mark, and of nobody's address only the place stays."""
    if not BEHIND_THE_PLACE.search(address) or MARKED.fullmatch(address):
        return address
    return f"{person.pk}:{address}" if person else BEHIND_THE_PLACE.sub("", address)


def came_by_a_link(request: HttpRequest) -> bool:
    """Whether an address came from elsewhere: a browser sends no cookie of ours along, not even of a form.

    Ours are SameSite=Strict, so a link on another site brings none; and the one of a form stays a year, whoever signs
    out, so that a browser in which somebody typed into our pages has it.
    """
    return not request.COOKIES


def marked_as_a_link(address: str) -> str:
    """Mark an address that nobody typed here; a mere place needs no mark."""
    return f"{FROM_A_LINK}:{address}" if BEHIND_THE_PLACE.search(address) else address


def asked_back(request: HttpRequest) -> str:
    """Give what a page of a door carries on: an address of ours as it came, with its mark."""
    wanted = request.POST.get("next") or request.GET.get("next") or ""
    found = MARKED.fullmatch(wanted)
    return wanted if _is_ours(request, found.group(2) if found else wanted) else reverse("home")


def same_page(request: HttpRequest) -> str:
    """Give the address of the page that a button of the frame stands on, as it is."""
    wanted = asked_back(request)
    return wanted if wanted.startswith("/") else reverse("home")


def way_back(request: HttpRequest, person: Any) -> str:
    """Give where a person goes on: the page, with what stands behind it if this person typed that, or nobody here."""
    wanted = asked_back(request)
    found = MARKED.fullmatch(wanted)
    if found and found.group(1) in (FROM_A_LINK, str(person.pk)):
        return found.group(2)
    return BEHIND_THE_PLACE.sub("", found.group(2) if found else wanted)


def _is_ours(request: HttpRequest, address: str) -> bool:
    ours = url_has_allowed_host_and_scheme(address, {request.get_host()}, require_https=request.is_secure())
    return ours and address.startswith("/")
