"""The signature pictures: numbers in, SVG text out.

A picture here knows nothing of files, pages or PDF. Elements carry classes; every colour and
line weight is a token of one of three lights (``tokens.toml``), put in by the page's style
sheet or by :func:`embedded`, and for paper by :func:`on_paper`.
"""

from hingeline_app.figures.beam import (
    BeamPicture,
    HungMass,
    LoosePart,
    SupportMark,
    WeightMark,
    draw_beam,
)
from hingeline_app.figures.glyphs import draw_glyph
from hingeline_app.figures.limit_bar import LimitBar, draw_limit_bar
from hingeline_app.figures.limit_text import limit_bar_text
from hingeline_app.figures.style import embedded, on_paper, stylesheet

__all__ = [
    "BeamPicture",
    "HungMass",
    "LimitBar",
    "LoosePart",
    "SupportMark",
    "WeightMark",
    "draw_beam",
    "draw_glyph",
    "draw_limit_bar",
    "embedded",
    "limit_bar_text",
    "on_paper",
    "stylesheet",
]
