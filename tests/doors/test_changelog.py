"""The news of a release are gathered under its heading, cautions first, and nothing of a word is lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from tools import changelog


def test_news_are_gathered_by_kind_under_their_version(tmp_path: Path) -> None:
    """A new version stands before the older ones; a second gathering goes under the same heading."""
    for name, text in (("b.added.md", "- One\n  more.\n- Two.\n"), ("a.caution.md", "Look at\nit again.\n")):
        (tmp_path / name).write_text(text, "utf-8")
    news = changelog.by_kind(sorted(tmp_path.iterdir()))
    assert news == "### Cautions\n\n- Look at it again.\n\n### Added\n\n- One more.\n- Two.\n"
    text = changelog.with_news("# Changelog\n\n## 1.0.0, 2026-11-28\n\nOld.\n", "## 1.1.0, 2027-01-01", news)
    assert text.index("## 1.1.0, 2027-01-01") < text.index("- One more.") < text.index("## 1.0.0, 2026-11-28")
    again = changelog.with_news(text, "## 1.1.0, 2027-01-02", "### Mended\n\n- Three.\n")
    assert again.count("## 1.1.0") == 1
    assert again.index("- Two.") < again.index("- Three.") < again.index("Old.")


def test_every_piece_of_news_is_named_by_its_kind() -> None:
    """What lies in the folder is found by its name, so that none is left out of a release."""
    there = {path.name for path in changelog.NEWS.iterdir()} - {"README.md"}
    assert there == {path.name for path in changelog.fragments()}


@pytest.mark.parametrize("asked", [["--help"], ["1.1.0"], ["2026-11-28", "2026-11-29"]])
def test_what_is_no_day_gathers_nothing(asked: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    """Whoever asks for help had all news gathered under a release of the day "--help"."""
    before = changelog.CHANGELOG.read_bytes(), changelog.fragments()
    assert changelog.main(asked) == 2
    assert "is no day" in capsys.readouterr().err
    assert (changelog.CHANGELOG.read_bytes(), changelog.fragments()) == before
