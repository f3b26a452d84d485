"""What is said of an upload names the person's file, never a place on the server."""

from __future__ import annotations

from pathlib import Path

import pytest

from hingeline.errors import InputRefused
from hingeline_app.web.uploads import _named

LAY = Path("/srv/records/arriving/ab12.upload")


@pytest.mark.parametrize("value", [LAY, LAY.name])
def test_a_refusal_names_the_file_by_its_own_name(value: Path | str) -> None:
    refusal = InputRefused.of("video", value, "a video file that can be read", "Choose another.").refusals[0]
    assert _named(refusal, LAY, "film.mp4").value == "film.mp4"
