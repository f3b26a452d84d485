"""A paper of the demonstration says on every page that it tells of what is invented: no screen is there to say it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Final

from hingeline_app.said import say

INVENTED: Final = "Demonstration: workshop, aircraft and numbers are invented. Nothing here is approved data."
NAME: Final = "invented"
# In the upper margin, over whatever a template puts on its page: no template has to think of it, none can leave it out.
MARK: Final = b"""\
#set page(foreground: place(top + center, dy: 3.6mm, box(stroke: 1pt + black, inset: (x: 2mm, y: 0.9mm), fill: white,
  text(font: ("Barlow", "DejaVu Sans"), size: 8.5pt, weight: 600, stretch: 87.5%, fallback: false,
    sys.inputs.invented))))
"""
_is_invented: ContextVar[bool] = ContextVar("is_invented", default=False)


@contextmanager
def telling_of_what_is_invented(is_invented: bool) -> Iterator[None]:
    """Let each paper that is made say so."""
    before = _is_invented.set(is_invented)
    try:
        yield
    finally:
        _is_invented.reset(before)


def words_on_each_page() -> str:
    """Give what stands on each page, in the reader's language; empty where what is told is a workshop's own."""
    return say(INVENTED) if _is_invented.get() else ""
