"""From places in pictures to plunge, pitch and control angle over time, with their uncertainty and doubts."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import chain, combinations

import numpy as np

from hingeline.errors import InputRefused
from hingeline.motion.marks import doubts as grounds
from hingeline.motion.marks.equations import (
    Places,
    Reals,
    left_over,
    noise_of_pair,
    noise_of_place,
    noise_of_rigid,
    noise_of_single,
    noise_of_turn,
    rigid,
)
from hingeline.motion.marks.lines import at_one_time, lateness
from hingeline.motion.marks.model import Body, PixelTracks
from hingeline.motion.marks.results import SectionTracks
from hingeline.motion.marks.steady import Shake, steadied
from hingeline.motion.model import TimeScale, recording_of

FINEST = 0.01
"""No place in a picture is believed closer than this [pixel]."""
MISFIT = 0.05
"""Marks of one body that change their distance by more than this part: one of them is another thing."""
MISFIT_OF_STILL = 0.25
"""The same of marks that do not move: a camera that zooms or breathes changes their distance too."""
FEWEST = 8
MOVING = ("section", "surface")


@dataclass(slots=True)
class _Seen:
    """The places as arrays, brought to one time and freed of shake."""

    times: Reals
    places: Places
    before: Places
    raw: Places
    shake: Shake
    of: dict[str, list[int]] = field(default_factory=dict)


def section_tracks(tracks: PixelTracks, captured_at: float | None = None) -> SectionTracks:
    """Turn the places of marks into the motion of the section.

    Parameters
    ----------
    tracks : PixelTracks
    captured_at : float, optional
        Pictures a second that were really taken, where somebody knows it [1/s]. Left out: as the file says,
        and where it says nothing the scale of time is unknown; it is never assumed.

    Returns
    -------
    SectionTracks

    Raises
    ------
    InputRefused
        Too few pictures, no picture that shows every mark, or no mark on the section.
    """
    times = _times(tracks)
    scale = time_scale(times, tracks.capture_rate, captured_at)
    seen = _seen(tracks, times, _in_file(tracks.marks.readout, scale))
    turns = _turns(tracks, seen)
    metres = _metres_per_pixel(tracks, seen)
    noise = {body: _noise(seen, body) for body in seen.of}
    set_right = _set_right(tracks.marks.readout, scale)
    by_lines = 0.0 if set_right else _by_lines(tracks, times, turns)
    channels = _channels(tracks, seen, turns, metres)
    lost = float(np.mean([np.isnan(track) for track in channels.values()]))
    moving = [mark for mark in tracks.marks.marks if mark.on != "background"]
    every = chain(
        grounds.of_the_file(tracks),
        grounds.of_the_times(np.diff(times)),
        grounds.of_the_scale(scale.true_over_file),
        grounds.of_the_camera(tracks.marks, seen.shake, tracks.width),
        grounds.of_the_marks(tracks, moving, lost),
        grounds.of_the_lines(by_lines, tracks.marks.readout is not None),
        grounds.of_the_rate(times, channels.get("pitch", next(iter(channels.values())))),
    )
    recording = recording_of(
        times, channels, time_scale=scale, row_skew=0.0 if set_right else _row_skew(tracks, seen, times),
        source="video", name=tracks.name,
    )  # fmt: skip
    return SectionTracks(
        recording,
        _turn_uncertainty(seen, noise, "section", by_lines) if "pitch" in channels else None,
        _turn_uncertainty(seen, noise, "surface", by_lines) if "surface" in channels else None,
        None if metres is None else _plunge_uncertainty(tracks, seen, noise) * metres,
        max(noise.values()),
        metres,
        seen.shake.pixels,
        lost,
        tuple(every),
    )


# -------------------------------------------------------------------- times


def _times(tracks: PixelTracks) -> Reals:
    """Give the times of the pictures from the first on [s of the file]."""
    if len(tracks.ticks) < FEWEST:
        raise InputRefused.of("FILE", f"{len(tracks.ticks)} pictures", f"at least {FEWEST}", "Follow more of it.")
    ticks = np.array(tracks.ticks, dtype=np.int64)
    numerator, denominator = tracks.tick
    return np.asarray((ticks - ticks[0]) * (numerator / denominator), dtype=float)


def file_rate(times: Reals) -> float:
    """Give how many pictures a second of the file shows, those left out counted too [1/s].

    Each step is a whole number of frame times; the span divided by their sum. A mean of all steps would
    count what the camera left out as slowness, and times rounded to milliseconds spoil a median.
    """
    steps = np.diff(times)
    frame = float(np.median(steps))
    for _ in range(5):
        frame = float((times[-1] - times[0]) / np.round(steps / frame).sum())
    return 1.0 / frame


def _slower(true_over_file: float) -> float:
    """Take the whole factor of slowness that is near: the stamps of a file are nearer the truth than a nominal rate.

    30 stands for 29.97 too, and a busy camera that leaves pictures out is no slower. Nearer than 2 %, and
    than a quarter of the way to the next whole factor.
    """
    factor = round(1.0 / true_over_file) if true_over_file <= 1.1 else 0
    near = factor > 0 and abs(true_over_file * factor - 1.0) < min(0.02, 0.25 / factor)
    return 1.0 / factor if near else true_over_file


def time_scale(times: Reals, in_file: float | None, given: float | None) -> TimeScale:
    """Say how a second of the file relates to a true one, and who says so.

    Parameters
    ----------
    times : array
        Of the pictures [s of the file].
    in_file, given : float, optional
        Pictures a second that were taken, as the file says and as somebody says [1/s]. Who was there is believed.

    Raises
    ------
    InputRefused
        The given rate is none.
    """
    if given is not None and not 1.0 <= given <= 100_000.0:
        raise InputRefused.of("captured-at", given, "pictures a second, 1 to 100000", "Look at the camera's setting.")
    if given is not None:
        return TimeScale(_slower(file_rate(times) / given), "given")
    if in_file is not None:
        return TimeScale(_slower(file_rate(times) / in_file), "metadata")
    return TimeScale(None, "unknown")


def _in_file(readout: float | None, scale: TimeScale) -> float:
    """Give the readout in seconds of the file; where the scale is unknown it cannot be used."""
    return 0.0 if readout is None or scale.true_over_file is None else readout / scale.true_over_file


def _set_right(readout: float | None, scale: TimeScale) -> bool:
    """Whether what the shutter does is taken out: its readout is known, and how long that is in the file too."""
    return readout == 0.0 or (readout is not None and scale.true_over_file is not None)


# -------------------------------------------------------------------- places


def _seen(tracks: PixelTracks, times: Reals, readout: float) -> _Seen:
    """Bring the places to one time, free them of shake, and leave out what cannot be a mark."""
    raw = np.array([_complex(track.x, track.y) for track in tracks.tracks])
    of = {body: _members(tracks, body) for body in ("section", "surface", "background")}
    of = {body: members for body, members in of.items() if members}
    if "section" not in of:
        raise InputRefused.of("mark", "none on the section", 'a mark with on = "section"', "Mark the section itself.")
    if readout:
        raw = at_one_time(times, raw, lateness(raw, readout, _rows(tracks), tracks.turn))
    whole = np.flatnonzero(~np.isnan(raw).any(axis=0))
    if not len(whole):
        remedy = "Give only marks that stay in view together at least once."
        raise InputRefused.of("mark", "never all at once", "one picture that shows every mark", remedy)
    before = raw[:, whole[0]]
    still = of.get("background", [])
    _leave_out_strangers(raw, before, still, MISFIT_OF_STILL)
    middle = complex(tracks.width, tracks.height) / 2.0
    places, shake = steadied(raw.copy(), before[still], raw[still], middle)
    for body in MOVING:
        _leave_out_strangers(places, before, of.get(body, []), MISFIT)
    return _Seen(times, places, before, raw, shake, of)


def _complex(x: tuple[float | None, ...], y: tuple[float | None, ...]) -> Places:
    across, down = (np.array([np.nan if v is None else v for v in each], dtype=float) for each in (x, y))
    return np.asarray(across + 1j * down)


def _members(tracks: PixelTracks, body: Body | str) -> list[int]:
    return [index for index, mark in enumerate(tracks.marks.marks) if mark.on == body]


def _rows(tracks: PixelTracks) -> float:
    return tracks.height if tracks.turn in (0, 180) else tracks.width


def _leave_out_strangers(places: Places, before: Places, members: list[int], misfit: float) -> None:
    """Leave out pictures in which marks of one body do not keep their distances: one was mistaken."""
    if len(members) < 2:
        return
    size = float(np.abs(before[members] - before[members].mean()).max())
    rest = np.abs(left_over(before[members], places[members])).max(axis=0)
    strange = np.nan_to_num(rest) > misfit * size
    for index in members:
        places[index, strange] = np.nan


def _turns(tracks: PixelTracks, seen: _Seen) -> dict[str, Reals]:
    """Give the turn of each body that moves, clockwise as seen [rad]; only two marks tell it."""
    turns = {}
    for body in MOVING:
        members = seen.of.get(body, [])
        if len(members) >= 2:
            both = (~np.isnan(seen.places[members])).sum(axis=0) >= 2
            a, _ = rigid(seen.before[members], seen.places[members])
            turns[body] = _unwrapped(np.where(both, np.angle(a), np.nan))
    return turns


def _unwrapped(angle: Reals) -> Reals:
    there = ~np.isnan(angle)
    angle = angle.copy()
    angle[there] = np.unwrap(angle[there])
    return angle


def _reference(tracks: PixelTracks, seen: _Seen) -> complex:
    given = tracks.marks.reference
    return complex(given[0], given[1]) if given is not None else complex(seen.before[seen.of["section"]].mean())


def _channels(tracks: PixelTracks, seen: _Seen, turns: dict[str, Reals], metres: float | None) -> dict[str, Reals]:
    """Give what the marks tell: plunge, pitch, angle of the control."""
    sense = 1.0 if tracks.marks.nose == "left" else -1.0
    channels: dict[str, Reals] = {}
    if metres is not None:
        channels["plunge"] = metres * _down(tracks, seen)
    if "section" in turns:
        channels["pitch"] = sense * turns["section"]
    if "surface" in turns:
        channels["surface"] = sense * (turns["surface"] - turns.get("section", np.zeros(1)))
    if not channels:
        remedy = "Give a known length, or a second mark on the section."
        raise InputRefused.of("mark", "one mark and no scale", "marks that tell a plunge or a pitch", remedy)
    return channels


def _down(tracks: PixelTracks, seen: _Seen) -> Reals:
    """Give how far the reference point is below where it was [pixel]."""
    members, point = seen.of["section"], _reference(tracks, seen)
    a, b = rigid(seen.before[members], seen.places[members])
    there = (~np.isnan(seen.places[members])).sum(axis=0) >= min(len(members), 2)
    return np.where(there, (a * point + b - point).imag, np.nan)


def _metres_per_pixel(tracks: PixelTracks, seen: _Seen) -> float | None:
    known = tracks.marks.scale
    if known is None:
        return None
    index = {mark.name: number for number, mark in enumerate(tracks.marks.marks)}
    if len(known.between) == 1:
        return known.length / tracks.tracks[index[known.between[0]]].size
    apart = np.abs(seen.places[index[known.between[0]]] - seen.places[index[known.between[1]]])
    return known.length / float(np.nanmedian(apart))


# -------------------------------------------------------------------- how well


def _noise(seen: _Seen, body: str) -> float:
    """Estimate the noise of the marks of one body [pixel]."""
    members = seen.of[body]
    if len(members) == 1:
        noise = noise_of_single(seen.places[members[0]])
    elif body == "background":
        noise = max(noise_of_pair(seen.raw[one], seen.raw[other]) for one, other in combinations(members, 2))
    else:
        noise = noise_of_rigid(seen.before[members], seen.places[members])
    return max(FINEST, noise) if noise == noise else FINEST


def _turn_uncertainty(seen: _Seen, noise: dict[str, float], body: str, by_lines: float) -> float:
    """Combine the noise of the body's turn, of what it is told against, and of the shutter's largest effect over √3."""
    against = "section" if body == "surface" and len(seen.of["section"]) >= 2 else "background"
    told = [each for each in (body, against) if len(seen.of.get(each, [])) >= 2]
    parts = [noise_of_turn(seen.before[seen.of[each]], noise[each]) for each in told]
    return float(np.sqrt(sum(part**2 for part in parts) + by_lines**2 / 3.0))


def _plunge_uncertainty(tracks: PixelTracks, seen: _Seen, noise: dict[str, float]) -> float:
    """Combine the noise of the reference point as the section and as the still marks carry it [pixel]."""
    point = _reference(tracks, seen)
    bodies = [body for body in ("section", "background") if body in seen.of]
    parts = [noise_of_place(seen.before[seen.of[body]], noise[body], point) for body in bodies]
    return float(np.sqrt(sum(part**2 for part in parts)))


def _by_lines(tracks: PixelTracks, times: Reals, turns: dict[str, Reals]) -> float:
    """Bound what a shutter that is not set right does to an angle [rad, rms]: with the longest readout there can be."""
    if not turns:
        return 0.0
    longest = _turns(tracks, _seen(tracks, times, 1.0 / file_rate(times)))
    away = [longest[body] - turns[body] for body in turns]
    return float(max(np.sqrt(np.nanmean((each - np.nanmean(each)) ** 2)) for each in away))


def _row_skew(tracks: PixelTracks, seen: _Seen, times: Reals) -> float:
    """Give the longest time between the lines of two marks that move [s of the file]."""
    moving = seen.raw[[index for body in MOVING for index in seen.of.get(body, [])]]
    late = lateness(moving, 1.0 / file_rate(times), _rows(tracks), tracks.turn)
    return float(np.nanmax(np.nanmedian(late, axis=1)) - np.nanmin(np.nanmedian(late, axis=1)))
