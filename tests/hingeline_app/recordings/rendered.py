"""Videos drawn by the tests: a section with printed marks that moves as a formula says, seen by a camera with faults.

Nothing here is a real recording: even light, a square view, no blur by focus. A real one is several times worse.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import av
import cv2
import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Motion = Callable[[Array], Array]

WIDE = 0.45
"""How much of the scene the width of the picture holds [m]."""
TICKS = 60_000


def still(times: Array) -> Array:
    """Do not move."""
    return np.zeros_like(times)


def decay(frequency: float, damping: float, amplitude: float) -> Motion:
    """Die out freely from an amplitude: exp(-zeta omega t) cos(omega_d t)."""
    omega = 2.0 * np.pi * frequency

    def motion(times: Array) -> Array:
        return np.asarray(
            amplitude * np.exp(-damping * omega * times) * np.cos(omega * np.sqrt(1.0 - damping**2) * times)
        )

    return motion


def tone(frequency: float, amplitude: float) -> Motion:
    """Keep on at one amplitude."""
    return lambda times: np.asarray(amplitude * np.sin(2.0 * np.pi * frequency * times))


PITCHING, PLUNGING = decay(6.4, 0.035, np.radians(4.0)), decay(3.2, 0.041, 0.012)


@dataclass(frozen=True)
class Scene:
    """What moves, and through which camera it is seen; lengths in metres, angles in radians."""

    width: int = 640
    height: int = 360
    rate: float = 120.0
    seconds: float = 3.0
    pitch: Motion = PITCHING  # nose up; the nose is on the left
    plunge: Motion = PLUNGING  # down
    surface: Motion = still
    shake_pixels: float = 0.0
    shake_degrees: float = 0.0
    shutter: float = 0.5
    readout: float = 0.0
    noise: float = 0.0
    crf: int = 18
    kind: str = "dot"
    dot: float = 0.010
    tag: float = 0.022
    codec: str = "libx264"
    pixels: str = "yuv420p"
    stored_rate: float | None = None
    times: tuple[float, ...] | None = None
    seed: int = 1
    metadata: dict[str, str] = field(default_factory=dict)
    rotation: int = 0
    contrast: float = 1.0
    options: dict[str, str] = field(default_factory=dict)

    @property
    def pixels_per_metre(self) -> float:
        """How large a metre is in the picture."""
        return self.width / WIDE

    @property
    def true_times(self) -> Array:
        """When each picture was taken [s]."""
        if self.times is not None:
            return np.array(self.times)
        return np.arange(round(self.rate * self.seconds)) / self.rate

    @property
    def file_times(self) -> Array:
        """What the file says of it [s]."""
        slower = 1.0 if self.stored_rate is None else self.rate / self.stored_rate
        return self.true_times * slower

    @property
    def hinge(self) -> Array:
        """Where the reference point stands when nothing moves [pixel]."""
        return np.array([0.45 * self.width, 0.5 * self.height])

    @property
    def section_marks(self) -> Array:
        """Where the two marks on the section stand when nothing moves [pixel]: forward, aft."""
        return self.hinge + np.array([[-0.06, 0.0], [0.10, 0.0]]) * self.pixels_per_metre

    @property
    def fixed_marks(self) -> Array:
        """Where the two marks on the wall stand when the camera does not move [pixel]."""
        return np.array([[0.12, 0.15], [0.88, 0.85]]) * [self.width, self.height]

    @property
    def surface_marks(self) -> Array:
        """Where the two marks on the control stand when nothing moves [pixel]; it turns about the first."""
        return self.hinge + np.array([[0.12, 0.0], [0.18, 0.0]]) * self.pixels_per_metre

    def shake(self, times: Array) -> tuple[Array, Array]:
        """Where a hand has moved the camera: pixels and radians, most of it between 1 and 8 Hz."""
        rng = np.random.default_rng(self.seed)
        parts = [(rng.uniform(1.0, 8.0), rng.uniform(0.0, 2 * np.pi, 3)) for _ in range(6)]
        waves = sum(np.sin(2 * np.pi * f * times[:, None] + phase) for f, phase in parts) / np.sqrt(3.0)
        moved = np.asarray(waves)[:, :2] * self.shake_pixels
        return moved, np.asarray(waves)[:, 2] * np.radians(self.shake_degrees)

    def seen(self, times: Array) -> tuple[Array, Array]:
        """Give where every mark is seen, (times, marks, 2) [pixel], and how each is turned on the screen [rad]."""
        angle = self.pitch(times)  # nose up with the nose on the left: clockwise on the screen, v down
        down = self.plunge(times) * self.pixels_per_metre
        moving = self.hinge + turned(self.section_marks - self.hinge, angle)
        moving[:, :, 1] += down[:, None]
        ends = self.surface_marks - self.hinge
        pivot = self.hinge + turned(ends[:1], angle)
        control = pivot + turned(ends - ends[0], angle + self.surface(times))
        control[:, :, 1] += down[:, None]
        fixed = np.broadcast_to(self.fixed_marks, (len(times), 2, 2))
        both = np.concatenate([moving, fixed, control], axis=1)
        moved, rolled = self.shake(times)
        middle = np.array([self.width, self.height]) / 2.0
        places = middle + turned(both - middle, rolled) + moved[:, None, :]
        turns = np.stack([angle, angle, still(times), still(times), angle + self.surface(times)], axis=1)
        return places, turns + rolled[:, None]

    def exposed(self, time: float) -> tuple[Array, Array]:
        """Give where the marks are seen around one time: (parts of the exposure, marks, 2), line after line."""
        open_for = self.shutter / self.rate
        parts = time + (np.arange(4) - 1.5) / 4.0 * open_for
        places, turns = self.seen(parts)
        if self.readout:
            for _ in range(3):
                for mark in range(places.shape[1]):
                    late = parts + (places[:, mark, 1] / self.height - 0.5) * self.readout
                    places[:, mark] = self.seen(late)[0][:, mark]
        return places, turns


def turned(points: Array, angle: Array) -> Array:
    """Turn points clockwise as seen on the screen, x right and y down."""
    points = np.broadcast_to(points, (len(angle), *points.shape[-2:]))
    cosine, sine = np.cos(angle)[:, None], np.sin(angle)[:, None]
    x, y = points[..., 0], points[..., 1]
    return np.stack([cosine * x - sine * y, sine * x + cosine * y], axis=-1)


def picture(scene: Scene, time: float, rng: np.random.Generator, wall: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Draw what the camera takes at one time: a grey picture."""
    places, turns = scene.exposed(time)
    grey = wall.astype(np.float32) if scene.noise else wall.copy()
    for mark in range(4 if scene.surface is still else 6):
        centre = places[:, mark].mean(axis=0)
        half = int(0.9 * (scene.tag if scene.kind == "marker" else scene.dot) * scene.pixels_per_metre) + 12
        left, top = int(centre[0]) - half, int(centre[1]) - half
        window = grey[top : top + 2 * half, left : left + 2 * half]
        if window.shape != (2 * half, 2 * half):
            continue
        drawn = np.zeros(window.shape, np.float32)
        for place, turn in zip(places[:, mark], turns[:, min(mark, 4)], strict=True):
            drawn += drawn_mark(scene, mark, place - [left, top], turn, 2 * half) / len(places)
        window[:] = drawn.astype(grey.dtype)
    if scene.noise:
        grey += rng.normal(0.0, scene.noise, grey.shape).astype(np.float32)
    return np.clip(grey, 0, 255).astype(np.uint8)


