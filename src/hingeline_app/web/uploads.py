"""A file that came by a form: on the disk, never whole in memory, looked at before it is kept."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from hingeline.errors import InputRefused, MissingExtra
from hingeline_app.evidence.kinds import HEAD, MEDIA_TYPES, kind_of, refuse_too_large
from hingeline_app.recordings.follow import first_picture
from hingeline_app.records.actions.recordings import TakenIn
from hingeline_app.records.attachments import pieces_of


@contextmanager
def on_disk(uploaded: Any) -> Iterator[Path]:
    """Give the path of an uploaded file for as long as the block lasts; a small one is written out."""
    where = getattr(uploaded, "temporary_file_path", None)
    if where is not None:
        yield Path(where())
        return
    with tempfile.NamedTemporaryFile(suffix=".upload") as file:
        for piece in uploaded.chunks():
            file.write(piece)
        file.flush()
        yield Path(file.name)


@dataclass(frozen=True)
class LookedAt:
    """What a file is, by its content."""

    kind: str
    details: dict[str, Any]
    preview: bytes = b""
    width: int | None = None
    height: int | None = None


def looked_at(path: Path, name: str) -> LookedAt:
    """Say what a file is; a video is opened as far as its first picture, in a process of its own.

    Raises
    ------
    InputRefused
        It is of no kind that can be used, too large, or a video that cannot be read.
    """
    with path.open("rb") as file:
        kind = kind_of(file.read(HEAD), name)
    refuse_too_large(kind, path.stat().st_size, name)
    if kind != "video":
        return LookedAt(kind, {})
    try:
        still = first_picture(path)
    except MissingExtra as missing:
        raise InputRefused.of("file", name, "a server that reads videos", str(missing)) from missing
    except InputRefused as refused:
        # The refusal names the place where the upload lay for a moment; the person knows the file by its name.
        raise InputRefused(_named(each, path, name) for each in refused.refusals) from refused
    details = {"markers": [list(each) for each in still.markers], "size": [still.width, still.height]}
    return LookedAt(kind, details, still.jpeg, round(still.width), round(still.height))


def taken_in(path: Path, name: str, looked: LookedAt, **more: Any) -> TakenIn:
    """Give a file as the records take it in, piece by piece."""
    return TakenIn(
        kind=looked.kind,
        pieces=_pieces(path),
        size=path.stat().st_size,
        media_type=MEDIA_TYPES[looked.kind],
        name=name,
        preview=looked.preview,
        width=looked.width,
        height=looked.height,
        details=looked.details,
        **more,
    )


def _pieces(path: Path) -> Iterator[bytes]:
    with path.open("rb") as file:
        yield from pieces_of(file)


def _named(refusal: Any, path: Path, name: str) -> Any:
    # The whole path first: with its name taken out before, the server's folder would stay.
    return replace(refusal, field="file", value=refusal.value.replace(str(path), name).replace(path.name, name))
