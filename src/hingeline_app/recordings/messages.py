"""What the separate process may say: each line is checked, for it may have been taken over by what it read."""

from __future__ import annotations

import base64
import json
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from hingeline_app.recordings.limits import KINDS, Unreadable, damaged

LONGEST_LINE = 4 << 20
LONGEST_TEXT = 2_000
Said = Mapping[str, Any]
Places = tuple[tuple[float, float] | None, ...]


@dataclass(frozen=True, slots=True)
class Head:
    """What the video is, and how the marks look in it."""

    container: str
    codec: str
    width: float
    height: float
    turn: int
    time_base: tuple[int, int]
    expected: int
    told: int | None
    first_tick: int
    last_tick: int
    told_seconds: float | None
    capture_rate: float | None
    doubts: tuple[str, ...]
    sizes: tuple[float, ...]
    contrasts: tuple[float, ...]
    noises: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Followed:
    """What was followed since the last message."""

    ticks: tuple[int, ...]
    places: tuple[Places, ...]
    states: str


class Strange(Exception):
    """The process said something that it may not say."""


def said(line: bytes) -> Said:
    """Read one line.

    Raises
    ------
    Strange
        It is no message.
    """
    try:
        message = json.loads(line)
    except (ValueError, RecursionError):
        raise Strange from None
    if not isinstance(message, dict) or not isinstance(message.get("say"), str):
        raise Strange
    return message


def refusal(message: Said) -> Unreadable:
    """Read why the file is refused."""
    return Unreadable(*(_text(message, name) for name in ("found", "expected", "remedy")))


def head(message: Said, marks: int) -> Head:
    """Read what the video is."""
    kind = _text(message, "container")
    base = (_whole(message["time_base"][0], 1), _whole(message["time_base"][1], 1))
    if kind not in KINDS:
        raise Strange
    return Head(
        kind,
        _text(message, "codec"),
        _real(message["width"], 1.0),
        _real(message["height"], 1.0),
        _whole(message["turn"]),
        base,
        _whole(message["expected"], 1),
        None if message["told"] is None else _whole(message["told"]),
        _whole(message["first_tick"], -(1 << 62)),
        _whole(message["last_tick"], -(1 << 62)),
        None if message["told_seconds"] is None else _real(message["told_seconds"]),
        None if message["capture_rate"] is None else _real(message["capture_rate"], 1.0),
        tuple(_word(each) for each in _list(message["doubts"], None)[:20]),
        *(tuple(_real(each) for each in _list(message[name], marks)) for name in ("sizes", "contrasts", "noises")),
    )


def followed(message: Said, marks: int, after: int | None) -> Followed:
    """Read what was followed; its times rise, and every mark has a place or none."""
    ticks = tuple(_whole(each, -(1 << 62)) for each in _list(message["ticks"], None))
    places = tuple(tuple(map(_place, _list(row, marks))) for row in _list(message["places"], len(ticks)))
    rising = (*(() if after is None else (after,)), *ticks)
    if not ticks or any(later <= earlier for earlier, later in pairwise(rising)):
        raise damaged("pictures whose times do not rise", "times that rise from picture to picture")
    return Followed(ticks, places, json.dumps(_list(message["states"], marks)))


def still(message: Said) -> tuple[bytes, float, float, tuple[tuple[int, float, float], ...]]:
    """Read a picture: JPEG, width, height, and the printed markers in it with their places."""
    text = message["jpeg"]
    if not isinstance(text, str):
        raise Strange
    jpeg = base64.b64decode(text, validate=True)
    if jpeg[:3] != b"\xff\xd8\xff":
        raise Strange
    found = tuple(
        (_whole(number), _real(x, -1e6), _real(y, -1e6)) for number, x, y in _list(message["markers"], None)[:50]
    )
    return jpeg, _real(message["width"], 1.0), _real(message["height"], 1.0), found


def _text(message: Said, name: str) -> str:
    return _word(message[name])


def _word(value: Any) -> str:
    if not isinstance(value, str):
        raise Strange
    return "".join(letter if letter.isprintable() else "?" for letter in value[:LONGEST_TEXT])


def _list(value: Any, length: int | None) -> list[Any]:
    if not isinstance(value, list) or (length is not None and len(value) != length):
        raise Strange
    return value


def _place(value: Any) -> tuple[float, float] | None:
    return None if value is None else (_real(_list(value, 2)[0], -1e6), _real(value[1], -1e6))


def _real(value: Any, least: float = 0.0) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not least <= value <= 1e9:
        raise Strange
    return float(value)


def _whole(value: Any, least: int = 0) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= 1 << 62:
        raise Strange
    return value
