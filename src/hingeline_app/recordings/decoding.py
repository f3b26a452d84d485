"""From the bytes of a video to its pictures and the times at which they were taken, strictly.

A damaged video often decodes without a word. So the packets are counted first, and every picture must come
out at the time that its packet announced; a time that stays away is counted as missing.
"""

from __future__ import annotations

import errno
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, BinaryIO

import av
import numpy as np
from av.container import InputContainer
from av.packet import Packet
from av.video.frame import VideoFrame
from av.video.stream import VideoStream
from numpy.typing import NDArray

from hingeline_app.recordings.limits import CODECS, FEWEST_FRAMES, Limits, Unreadable, damaged

Picture = NDArray[np.uint8]
STRICT = {"err_detect": "explode"}
CAPTURE_RATE = "com.android.capture.fps"


@dataclass(slots=True)
class Video:
    """An opened video: its first video track, and when it shows what.

    ``ticks`` are the presentation times of its pictures in units of ``time_base``, sorted.
    """

    container: InputContainer
    stream: VideoStream
    time_base: Fraction
    ticks: list[int]
    width: int
    height: int
    capture_rate: float | None
    doubts: list[str] = field(default_factory=list)
    missing: int = 0


def opened(file: BinaryIO, kind: str, limits: Limits) -> Video:
    """Open a video and look through its packets.

    Raises
    ------
    Unreadable
        It is none that can be used.
    """
    container = _container(file, kind)
    stream = _stream(container)
    _within(stream, limits)
    ticks, doubts = _ticks(container, stream, limits)
    assert stream.time_base is not None
    context = stream.codec_context
    stream.thread_type = "AUTO"
    return Video(
        container, stream, stream.time_base, ticks, context.width, context.height, _capture_rate(container), doubts
    )


def _container(file: BinaryIO, kind: str) -> InputContainer:
    # An edit list hides pictures from a viewer; what was filmed is all of them.
    options = STRICT | {"protocol_whitelist": "file"} | ({"ignore_editlist": "1"} if kind == "mov" else {})
    try:
        container = av.open(file, format=kind, options=options, io_open=_no_other_file, metadata_errors="replace")
    except MemoryError:
        raise
    except Exception as fault:  # the decoder raises more kinds than its own
        raise damaged(f"a file that cannot be opened ({type(fault).__name__})") from fault
    assert isinstance(container, InputContainer)
    return container


def _no_other_file(url: str, flags: int, options: dict[str, str]) -> object:
    raise Unreadable("a video that wants to read another file", "one file that holds everything", "Export it whole.")


def _stream(container: InputContainer) -> VideoStream:
    streams = [s for s in container.streams.video if not int(s.disposition) & int(av.stream.Disposition.attached_pic)]
    if not streams:
        found = "sound without a picture" if container.streams.audio else "a file without a picture"
        raise Unreadable(found, "a video track", "A sound is read as WAV; give the video itself.")
    # a track in a codec that nobody knows has no context
    name = getattr(streams[0].codec_context, "name", "that nobody knows")
    if name.removeprefix("lib").partition("-")[0].replace("dav1d", "av1") not in CODECS:
        raise Unreadable(f"pictures in the codec {name}", f"one of {', '.join(CODECS)}", "Export it as H.264 in MP4.")
    return streams[0]


def _within(stream: VideoStream, limits: Limits) -> None:
    width, height = stream.codec_context.width, stream.codec_context.height
    if not min(width, height) >= 16 or width * height > limits.most_pixels:
        expected = f"pictures of at most {limits.most_pixels} pixels, 16 or more a side"
        raise Unreadable(f"pictures of {width} by {height} pixels", expected, "Record smaller: 1920 by 1080 is enough.")
    stream.codec_context.options = STRICT | {"max_pixels": str(limits.most_pixels)}
    seconds = float((stream.duration or 0) * (stream.time_base or 0))
    if seconds > limits.longest or stream.frames > limits.most_frames:
        raise too_long(f"{seconds:.0f} s, {stream.frames} frames", limits)


def too_long(found: str, limits: Limits) -> Unreadable:
    """Refuse what would take too long."""
    expected = f"at most {limits.longest:.0f} s and {limits.most_frames} frames"
    return Unreadable(found, expected, "Cut the part that shows the motion out of it, without converting it.")


