"""How the documentation's site is built: kept tools, nothing loaded from elsewhere."""

from __future__ import annotations

import logging
import re
from typing import Any

import hingeline

# A bar with an even number of backquotes behind it stands in no literal.
OUTSIDE_LITERALS = re.compile(r"\|(?=(?:[^`]*`[^`]*`)*[^`]*$)")
HEADINGS = ("Files", "Files, by question")

project = "Hingeline"
release = hingeline.__version__
author = "The Hingeline developers"
extensions = ["myst_parser", "sphinx.ext.autodoc", "sphinx.ext.autosummary", "numpydoc"]
source_suffix = {".md": "markdown", ".rst": "restructuredtext"}
exclude_patterns = ["decisions/template.md"]

# A heading is a target, as it is where the pages are read in the repository.
myst_heading_anchors = 3
myst_enable_extensions = ["colon_fence"]

autosummary_generate = True
autodoc_default_options = {"members": True}
autodoc_typehints = "none"
autodoc_member_order = "bysource"
numpydoc_show_class_members = False
numpydoc_validation_checks: set[str] = set()

highlight_language = "none"

html_theme = "alabaster"
html_title = f"Hingeline {release}"
html_show_sourcelink = False
html_show_copyright = False
html_static_path = ["_static"]
html_css_files = ["site.css"]
html_theme_options = {
    "description": f"Weigh a movable surface about its hinge line, and say what is true about its balance. {release}",
    "fixed_sidebar": True,
    "page_width": "1080px",
    "sidebar_width": "230px",
    "show_powered_by": False,
    "font_family": '"Liberation Sans", Arial, sans-serif',
    "head_font_family": '"Liberation Sans", Arial, sans-serif',
    "font_size": "16px",
}
html_sidebars = {"**": ["about.html", "searchfield.html", "navigation.html"]}


def bars_as_they_are(app: object, what: str, name: str, thing: object, options: object, lines: list[str]) -> None:
    """Let |x| in a docstring be the size of x, which the builder's markup takes for something else."""
    lines[:] = [OUTSIDE_LITERALS.sub(r"\\|", line) for line in lines]


def rooms_as_tables(app: object, what: str, name: str, thing: object, options: object, lines: list[str]) -> None:
    """Keep the list of a room's files as it is set, which the builder would run together."""
    for heading in (each for each in HEADINGS if each in lines):
        first = lines.index(heading)
        end = next((at for at in range(first + 2, len(lines)) if not lines[at].strip()), len(lines))
        listed = [f"    {line.replace(chr(92) + '|', '|')}" for line in lines[first + 2 : end]]
        lines[first:end] = [f"**{heading}**", "", "::", "", *listed, ""]


class UnderEachOfItsNames(logging.Filter):
    """Let a record that a room gives out stand under the room's name and under its file's."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Keep every other warning."""
        return "duplicate object description" not in record.getMessage()


def setup(app: Any) -> None:
    """Listen to every docstring that is read."""
    logging.getLogger("sphinx.sphinx.domains.python").addFilter(UnderEachOfItsNames())
    app.connect("autodoc-process-docstring", bars_as_they_are)
    app.connect("autodoc-process-docstring", rooms_as_tables)
