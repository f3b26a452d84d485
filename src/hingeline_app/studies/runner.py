"""The process that works one study, and keeps what it has drawn."""

from __future__ import annotations

import json
from dataclasses import replace

from hingeline.document import to_document
from hingeline.flutter import analyse
from hingeline.flutter.scatter import scatter_onsets
from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.longwork.folder import write_bytes_whole
from hingeline_app.longwork.inside import Inside, work_inside
from hingeline_app.studies.resumed import resumed
from hingeline_app.studies.runs import MODEL, RESULT

CHUNKS = "chunks.jsonl"


def main(folder: str) -> None:
    """Work the study of a folder."""
    work_inside(folder, work_it)


def work_it(inside: Inside) -> bool:
    """Draw, and write the answer once all is drawn; say whether it came to the end."""
    draws, folder = int(inside.task["draws"]), inside.folder
    task = read_flutter((folder / MODEL).read_bytes())

    def progress(done: int, of: int) -> bool:
        inside.far(done, of)
        return not inside.is_to_stop()

    run = resumed(folder / CHUNKS)
    found = scatter_onsets(task, draws, seed=int(inside.task["seed"]), progress=progress, run=run)
    if found is None or found.samples < draws:
        return False
    document = to_document(replace(analyse(task), speed_distribution=found))
    write_bytes_whole(folder / RESULT, json.dumps(document, ensure_ascii=False, allow_nan=False).encode())
    (folder / CHUNKS).unlink()
    return True