def _ticks(container: InputContainer, stream: VideoStream, limits: Limits) -> tuple[list[int], list[str]]:
    """Gather the presentation time of every packet, without decoding one."""
    found: list[int] = []
    doubts: list[str] = []
    for packet in packets(container, stream):
        time = packet.pts if packet.pts is not None else packet.dts
        if time is None:
            raise damaged("a frame without a time", "a presentation time for each frame")
        found.append(time)
        if packet.is_corrupt:
            raise damaged("a frame that is marked as damaged")
        if len(found) > limits.most_frames:
            raise too_long(f"more than {limits.most_frames} frames", limits)
    if len(found) < FEWEST_FRAMES:
        raise Unreadable(f"{len(found)} frames", f"at least {FEWEST_FRAMES}", "Give a video, not a picture.")
    found.sort()
    if float((found[-1] - found[0]) * (stream.time_base or 0)) > limits.longest:
        raise too_long(f"{float((found[-1] - found[0]) * (stream.time_base or 0)):.0f} s", limits)
    if len(set(found)) != len(found):
        doubts.append("Several frames carry the same time.")
    return found, doubts


def packets(container: InputContainer, stream: VideoStream) -> Iterator[Packet[VideoStream]]:
    """Go through the packets of the track, without the empty one that ends it."""
    try:
        for packet in container.demux(stream):
            if packet.size:
                yield packet
    except (MemoryError, Unreadable, GeneratorExit):
        raise
    except Exception as fault:
        raise damaged(f"a file that breaks off while it is read ({type(fault).__name__})") from fault


def _capture_rate(container: InputContainer) -> float | None:
    """Give how many pictures a second were taken, where the camera wrote it down."""
    try:
        rate = float(container.metadata.get(CAPTURE_RATE, ""))
    except ValueError:
        return None
    return rate if 1.0 <= rate <= 100_000.0 else None


def pictures(video: Video, after: int | None = None) -> Iterator[tuple[int, Picture, VideoFrame]]:
    """Decode the pictures in the order of their times.

    Parameters
    ----------
    video : Video
        Its packets were gone through.
    after : int, optional
        Only pictures later than this time [tick]: a run that goes on.

    Yields
    ------
    (int, array, frame)
        Its time, its light values as a view without copy, and the frame that keeps them alive.

    Raises
    ------
    Unreadable
        Pictures change their size, or more than a few cannot be decoded.
    """
    start = video.ticks[0] if after is None else after
    video.container.seek(start, stream=video.stream, backward=True)
    expected = iter([tick for tick in video.ticks if after is None or tick > after])
    waited = next(expected, None)
    for frame in _frames(video):
        if frame.pts is None or (after is not None and frame.pts <= after):
            continue
        while waited is not None and waited < frame.pts:
            video.missing += 1
            waited = next(expected, None)
        if waited != frame.pts:
            video.missing += 1
            continue
        waited = next(expected, None)
        yield frame.pts, luma(frame, video), frame
    video.missing += (waited is not None) + sum(1 for _ in expected)


def _frames(video: Video) -> Iterator[VideoFrame]:
    """Decode; after a fault, only from the next picture on that stands by itself."""
    whole = True
    for packet in _and_the_end(video):
        try:
            frames = video.stream.codec_context.decode(packet)
        except MemoryError:
            raise
        except Exception as fault:  # the decoder raises more kinds than its own
            if getattr(fault, "errno", None) == errno.ENOMEM:
                raise MemoryError from fault
            whole = False
            continue
        for frame in frames:
            whole = (whole or bool(frame.key_frame)) and not frame.is_corrupt
            if whole:
                yield frame


def _and_the_end(video: Video) -> Iterator[Packet[VideoStream] | None]:
    yield from packets(video.container, video.stream)
    yield None


def luma(frame: VideoFrame, video: Video) -> Picture:
    """View the light values of a frame as eight bits, without a copy where it has eight.

    Raises
    ------
    Unreadable
        The picture has another size than the first.
    """
    if (frame.width, frame.height) != (video.width, video.height):
        found = f"a picture of {frame.width} by {frame.height} among others of {video.width} by {video.height}"
        raise damaged(found, "pictures of one size")
    part = frame.format.components[0]
    if not frame.format.name.startswith(("yuv", "nv12", "gray", "p010")) or frame.format.name.startswith("yuyv"):
        frame = frame.reformat(format="gray")
        part = frame.format.components[0]
    plane: Any = frame.planes[0]
    if part.bits == 8:
        rows = np.frombuffer(plane, np.uint8).reshape(-1, plane.line_size)
        return rows[: frame.height, : frame.width]
    deep = np.frombuffer(plane, np.dtype("<u2")).reshape(-1, plane.line_size // 2)[: frame.height, : frame.width]
    # ten bits in p010 stand high in their sixteen
    return np.asarray(deep >> (8 if frame.format.name.startswith("p010") else part.bits - 8), dtype=np.uint8)
