"""A browser for tests that reads pages as one line: how a template is wrapped and indented shows nothing on a page."""

from __future__ import annotations

import re
from typing import Any

from django.test import Client

BETWEEN_PIECES = re.compile(r"(?<=>)\n\s*|\n\s*(?=<)")
INSIDE = re.compile(r"\n\s*")


class OneLineClient(Client):
    """A client whose pages are given without the breaks of their templates; files are given as they are."""

    def request(self, **request: Any) -> Any:
        """Answer as ever."""
        answer = super().request(**request)
        if answer.get("Content-Type", "").startswith("text/html") and not answer.streaming:
            answer.content = in_one_line(answer.content.decode()).encode()
        return answer


def in_one_line(page: str) -> str:
    """Give a page without the breaks that stand between its pieces; inside of one a break is a space."""
    pieces = re.split(r"(<(?:pre|textarea|script)\b.*?</(?:pre|textarea|script)>)", page, flags=re.DOTALL)
    return "".join(
        piece if number % 2 else INSIDE.sub(" ", BETWEEN_PIECES.sub("", piece)) for number, piece in enumerate(pieces)
    )
