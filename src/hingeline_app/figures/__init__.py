"""The signature pictures: numbers in, SVG text out.

A picture here knows nothing of files, pages or PDF. Elements carry classes; every colour and
line weight is a token of one of three lights (``tokens.toml``), put in by the page's style
sheet or by :func:`embedded`, and for paper by :func:`on_paper`.

Files, by picture
-----------------
svg, writing, lettering       the writer of SVG; labels on paper; how much room words take, and lines of them
style, glyphs, words_in_hatch tokens and rules; the signs of a status; words in a hatched ground
wording, window               numbers as they are written for people
beam*                         a weighing from the side, to scale: model, frame, marks, legend
limit_bar                     a moment against its limits: axis, parts, detail; in plain text, in little
limit_change, limit_rows      the same of two and of many; correction_bars: from a document; moment_over_years
places, dimensions            what a correction adds and takes; three_places: one weight at each of three
arm*, weight_arm, root_section   the arm of a balance weight, its cracks, its root
onset_curve, onset_map        where a motion starts to grow, over one number and over two: model, name
speed_curves, curve_parts     damping and frequency over speed, computed; series_points: recorded
damping_over_mass             computed and recorded over one mass
evidence_strip, spectrum, waves  a recording as evidence, its spectrum, what it shows as a wave
section_in_motion, replayed   a computed motion, and a filmed one, slowed
followed_marks, marked_photograph  marks over a film's picture, places over a photograph
aeroplane_plan, due_signs     an aeroplane to tap on; a check ahead
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
