"""Marks on a section, seen by a camera: places in pictures in, plunge, pitch and control angle out.

Files
-----
model      what to follow, and where it was seen
results    plunge, pitch and control angle with their uncertainty
equations  least-squares similarity and turn of a set of points; what noise makes of them
lines      a shutter that reads line after line, set right
steady     the camera's own motion taken out by marks that do not move
solve      all of it together: a recording for the motion room, with its uncertainty
doubts     what makes the tracks worth less, in words
judged     the statement, held back where nothing can be told
"""

from __future__ import annotations

from hingeline.motion.marks.doubts import Doubt
from hingeline.motion.marks.judged import judge_section
from hingeline.motion.marks.model import KnownLength, Mark, Marks, PixelTrack, PixelTracks
from hingeline.motion.marks.results import SectionTracks
from hingeline.motion.marks.solve import section_tracks

__all__ = [
    "Doubt",
    "KnownLength",
    "Mark",
    "Marks",
    "PixelTrack",
    "PixelTracks",
    "SectionTracks",
    "judge_section",
    "section_tracks",
]
