"""The documentation's site is built from what is here, without a warning, and its pages lead to each other."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from hingeline_app.cli.main import COMMANDS
from tests.doors.checkouts import ROOT

# Half a minute of a core, and nothing that a person's work hangs on.
pytestmark = pytest.mark.campaign


def test_the_site_is_built_without_a_warning_and_every_page_can_be_reached(tmp_path: Path) -> None:
    """Guide, hazards, every command, every room of the library; nothing is loaded from elsewhere; no link is broken."""
    site = tmp_path / "site"
    command = [sys.executable, str(ROOT / "tools" / "build_site.py"), str(site)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout + done.stderr) == (0, "")
    pages = {page.resolve(): page.read_text("utf-8") for page in site.rglob("*.html")}
    commands = pages[site / "reference" / "commands.html"]
    assert [name for name in COMMANDS if f'id="{name}"' not in commands] == []
    assert [name for name in ("ledger-verify", "ledger-export") if f'id="{name}"' not in commands] == []
    assert 'id="hingeline.balance.weigh"' in pages[site / "reference" / "library" / "hingeline.balance.html"]
    for page, text in pages.items():
        assert not re.search(r"""<(?:script|link|img)[^>]+(?:src|href)=["'](?:https?:)?//""", text), page
        for target in re.findall(r'<a [^>]*href="([^"#:?]+)', text):
            assert (page.parent / target).resolve().exists(), f"{page.name}: {target}"
