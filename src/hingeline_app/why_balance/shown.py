"""Everything a page shows of a state, together, so that page, fragment and print say the same."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import parse_qsl

from hingeline.flutter import FlutterTask
from hingeline_app.why_balance.answers import Motion, Point, curve_of, motion_of, point_of
from hingeline_app.why_balance.compiled_way import is_ready
from hingeline_app.why_balance.pictures import onset_picture, section_picture
from hingeline_app.why_balance.presets import number_of
from hingeline_app.why_balance.sentences import (
    change_sentence,
    headline,
    moment_sentence,
    motion_sentence,
    range_sentence,
    slack_sentence,
    why_sentence,
)
from hingeline_app.why_balance.state import State, read_state, start_of

WIDE, NARROW, SECTION, LOW = 650.0, 348.0, 372.0, 268.0
# Until the compiled loops are made a wing's band would take seconds: there it stands at the point alone.
SLOW_SURFACES = frozenset({"aileron"})


@dataclass(frozen=True, slots=True)
class Shown:
    """What is shown of a state."""

    state: State
    point: Point
    motion: Motion | None
    curve: tuple[Point, ...]
    has_band: bool
    headline: str
    sentences: tuple[str, ...]
    wide: str
    narrow: str
    section: str
    section_narrow: str

    @property
    def is_growth(self) -> bool:
        """Whether there is an onset, or growth at every speed."""
        return self.point.speed is not None or self.point.from_the_start


def show(state: State, *, band: bool) -> Shown:
    """Give what is shown; the band takes longer and may come after."""
    curve = curve_kept(state, band=band and (is_ready() or state.surface.name not in SLOW_SURFACES))
    point = point_of(state, band=band)
    motion = motion_of(state)
    before = _start_onset(state)
    said = [
        range_sentence(state, point), moment_sentence(state), motion_sentence(state, motion),
        why_sentence(state, motion), slack_sentence(state), change_sentence(state, point, before),
    ]  # fmt: skip
    return Shown(
        state, point, motion, curve, band, headline(state, point), tuple(each for each in said if each),
        onset_picture(state, curve, point, WIDE, number_of(state), LOW),
        onset_picture(state, curve, point, NARROW, number_of(state)),
        section_picture(state, motion, SECTION), section_picture(state, motion, NARROW),
    )  # fmt: skip


def curve_kept(state: State, *, band: bool) -> tuple[Point, ...]:
    """Give the curve, kept for states that differ only in where they stand on it, or in speed and slack."""
    knob = state.surface.knob(state.axis)
    start = start_of(state.surface)
    unmoved = {name: start.shown[name] for name in ("speed", "play") if name in start.shown}
    least = state.moved(**{state.axis: knob.low}, **unmoved)
    return _curve(least.query, _model(least), band)


def _start_onset(state: State) -> Point:
    """Give the onset where the state's surface starts: every answer compares itself with it."""
    start = start_of(state.surface)
    return _onset(start.query, _model(start))


# A surface's name stays when it is weighed again: its model, which does not, is part of what is looked up.
@lru_cache(maxsize=64)
def _onset(query: str, _of: FlutterTask) -> Point:
    return point_of(read_state(dict(parse_qsl(query))))


def _model(state: State) -> FlutterTask:
    return state.surface.model(state.settings)


@lru_cache(maxsize=256)
def _curve(query: str, _of: FlutterTask, band: bool) -> tuple[Point, ...]:
    return tuple(curve_of(read_state(dict(parse_qsl(query))), band=band))
