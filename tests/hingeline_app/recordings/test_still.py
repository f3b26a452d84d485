"""The first picture comes out of the separate process as it is shown, with the markers in it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import cv2
import numpy as np
import pytest

from hingeline.errors import InputRefused
from hingeline_app.recordings.follow import first_picture
from hingeline_app.recordings.limits import Limits
from tests.hingeline_app.recordings.rendered import Scene, rendered

MARKERS = Scene(rate=60.0, seconds=0.3, kind="marker")


@pytest.mark.parametrize("turn", [0, 90, 180, -90])
def test_the_first_picture_is_turned_as_it_is_shown(turn: int, tmp_path: Path) -> None:
    """Its markers are where a viewer sees them, and looked for in the JPEG they are found at the same places."""
    scene = replace(MARKERS, rotation=turn)
    found = first_picture(rendered(tmp_path / "video.mp4", scene))
    picture = cv2.imdecode(np.frombuffer(found.jpeg, np.uint8), cv2.IMREAD_GRAYSCALE)
    assert picture.shape == (round(found.height), round(found.width))
    assert [number for number, _, _ in found.markers] == [0, 1, 2, 3]
    detector = cv2.aruco.ArucoDetector(cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50))
    corners, numbers, _ = detector.detectMarkers(picture)
    seen = {int(number): four.reshape(4, 2).mean(axis=0) for number, four in zip(numbers.ravel(), corners, strict=True)}
    for number, x, y in found.markers:
        assert np.allclose(seen[number], (x, y), atol=1.5)


def test_what_is_no_video_has_no_first_picture(tmp_path: Path) -> None:
    """It is refused as in following, within the same limits."""
    (tmp_path / "text.mp4").write_bytes(b"no video at all, only words")
    with pytest.raises(InputRefused, match="another kind"):
        first_picture(tmp_path / "text.mp4")
    path = rendered(tmp_path / "video.mp4", MARKERS)
    with pytest.raises(InputRefused, match="longer than it may"):
        first_picture(path, Limits(wall_seconds=0.0))
