"""The separate process in which a stranger's video is decoded: confined first, then told what to do.

It is given the file as an open descriptor and the task as JSON on standard input, and says JSON lines. A
decoder that crashes, loops or swallows memory takes this process with it, and nothing else.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Mapping
from typing import Any


def main() -> None:
    """Confine, read the task, work, and leave without tidying up: the decoder's threads may hang."""
    answers = os.dup(1)
    null = os.open(os.devnull, os.O_RDWR)
    os.dup2(null, 1)
    task = json.loads(sys.stdin.buffer.read())
    from hingeline_app.recordings.confined import confine

    cut_off = confine(task["limits"])

    def send(message: Mapping[str, Any]) -> None:
        # One line a message; allow_nan would let through what no reader takes.
        data = json.dumps(message, allow_nan=False).encode() + b"\n"
        while data:
            data = data[os.write(answers, data) :]

    send({"say": "confined", "cut_off": cut_off})
    _guarded(task, send)
    os._exit(0)


def _guarded(task: Mapping[str, Any], send: Callable[[Mapping[str, Any]], None]) -> None:
    """Work, and turn whatever goes wrong into a sentence."""
    from hingeline_app.recordings.limits import DAMAGED, Unreadable

    try:
        _work(task, send)
    except Unreadable as fault:
        send({"say": "refused", "found": fault.found, "expected": fault.expected, "remedy": fault.remedy})
    except MemoryError:
        found = "a video that needs more memory than it may have"
        remedy = "Record smaller pictures: 1920 by 1080 is enough."
        send({"say": "refused", "found": found, "expected": "a video of ordinary size", "remedy": remedy})
    except BaseException as fault:
        found = f"a file that the decoder gives up on ({type(fault).__name__})"
        send({"say": "refused", "found": found, "expected": "a whole video file", "remedy": DAMAGED})


def _work(task: Mapping[str, Any], send: Callable[[Mapping[str, Any]], None]) -> None:
    import av
    import cv2

    from hingeline_app.recordings.container import kind_of, what_it_tells
    from hingeline_app.recordings.decoding import opened
    from hingeline_app.recordings.following import Run
    from hingeline_app.recordings.limits import Limits

    av.logging.set_level(av.logging.PANIC)
    cv2.setNumThreads(1)
    file = os.fdopen(int(task["descriptor"]), "rb")
    kind = kind_of(file.read(16))
    told = what_it_tells(kind, file, int(task["size"]))
    video = opened(file, kind, Limits(**task["limits"]))
    if task.get("still"):
        from hingeline_app.recordings.still import sheet, still

        send(sheet(video, task["ticks"], task["width"]) if task.get("ticks") else still(video))
        return
    run = Run(video, task["marks"], send)
    way = run.begin()
    send(_head(kind, video, run, way.seen_size, told))
    run.follow(task["after"], task["states"])
    send({"say": "done"})


def _head(kind: str, video: Any, run: Any, size: tuple[float, float], told: Any) -> dict[str, Any]:
    """Say what the video is, what it announces, and how the marks look."""
    return {
        "say": "opened",
        "container": kind,
        "codec": video.stream.codec_context.name,
        "width": size[0],
        "height": size[1],
        "turn": run.way.turn,
        "time_base": [video.time_base.numerator, video.time_base.denominator],
        "expected": len(video.ticks),
        "told": told.frames,
        "last_tick": video.ticks[-1],
        "first_tick": video.ticks[0],
        "told_seconds": told.seconds,
        "capture_rate": video.capture_rate,
        "doubts": [*told.doubts, *video.doubts],
        "sizes": [each.size for each in run.followers],
        "contrasts": [each.contrast for each in run.followers],
        "noises": [each.noise for each in run.followers],
    }
