"""Chunks that were worked before are not worked again: each is kept as one line, and read back to the last bit."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import asdict
from itertools import islice
from pathlib import Path
from typing import Any

from hingeline.flutter.scatter import ChunkOutcome


def resumed(path: Path) -> Callable[[Callable[[Any], ChunkOutcome], list[Any]], Iterator[ChunkOutcome]]:
    """Make a ``run`` that begins with what a file has, and adds to it."""

    def run(work: Callable[[Any], ChunkOutcome], given: list[Any]) -> Iterator[ChunkOutcome]:
        before = list(islice(_read(path), len(given)))
        # A line that was cut off goes; the chunk is worked again.
        path.write_text("".join(map(_line, before)), "utf-8")
        yield from before
        with path.open("a", encoding="utf-8") as file:
            for each in given[len(before) :]:
                outcome = work(each)
                file.write(_line(outcome))
                file.flush()
                yield outcome

    return run


def _read(path: Path) -> Iterator[ChunkOutcome]:
    if not path.exists():
        return
    with path.open(encoding="utf-8") as file, suppress(ValueError):
        for line in file:
            if not line.endswith("\n"):
                return
            kept = json.loads(line)
            yield ChunkOutcome(**{**kept, "speeds": tuple(kept["speeds"])})


def _line(outcome: ChunkOutcome) -> str:
    return json.dumps(asdict(outcome)) + "\n"
