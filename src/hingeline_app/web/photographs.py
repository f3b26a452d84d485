"""A photograph that comes with a form, and the copy of it that a page shows."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from django.http import Http404, HttpResponse

from hingeline.errors import InputRefused
from hingeline_app.files.photograph import LARGEST_FILE, read_photograph
from hingeline_app.records.actions.attaching import Upload
from hingeline_app.records.attachments import attachment_path


def upload_of(sent: Any, kind: str, remark: str = "") -> Upload:
    """Look at a photograph by its content, and give it as the records take it.

    Raises
    ------
    InputRefused
        It is too large, or no whole picture.
    """
    if sent.size > LARGEST_FILE:
        remedy = "Send the photograph itself, or a smaller one."
        raise InputRefused.of("photograph", sent.name, f"at most {LARGEST_FILE // 1_000_000} MB", remedy)
    data = sent.read()
    found = read_photograph(data, sent.name)
    return Upload(
        kind, data, found.media_type, sent.name[:200], found.width, found.height, found.preview, remark=remark
    )


def shown(preview_digest: str) -> HttpResponse:
    """Answer with the copy that was drawn anew.

    Raises
    ------
    Http404
        Its file is not there.
    """
    data = copy_of(preview_digest)
    if data is None:
        raise Http404("there is no such picture")
    return HttpResponse(data, content_type="image/jpeg")


def copy_of(preview_digest: str) -> bytes | None:
    """Read the copy that was drawn anew; None where its file is not there."""
    path = attachment_path(Path(settings.DATA_FOLDER), preview_digest) if preview_digest else None
    return path.read_bytes() if path is not None and path.is_file() else None
