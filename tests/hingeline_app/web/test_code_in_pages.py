"""Code or style inside a page would be seen: every address is looked at in its own test."""

from __future__ import annotations

import pytest

from tests.hingeline_app.web.code_in_pages import inline_code


@pytest.mark.parametrize(
    "planted", ["<script>", "<p style='x'>", "<b onclick='x'>", "<a href='javascript:x'>", "<style>"]
)
def test_inline_code_would_be_seen(planted: str) -> None:
    assert inline_code(f"<p>text</p>{planted}") != []