def drawn_mark(scene: Scene, mark: int, place: Array, turn: float, size: int) -> NDArray[np.float32]:
    """Draw one mark on its light patch."""
    dark, light = 128 - 98 * scene.contrast, 128 + 92 * scene.contrast
    if scene.kind == "marker":
        return drawn_tag(mark, place, turn, size, scene.tag * scene.pixels_per_metre, dark, light)
    y, x = np.mgrid[0:size, 0:size]
    away = np.hypot(x - place[0], y - place[1])
    cover = np.clip(0.5 * scene.dot * scene.pixels_per_metre - away + 0.5, 0.0, 1.0)
    return (light + (dark - light) * cover).astype(np.float32)


@cache
def tag_bits(number: int) -> NDArray[np.uint8]:
    """Give the pattern of a printed marker with a white border, 40 pixels a cell."""
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    inside = cv2.aruco.generateImageMarker(dictionary, number, 240, borderBits=1)
    return np.pad(inside, 40, constant_values=255)


def drawn_tag(
    number: int, place: Array, turn: float, size: int, side: float, dark: float, light: float
) -> NDArray[np.float32]:
    """Draw one printed marker, its black square ``side`` pixels wide; drawn four times as large and averaged."""
    bits = tag_bits(number)
    finer = 4
    scale = side * finer / 240.0
    cosine, sine = scale * np.cos(turn), scale * np.sin(turn)
    middle = (bits.shape[0] - 1) / 2.0
    at = (place + 0.5) * finer - 0.5
    matrix = np.array([[cosine, -sine, 0.0], [sine, cosine, 0.0]])
    matrix[:, 2] = at - matrix[:, :2] @ [middle, middle]
    large = cv2.warpAffine(bits, matrix, (size * finer, size * finer), flags=cv2.INTER_AREA, borderValue=255)
    small = large.reshape(size, finer, size, finer).mean(axis=(1, 3))
    return (dark + (light - dark) * small / 255.0).astype(np.float32)


