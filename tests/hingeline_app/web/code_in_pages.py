"""What a page would run or be styled by that is no file of ours: looked for in every answer."""

from __future__ import annotations

import re
from typing import Any


def inline_code(text: str) -> list[str]:
    """Give what a page would run or be styled by that is no file of ours."""
    scripts = [tag for tag in re.findall(r"<script[^>]*>", text) if "src=" not in tag]
    return scripts + re.findall(r"<[^>]*\sstyle=|<style|<[^>]*\son[a-z]+=|javascript:", text)


def expect_no_code_of_its_own(answer: Any) -> None:
    """The policy forbids inline code, the page carries none, and a browser takes a file as what it is called."""
    policy = answer.get("Content-Security-Policy", "")
    assert "default-src 'self'" in policy
    assert "unsafe" not in policy
    assert answer["X-Content-Type-Options"] == "nosniff"
    if not answer.streaming and answer.get("Content-Type", "").startswith("text/html"):
        assert inline_code(answer.content.decode()) == []
