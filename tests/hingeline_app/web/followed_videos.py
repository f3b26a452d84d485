"""Marks placed by hand on a drawn video, and waiting until they were followed."""

from __future__ import annotations

import time
from typing import Any

from django.test import Client

from tests.hingeline_app.cli.test_motion_video import SCENE
from tests.hingeline_app.recordings.marked import marks_of


def placed() -> dict[str, Any]:
    """Give the marks of the scene as the form sends them."""
    fields: dict[str, Any] = {"nose": "left", "camera": "held", "length": "160 mm"}
    for at, mark in enumerate(marks_of(SCENE).marks, 1):
        assert mark.at is not None
        fields |= {f"kind_{at}": "dot", f"on_{at}": mark.on, f"name_{at}": mark.name}
        fields |= {f"x_{at}": f"{mark.at[0]:.2f}", f"y_{at}": f"{mark.at[1]:.2f}"}
    return fields


def wait_for(client: Client, number: int, word: str) -> dict[str, Any]:
    """Ask how far it is until it says a word."""
    until = time.monotonic() + 90.0
    while time.monotonic() < until:
        said: dict[str, Any] = client.get(f"/recordings/{number}/far").json()
        if said["word"] == word:
            return said
        assert said["word"] in ("waits", "follows"), said
        time.sleep(0.2)
    raise AssertionError(said)
