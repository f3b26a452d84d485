"""The first picture of a video, as somebody sees it who is to point at marks in it; in the separate process."""

from __future__ import annotations

import base64
from typing import Any

import cv2
import numpy as np

from hingeline_app.recordings.decoding import Video
from hingeline_app.recordings.following import first_picture
from hingeline_app.recordings.markers import all_in

QUALITY = 85


def still(video: Video) -> dict[str, Any]:
    """Give the first picture, turned as it is shown, with the printed markers that are in it."""
    picture, way = first_picture(video)
    width, height = way.seen_size
    shown = np.ascontiguousarray(np.rot90(picture, way.turn // 90))
    if way.stretch != 1.0:
        shown = np.asarray(cv2.resize(shown, (round(width), round(height))), dtype=np.uint8)
    _, jpeg = cv2.imencode(".jpg", shown, [cv2.IMWRITE_JPEG_QUALITY, QUALITY])
    markers = [(number, *way.seen(place)) for number, place in all_in(picture)]
    text = base64.b64encode(jpeg.tobytes()).decode()
    return {"say": "still", "jpeg": text, "width": width, "height": height, "markers": markers}
