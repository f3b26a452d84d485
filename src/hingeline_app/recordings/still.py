"""Pictures of a video as somebody sees them: the first one, or some on one sheet; in the separate process."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hingeline_app.recordings.decoding import Video, pictures
from hingeline_app.recordings.following import first_picture
from hingeline_app.recordings.limits import Unreadable
from hingeline_app.recordings.markers import all_in
from hingeline_app.recordings.orientation import Orientation

QUALITY, QUALITY_OF_A_SHEET, COLUMNS = 85, 72, 8
Picture = NDArray[np.uint8]


def still(video: Video) -> dict[str, Any]:
    """Give the first picture, turned as it is shown, with the printed markers that are in it."""
    picture, way = first_picture(video)
    width, height = way.seen_size
    markers = [(number, *way.seen(place)) for number, place in all_in(picture)]
    text = _jpeg(_shown(picture, way, (round(width), round(height))), QUALITY)
    return {"say": "still", "jpeg": text, "width": width, "height": height, "markers": markers}


def sheet(video: Video, ticks: Sequence[int], width: int) -> dict[str, Any]:
    """Give the pictures of some times side by side and below each other, each so wide; a lost one stays grey."""
    _picture, way = first_picture(video)
    seen = way.seen_size
    size = (width, max(1, round(width * seen[1] / seen[0])))
    rows = -(-len(ticks) // COLUMNS)
    whole = np.full((rows * size[1], COLUMNS * width), 128, np.uint8)
    places = {tick: divmod(index, COLUMNS) for index, tick in enumerate(ticks)}
    for tick, picture, _frame in pictures(video, min(ticks) - 1):
        if tick in places:
            row, column = places[tick]
            whole[row * size[1] : (row + 1) * size[1], column * width : (column + 1) * width] = _shown(
                picture, way, size
            )
        if tick >= max(ticks):
            break
    else:
        raise Unreadable("pictures that are not in the video", "times of its pictures", "Follow the marks again.")
    return {"say": "still", "jpeg": _jpeg(whole, QUALITY_OF_A_SHEET), "width": width, "height": size[1], "markers": []}


def _shown(picture: Picture, way: Orientation, size: tuple[int, int]) -> Picture:
    """Turn a picture as it is shown, and bring it to a size."""
    turned = np.ascontiguousarray(np.rot90(picture, way.turn // 90))
    if turned.shape[::-1] == size:
        return turned
    smaller = cv2.INTER_AREA if size[0] < turned.shape[1] else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(turned, size, interpolation=smaller), dtype=np.uint8)


def _jpeg(picture: Picture, quality: int) -> str:
    _, jpeg = cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, quality])
    return base64.b64encode(jpeg.tobytes()).decode()
