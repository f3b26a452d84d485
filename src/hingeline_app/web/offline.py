"""Which of our own files a tablet keeps, so that its pages work without a connection."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from django.templatetags.static import static

import hingeline
from hingeline_app.records.canonical import digest_of

STATIC = Path(__file__).resolve().parent / "static"
KEPT = ("web/*.css", "web/*.js", "web/*.svg", "web/*.png", "vendor/barlow/*.woff2")
WORKER = STATIC / "web" / "worker.js"
# Addresses that are no files of ours, and are kept beside them.
PAGES = ("/look.css", "/without-connection")


def offline_files() -> list[str]:
    """Give the addresses that a tablet keeps."""
    return [*PAGES, *(static(str(each.relative_to(STATIC).as_posix())) for each in _paths())]


@cache
def _paths() -> list[Path]:
    return sorted(_found())


def _found() -> Iterator[Path]:
    for pattern in KEPT:
        yield from (each for each in STATIC.glob(pattern) if each != WORKER)


def version_of(files: list[str]) -> str:
    """Give the version of all that is kept: another byte anywhere is another version."""
    return _digest(tuple(files))


@cache
def _digest(files: tuple[str, ...]) -> str:
    contents = b"".join(each.read_bytes() for each in [*_paths(), WORKER])
    return digest_of("\n".join((hingeline.__version__, *files)).encode() + contents)[:16]


def worker_script(files: list[str], version: str) -> str:
    """Give the worker's script with what it keeps written at its head."""
    head = f"const VERSION = {json.dumps(version)}, FILES = {json.dumps(files)};\n"
    return head + WORKER.read_text("utf-8")
