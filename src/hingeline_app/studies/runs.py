"""A study of a model's scatter, in a folder of its own: asked for twice, it is one; its answer is the command's.

What was asked names the folder: model, how many models are drawn, and the seed. So a study that is worked twice,
by whomever, writes the same numbers to the same place.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.longwork import folder as kept
from hingeline_app.longwork.folder import Far, ask, held, write_bytes_whole
from hingeline_app.longwork.ways import Way, at_once

FOLDER, MODEL, RESULT = "studies", "model.toml", "result.json"
FEWEST, MOST = 100, 1_000_000


@dataclass(frozen=True, slots=True)
class Study:
    """What is studied.

    Parameters
    ----------
    model : str
        The model's key among the records.
    name : str
        As a person knows its file.
    draws : int
        How many models are drawn.
    seed : int
    """

    model: str
    name: str
    draws: int
    seed: int

    def folder(self, data: Path) -> Path:
        """Give its folder."""
        return data / FOLDER / f"{self.model}-{self.draws}-{self.seed}"


def start(data: Path, study: Study, model: bytes, way: Way = at_once) -> None:
    """Start it, or go on with it where it was stopped; nothing is done again that is done.

    Raises
    ------
    InputRefused
        The model cannot be computed, states nothing uncertain, or the study is under way.
    """
    _refuse_what_does_not_scatter(model, study)
    folder = study.folder(data)
    if found(data, study) is not None:
        return
    with held(folder, study.name) as alive:
        if way.has(folder) and not kept.stands_still(folder):
            raise InputRefused.of("study", study.name, "one that is not under way", "Wait for it, or stop it first.")
        write_bytes_whole(folder / MODEL, model)
        ask(folder, {"name": study.name, "draws": study.draws, "seed": study.seed})
        way.take_on(folder, alive.fileno())


def look(data: Path, study: Study, way: Way = at_once) -> Far | None:
    """Say how far it is; None where it was never asked for."""
    folder = study.folder(data)
    return kept.look(folder, lambda: way.has(folder))


def stop(data: Path, study: Study) -> None:
    """Ask it to stop; the models drawn so far are kept for when it goes on."""
    kept.stop(study.folder(data))


def found(data: Path, study: Study) -> dict[str, Any] | None:
    """Give the answer, the document of ``hingeline flutter --scatter``; None where it is not there yet."""
    path = study.folder(data) / RESULT
    if not path.is_file():
        return None
    document: dict[str, Any] = json.loads(path.read_bytes())
    return document


def _refuse_what_does_not_scatter(model: bytes, study: Study) -> None:
    if not read_flutter(model).scatter:
        remedy = "Write how uncertain its numbers are into the file, in a table [scatter], and load it again."
        raise InputRefused.of("model", study.name, "a model with uncertain numbers", remedy)
