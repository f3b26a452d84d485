"""Who may come to which page. A page that does not say is open to nobody."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from typing import Any, TypeVar

from django.http import HttpResponseBase

Page = TypeVar("Page", bound=Callable[..., HttpResponseBase])


class Who(StrEnum):
    """For whom a page is."""

    ANYBODY = "anybody"
    NOBODY_YET = "somebody who sets the workshop up"
    SIGNED_IN = "a person of the workshop"
    LOCKED_TOO = "a person of the workshop, also behind a locked page"
    ADMINISTRATOR = "an administrator"


MARK = "who_may_come"


def open_to(who: Who) -> Callable[[Page], Page]:
    """Say for whom a page is."""

    def marked(page: Page) -> Page:
        setattr(page, MARK, who)
        return page

    return marked


def who_may_come(page: Callable[..., Any]) -> Who | None:
    """Read for whom a page is; None where it does not say."""
    found = getattr(page, MARK, None)
    return found if isinstance(found, Who) else None
