"""Run as a program: what the commands answer on the examples here, in one document."""

from __future__ import annotations

import contextlib
import io
import json
import sys
from pathlib import Path
from typing import Any

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
ASKED = [
    ["weigh", "01-elevator-left-half.toml"],
    ["weigh", "05-two-supports-one-scale.toml"],
    ["weigh", "08-too-close-to-tell.toml"],
    ["ballast", "11-aileron-from-stock.toml"],
    ["flutter", "flutter/01-elevator-strip.toml"],
    ["flutter", "flutter/05-measured-modes-elevator.toml"],
    ["motion", "motion/04-growing.csv"],
    ["due", "due/02-a-fleet-before-the-season.toml"],
    ["arm", "arm/02-rudder-arm-crack-round-the-tube.toml"],
]


def answer(command: str, example: str, pages: bool) -> Any:
    """Run a command as a user does, and read its document; asked for pages too, give what a person is shown."""
    status, said = told(command, example, "--json")
    page = {"page": told(command, example)[1].splitlines()} if pages else {}
    return {"status": status, "said": json.loads(said), **page}


def told(command: str, example: str, *more: str) -> tuple[int, str]:
    from hingeline_app.cli.main import main

    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        status = main([command, str(EXAMPLES / example), *more])
    return status, said.getvalue()


if __name__ == "__main__":
    wanted = "--pages" in sys.argv
    print(json.dumps({" ".join(asked): answer(*asked, wanted) for asked in ASKED}))
    sys.exit(0)
