"""The signature pictures: numbers in, SVG text out.

A picture here knows nothing of files, pages or PDF. Elements carry classes; every colour and
line weight is a token of one of three lights (``tokens.toml``), put in by the page's style
sheet or by :func:`embedded`, and for paper by :func:`on_paper`.

What all pictures share lies here; each kind of picture has a folder
---------------------------------------------------------------------
svg, writing, lettering        the writer of SVG; labels on paper; how much room words take, and lines of them
style, glyphs, words_in_hatch  tokens and rules; the signs of a status; words in a hatched ground
wording, window                numbers as they are written for people
axis, dimensions               what a limit bar is made from, and the axis that curves stand on too; dimension lines
beam                           a weighing from the side, to scale
limits                         a moment against its limits: one, two, many, over the years
correction                     what a correction or a coat adds and takes, and what it does to the moment
arm                            the arm of a balance weight, its cracks, its root
onset                          where a motion starts to grow, over one number and over two
damping                        damping and frequency over speed, over a mass
motion                         a recording as evidence; a computed section and a filmed one, slowed
hangar                         an aeroplane to tap on; the sign of a check ahead
marked_photograph              places over a photograph
"""

from hingeline_app.figures.beam.beam import (
    BeamPicture,
    HungMass,
    LoosePart,
    SupportMark,
    WeightMark,
    draw_beam,
)
from hingeline_app.figures.glyphs import draw_glyph
from hingeline_app.figures.limits.bar import LimitBar, draw_limit_bar
from hingeline_app.figures.limits.text import limit_bar_text
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