def wall_of(scene: Scene) -> NDArray[np.uint8]:
    """Draw the light wall with gentle shades."""
    rng = np.random.default_rng(7)
    shades = cv2.resize(rng.normal(0.0, 8.0, (9, 16)).astype(np.float32), (scene.width, scene.height))
    return np.clip(150 + 60 * scene.contrast + shades, 0, 255).astype(np.uint8)


def rendered(path: Path, scene: Scene) -> Path:
    """Draw the scene and write it as a video."""
    rng, wall = np.random.default_rng(scene.seed), wall_of(scene)
    pictures = (picture(scene, time, rng, wall) for time in scene.true_times)
    return written(path, pictures, scene.file_times, scene)


def written(path: Path, pictures: Any, times: Sequence[float] | Array, scene: Scene) -> Path:
    """Write grey pictures with their times as a video."""
    with av.open(
        str(path), "w", options={"movflags": "use_metadata_tags"} if path.suffix in (".mp4", ".mov") else {}
    ) as out:
        for name, value in scene.metadata.items():
            out.metadata[name] = value
        stream = out.add_stream(scene.codec, rate=max(1, round(scene.stored_rate or scene.rate)))
        stream.width, stream.height, stream.pix_fmt = scene.width, scene.height, scene.pixels
        # AVI knows no times, only a rate.
        tick = Fraction(1, round(scene.rate)) if path.suffix == ".avi" else Fraction(1, TICKS)
        stream.time_base = stream.codec_context.time_base = tick
        quick = {"preset": "veryfast", "crf": str(scene.crf)} if scene.codec in ("libx264", "libx265") else {}
        stream.options = quick | scene.options
        if scene.rotation:
            stream.set_display_rotation(scene.rotation)
        for grey, time in zip(pictures, times, strict=True):
            frame = frame_of(grey, scene)
            frame.pts, frame.time_base = round(time / tick), tick
            out.mux(stream.encode(frame))
        out.mux(stream.encode(None))
    return path


def frame_of(grey: NDArray[np.uint8], scene: Scene) -> av.VideoFrame:
    """Turn a grey picture into a frame of the wanted kind."""
    if scene.pixels == "yuv420p":
        flat = np.full((grey.shape[0] * 3 // 2, grey.shape[1]), 128, np.uint8)
        flat[: grey.shape[0]] = grey
        return av.VideoFrame.from_ndarray(flat, format="yuv420p")
    return av.VideoFrame.from_ndarray(grey, format="gray").reformat(format=scene.pixels)


__all__ = ["Scene", "decay", "rendered", "replace", "still", "tone", "turned", "written"]
