"""What is no video that can be used is refused in a sentence that mends it; nothing crashes."""

from __future__ import annotations

import struct
import wave
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import av
import numpy as np
import pytest

from hingeline.errors import InputRefused
from hingeline_app.recordings.follow import follow
from hingeline_app.recordings.limits import Limits
from tests.hingeline_app.recordings.marked import marks_of
from tests.hingeline_app.recordings.rendered import Scene, picture, rendered, wall_of, written

SMALL = Scene(width=320, height=184, rate=60.0, seconds=1.0, dot=0.016)
MARKS = marks_of(SMALL)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a small video that can be followed."""
    return rendered(tmp_path_factory.mktemp("refused") / "whole.mp4", SMALL)


def refused(path: Path, **given: object) -> str:
    """Give the sentence with which a file is refused: it names field, value, what was expected, and a remedy."""
    with pytest.raises(InputRefused) as fault:
        follow(path, given.pop("marks", MARKS), **given)  # type: ignore[arg-type]
    (refusal,) = fault.value.refusals
    assert refusal.field == "FILE"
    assert path.name in refusal.value
    assert refusal.remedy.endswith(".")
    assert "Traceback" not in str(refusal)
    return str(refusal)


def put(path: Path, data: bytes) -> Path:
    """Write a file."""
    path.write_bytes(data)
    return path


HEAD = b"\0\0\0\x18ftypmp42\0\0\0\0mp42isom"
CONTENTS = {
    "empty": (b"", "0 bytes"),
    "a text": (b"time_s,pitch_deg\n0,1\n" * 99, "another kind"),
    "a playlist that names another file": (b"#EXTM3U\n#EXTINF:1,\nother.mp4\n" * 9, "another kind"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + bytes(99), "another kind"),
    "a sound": (b"RIFF\x24\0\0\0WAVEfmt " + bytes(99), "another kind"),
    "a head and nothing": (HEAD, "0 indexes"),
    "a part that never ends": (
        b"\0\0\0\x18ftypmp42\0\0\0\0mp42isom" + b"\xff\xff\xff\xffmdat" + bytes(99),
        "reaches over",
    ),
    "a part of no size": (HEAD + b"\0\0\0\x01moov" + bytes(99), "damaged"),
    "half a Matroska head": (b"\x1a\x45\xdf\xa3\x9f", "reaches over"),
    "an AVI head": (b"RIFF\xff\xff\0\0AVI LIST", "reaches over"),
}


@pytest.mark.parametrize("name", CONTENTS)
def test_what_is_no_video_is_refused_by_its_content(name: str, tmp_path: Path) -> None:
    """Content decides, not the name."""
    data, words = CONTENTS[name]
    assert words in refused(put(tmp_path / "video.mp4", data))


def test_a_missing_file_and_a_folder_are_refused(tmp_path: Path) -> None:
    """So are a name without a file, and a folder."""
    assert "can be read" in refused(tmp_path / "none.mp4")
    assert "can be read" in refused(tmp_path)


@pytest.mark.parametrize("suffix", [".mp4", ".mkv"])
def test_sound_alone_is_refused(suffix: str, tmp_path: Path) -> None:
    """A file with sound and without pictures says so."""
    path = tmp_path / f"sound{suffix}"
    with av.open(str(path), "w") as out:
        stream = out.add_stream("aac", rate=48_000, layout="mono")
        for index in range(20):
            frame = av.AudioFrame.from_ndarray(np.zeros((1, 1024), np.float32), format="fltp", layout="mono")
            frame.sample_rate, frame.pts, frame.time_base = 48_000, 1024 * index, Fraction(1, 48_000)
            out.mux(stream.encode(frame))
        out.mux(stream.encode(None))
    assert "sound without a picture" in refused(path)


def test_a_codec_that_is_not_read_is_named(tmp_path: Path) -> None:
    """An odd codec is refused by name, before its decoder sees a byte of the pictures."""
    path = rendered(tmp_path / "odd.avi", replace(SMALL, codec="huffyuv", pixels="yuv422p"))
    assert "codec huffyuv" in refused(path)


@pytest.mark.parametrize("frames", [1, 7])
def test_too_few_pictures_are_refused(frames: int, tmp_path: Path) -> None:
    """A picture is no video."""
    scene = replace(SMALL, seconds=frames / 60.0)
    assert f"{frames} frames" in refused(rendered(tmp_path / "short.mp4", scene))


def test_a_video_without_any_picture_is_refused(tmp_path: Path, whole: Path) -> None:
    """A track that is announced and holds nothing is refused."""
    data = whole.read_bytes()
    for table in (b"stts", b"ctts", b"stsz", b"stsc", b"stco", b"stss"):
        at = data.find(table)
        if at > 0:
            place = at + (12 if table == b"stsz" else 8)
            data = data[:place] + bytes(4) + data[place + 4 :]
    assert "is refused" in refused(put(tmp_path / "none.mp4", data))


@pytest.mark.slow
def test_a_picture_too_large_is_refused_before_it_is_decoded(tmp_path: Path) -> None:
    """20,000 by 20,000 pixels are refused whoever announces them: the index here, the stream below."""
    data = bytearray(rendered(tmp_path / "video.mp4", replace(SMALL, codec="mpeg4")).read_bytes())
    at = data.index(b"mp4v", data.index(b"stsd")) + 4 + 24
    data[at : at + 4] = struct.pack(">HH", 20_000, 20_000)
    assert "is refused" in refused(put(tmp_path / "large.mp4", bytes(data)))
    tight = Limits(most_pixels=320 * 180)
    assert "320 by 184" in refused(rendered(tmp_path / "small.mp4", SMALL), limits=tight)


def test_too_long_is_refused(whole: Path) -> None:
    """More pictures or seconds than the limit are refused before they are decoded."""
    assert "1 s, 60 frames" in refused(whole, limits=Limits(most_frames=50))
    assert "at most 0 s" in refused(whole, limits=Limits(longest=0.4))
    assert "at most 99 bytes" in refused(whole, limits=Limits(largest_file=99))


def test_a_mark_that_is_not_there_is_named(whole: Path) -> None:
    """Every mark that is not where it was pointed at is named, in one sentence."""
    marks = replace(MARKS, marks=tuple(replace(mark, at=(20.0 + 5.0 * i, 90.0)) for i, mark in enumerate(MARKS.marks)))
    sentence = refused(whole, marks=marks)
    assert "forward: no round dot" in sentence
    assert "wall low: no round dot" in sentence


def test_a_marker_that_is_not_there_is_named(whole: Path) -> None:
    """A printed marker that the first picture does not show is named by its number."""
    marks = marks_of(replace(SMALL, kind="marker"))
    assert "no marker of number 0" in refused(whole, marks=marks)


def test_pictures_of_two_sizes_are_refused(tmp_path: Path) -> None:
    """A file that changes the size of its pictures is no recording of a camera."""
    parts = []
    for name, scene in (("a", SMALL), ("b", replace(SMALL, width=640, height=360))):
        path = rendered(tmp_path / f"{name}.avi", replace(scene, codec="mjpeg", pixels="yuvj420p"))
        parts.append(path)
    with av.open(str(parts[0])) as one, av.open(str(parts[1])) as two:
        path = tmp_path / "both.avi"
        with av.open(str(path), "w") as out:
            stream = out.add_stream_from_template(one.streams.video[0])
            index = 0
            for source in (one, two):
                for packet in source.demux(source.streams.video[0]):
                    if packet.size:
                        packet.pts = packet.dts = index
                        packet.stream, index = stream, index + 1
                        out.mux(packet)
    assert "640 by 360 among others of 320 by 184" in refused(path)


def test_another_file_is_never_read(tmp_path: Path, whole: Path) -> None:
    """A file that lies beside it is not opened, whatever the video names."""
    script = b"ffconcat version 1.0\nfile '" + str(whole).encode() + b"'\n"
    assert "another kind" in refused(put(tmp_path / "script.mp4", script * 3))


def test_a_video_from_which_the_dots_go_is_followed_with_gaps(tmp_path: Path) -> None:
    """A mark that leaves for good has no place afterwards."""
    rng, wall = np.random.default_rng(1), wall_of(SMALL)
    drawn = [picture(SMALL, time, rng, wall) for time in SMALL.true_times]
    for grey in drawn[30:]:
        grey[:] = 180
    path = written(tmp_path / "gone.mp4", drawn, SMALL.file_times, SMALL)
    found = follow(path, MARKS)
    assert all(value is None for track in found.tracks for value in track.x[30:])
    assert all(value is not None for track in found.tracks for value in track.x[:30])


def test_a_wav_is_a_sound(tmp_path: Path) -> None:
    """A sound under a video's name is refused by its content."""
    with wave.open(str(tmp_path / "sound.avi"), "wb") as out:
        out.setparams((1, 2, 8000, 8, "NONE", ""))
        out.writeframes(bytes(16))
    assert "another kind" in refused(tmp_path / "sound.avi")
