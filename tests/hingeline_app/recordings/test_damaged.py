"""Damaged videos: refused, or flagged with what is missing; never a clean result with fewer pictures."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from hingeline.errors import InputRefused
from hingeline.motion.marks import Marks
from hingeline_app.recordings.follow import follow
from tests.hingeline_app.recordings.marked import marks_of
from tests.hingeline_app.recordings.rendered import Scene, rendered

SMALL = Scene(width=320, height=184, rate=60.0, seconds=1.0, dot=0.016, options={"g": "20"})
FILMED = {
    ".mp4": SMALL,
    ".mkv": SMALL,
    ".avi": replace(SMALL, codec="mjpeg", pixels="yuvj420p", options={}),
}
KINDS = ("truncated", "changed", "size field", "cut")


def damaged(data: bytes, kind: str, rng: np.random.Generator) -> bytes:
    """Damage a file in one of four ways."""
    at = int(rng.integers(16, len(data)))
    if kind == "truncated":
        return data[:at]
    if kind == "cut":
        return data[:at] + data[at + int(rng.integers(1, max(2, len(data) // 8))) :]
    bent = bytearray(data)
    if kind == "changed":
        for place in rng.integers(16, len(data), int(rng.integers(1, 40))):
            bent[place] = rng.integers(0, 256)
        return bytes(bent)
    at = int(rng.choice(size_fields(data)))
    bent[at : at + 4] = int(rng.choice([0, 1, 7, 255, 65_535, 1 << 31, (1 << 32) - 1])).to_bytes(4, "big")
    return bytes(bent)


def size_fields(data: bytes) -> list[int]:
    """Find where sizes and counts stand, roughly: before and after the names of parts, and in the first bytes."""
    names = (b"moov", b"trak", b"stbl", b"stsz", b"stts", b"stsc", b"stco", b"ctts", b"mdhd", b"elst", b"mdat", b"LIST")
    names += (b"idx1", b"strh", b"00dc", b"\x1f\x43\xb6\x75", b"\x18\x53\x80\x67", b"\xa3")
    found = [4]
    for name in names:
        at = data.find(name)
        while at > 4 and len(found) < 400:
            found += [at - 4, at + 4, at + 8, at + 12]
            at = data.find(name, at + 4)
    return [at for at in found if at + 4 < len(data)]


def outcome(path: Path, marks: Marks, pictures: int) -> str:
    """Say what became of a damaged file; a clean result with fewer pictures is the one that may not be."""
    try:
        found = follow(path, marks)
    except InputRefused:
        return "refused"
    if found.doubts or found.missing or not found.finished:
        return "flagged"
    if len(found.ticks) != pictures:
        return "CLEAN WITH FEWER"
    times = (np.array(found.ticks) - found.ticks[0]) * found.tick[0] / found.tick[1]
    return "whole" if np.allclose(times, np.arange(pictures) / 60.0, atol=0.002) else "OTHER TIMES"


def hold(folder: Path, suffix: str, kind: str, number: int, seed: int) -> None:
    """Damage a video so many times, and look at what becomes of it."""
    scene = FILMED[suffix]
    data = rendered(folder / f"whole{suffix}", scene).read_bytes()
    marks, rng = marks_of(scene), np.random.default_rng(seed)
    path = folder / f"damaged{suffix}"
    path.write_bytes(data)
    assert outcome(path, marks, 60) == "whole"
    seen: dict[str, int] = {}
    for _ in range(number):
        path.write_bytes(damaged(data, kind, rng))
        what = outcome(path, marks, 60)
        seen[what] = seen.get(what, 0) + 1
        if what.isupper():
            (folder / f"kept{suffix}").write_bytes(path.read_bytes())
            pytest.fail(f"{kind} {suffix}: {seen}; kept in {folder}")
    print(kind, suffix, seen)
    # Some bytes mean nothing to anybody, and AVI's own index is not needed; an end that is missing always is.
    least = number if kind == "truncated" else 0
    assert seen.get("refused", 0) + seen.get("flagged", 0) >= least


@pytest.mark.fault("F22")
@pytest.mark.slow
@pytest.mark.parametrize("suffix", FILMED)
@pytest.mark.parametrize("kind", KINDS)
def test_a_hundred_damaged_videos(kind: str, suffix: str, tmp_path: Path) -> None:
    """Nine of each kind and container, 108 in all; each is followed by a process of its own."""
    hold(tmp_path, suffix, kind, 9, seed=12)


@pytest.mark.fault("F22")
@pytest.mark.campaign
@pytest.mark.parametrize("suffix", FILMED)
@pytest.mark.parametrize("kind", KINDS)
def test_thousands_of_damaged_videos(kind: str, suffix: str, tmp_path: Path) -> None:
    """170 of each kind and container, 2,040 in all."""
    hold(tmp_path, suffix, kind, 170, seed=13)
