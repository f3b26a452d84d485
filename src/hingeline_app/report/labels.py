"""A sheet of labels with square codes, for surfaces, scales and stands; each code is an address that says nothing."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from typing import Any, Final

from hingeline.errors import InputRefused
from hingeline.units import STANDARD_GRAVITY
from hingeline_app.figures.wording import format_quantity, shorten
from hingeline_app.report.fonts import as_printed
from hingeline_app.report.said_sheet import said_sheet
from hingeline_app.report.sheet import made_parts, made_words
from hingeline_app.report.square_code import square_code
from hingeline_app.report.typesetting import typeset
from hingeline_app.report.worksheet import ARCHIVAL, PAPERS, Paper, joined
from hingeline_app.said import AsTyped, say

MOST = 240
WIDTH, HEIGHT = 62.0, 26.0  # of a label [mm]
LONGEST_WORD = 14  # that a label holds on one line
# Paper of 80 g/m² with adhesive and a protecting film, together about 200 g/m²: assumed, from memory.
AREAL_MASS: Final = 0.2  # [kg/m²]
MASS: Final = AREAL_MASS * WIDTH * HEIGHT * 1e-6  # [kg]
TITLE = "Labels"
UNDER = (
    "Print at 100 %, on paper that sticks; cut along the dotted lines. A label is a mass where it sticks: stick it on "
    "before the weighing, close to the hinge line, and never on a surface that was weighed without it."
)


@dataclass(frozen=True, slots=True)
class Label:
    """One label.

    Parameters
    ----------
    kind : str
        Surface, scale or stand, as a word.
    name, belongs_to : str
        What it sticks on; the aircraft of a surface.
    code : str
        What the square code holds: an address without meaning.
    short : str
        The first signs of its identifier, to be read aloud.
    depth : float or None
        Hinge line to trailing edge of a surface [m], for the moment that the label makes there at most.
    """

    kind: str
    name: str
    belongs_to: str
    code: str
    short: str
    depth: float | None = None


def make_labels(labels: Sequence[Label], made_at: datetime, version: str, paper: Paper = "a4") -> bytes:
    """Print labels.

    Returns
    -------
    bytes
        A tagged PDF/A-3a.

    Raises
    ------
    InputRefused
        There is none, or more than a few sheets of them.
    """
    if not 0 < len(labels) <= MOST:
        remedy = "Choose what is to be labelled."
        raise InputRefused.of("labels", f"{len(labels)} labels", f"1 to {MOST} labels", remedy)
    return typeset(template(), labels_inputs(labels, made_at, version, paper), ARCHIVAL, "Labels")


def labels_inputs(labels: Sequence[Label], made_at: datetime, version: str, paper: Paper) -> dict[str, str]:
    """Return what the template is given."""
    view = {
        "title": TITLE,
        "under": UNDER,
        "mass_words": mass_words(labels),
        "paper": PAPERS[paper],
        "made": made_parts(made_at),
        "foot": f"Hingeline {version} · made {made_words(made_at)}",
        "width": WIDTH,
        "height": HEIGHT,
        "labels": [_shown(label) for label in labels],
    }
    return {"view": json.dumps(said_sheet(view, template()), ensure_ascii=False)}


def mass_words(labels: Sequence[Label]) -> str:
    """Say what a label weighs, estimated, and the moment that it makes at the trailing edge of the deepest surface."""
    words = (
        f"Estimate: one label weighs {MASS * 1e3:.1f} g, taken as {AREAL_MASS * 1e3:.0f} g/m² and "
        f"{WIDTH:.0f} × {HEIGHT:.0f} mm; weigh one of yours, it may be half or twice that."
    )
    depths = [label.depth for label in labels if label.depth is not None]
    if not depths:
        return words
    deepest = max(depths)
    moment = format_quantity(MASS * STANDARD_GRAVITY * deepest, "N m", digits=2)
    return (
        f"{words} At the trailing edge, {deepest * 1e3:.0f} mm aft of the hinge line, that is {moment} tail-heavy; "
        "at half that arm, half of it."
    )


def _shown(label: Label) -> dict[str, Any]:
    words = {
        "kind": as_printed(say(label.kind), LONGEST_WORD),
        "name": AsTyped(as_printed(shorten(label.name, 60), LONGEST_WORD)),
        "belongs_to": AsTyped(as_printed(shorten(label.belongs_to, 40), LONGEST_WORD)),
        "short": label.short,
    }
    return {**words, "picture": square_code(label.code), "alt": f"{label.kind} {label.short}, square code"}


@cache
def template() -> bytes:
    """Return the template."""
    return joined("frame", "labels")
