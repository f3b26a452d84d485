"""A ledger as one file: a zip of JSON lines, attachments and a list. No database here.

    manifest.json             format, workshop, chains with entries and head, digest of every part
    chains/records.jsonl      one entry a line, as in the journal
    attachments/3f9a…         attached files, named by their digest

An entry may stand without its text, with the text's digest alone: the chain can still be
followed past it. So one aircraft can be exported without the others, and it is proved that its
entries are the workshop's own, in their places.

Reading trusts nothing: names, counts and sizes have bounds, every digest is worked out anew.
"""

from __future__ import annotations

import hashlib
import json
import re
import zipfile
import zlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from uuid import UUID

from hingeline.errors import InputRefused
from hingeline_app.records.attachments import PIECE, pieces_of
from hingeline_app.records.chain import Blank, Link, breaks
from hingeline_app.records.journal import line_of, link_of

FORMAT = "hingeline/ledger-export/1"
MANIFEST = "manifest.json"
ALLOWED = re.compile(r"manifest\.json|chains/(records|security)\.jsonl|attachments/[0-9a-f]{64}")
# A fixed date: the same records give the same bytes.
STILL = (1980, 1, 1, 0, 0, 0)


@dataclass(frozen=True)
class Bounds:
    """What a file may hold at most."""

    members: int = 100_000
    line: int = 16_000_000
    chains: int = 4_000_000_000
    attachment: int = 4_000_000_000
    attachments: int = 200_000_000_000
    manifest: int = 50_000_000


@dataclass(frozen=True)
class Ledger:
    """What goes into a file, or was read out of one. ``about`` is free: who made it, of which aircraft."""

    workshop: str
    chains: Mapping[str, Sequence[Link | Blank]]
    attachments: tuple[str, ...] = ()
    about: Mapping[str, Any] = field(default_factory=dict)

    @property
    def is_whole(self) -> bool:
        """Whether no entry stands without its text."""
        return all(isinstance(link, Link) for links in self.chains.values() for link in links)


def write_ledger(path: Path, ledger: Ledger, attachment: Mapping[str, Path]) -> None:
    """Write a ledger with its attachments to a new file.

    Parameters
    ----------
    path : Path
        Must not exist.
    ledger : Ledger
    attachment : mapping of str to Path
        The file of each digest in ``ledger.attachments``.
    """
    parts: dict[str, str] = {}
    with zipfile.ZipFile(path, "x", zipfile.ZIP_DEFLATED) as archive:
        for chain, links in ledger.chains.items():
            name = f"chains/{chain}.jsonl"
            parts[name] = _put(archive, name, map(_line, links))
        for digest in ledger.attachments:
            with attachment[digest].open("rb") as file:
                name = f"attachments/{digest}"
                parts[name] = _put(archive, name, pieces_of(file), zipfile.ZIP_STORED)
        text = json.dumps(_manifest(ledger, parts), ensure_ascii=False, indent=1)
        _put(archive, MANIFEST, [text.encode()])


def _manifest(ledger: Ledger, parts: Mapping[str, str]) -> dict[str, Any]:
    chains = {
        name: {"entries": len(links), "head": links[-1].digest if links else None}
        for name, links in ledger.chains.items()
    }
    return {
        "format": FORMAT,
        "workshop": ledger.workshop,
        "whole": ledger.is_whole,
        "chains": chains,
        "attachments": list(ledger.attachments),
        "parts": dict(parts),
        "about": dict(ledger.about),
    }


def _line(link: Link | Blank) -> bytes:
    if isinstance(link, Link):
        return line_of(link)
    names = ("position", "previous", "digest", "body_digest")
    return json.dumps({name: getattr(link, name) for name in names}, separators=(",", ":")).encode() + b"\n"


def _put(archive: zipfile.ZipFile, name: str, pieces: Iterable[bytes], how: int = zipfile.ZIP_DEFLATED) -> str:
    info, digest = zipfile.ZipInfo(name, STILL), hashlib.sha256()
    info.compress_type, info.external_attr = how, 0o600 << 16
    with archive.open(info, "w", force_zip64=True) as part:
        for piece in pieces:
            digest.update(piece)
            part.write(piece)
    return digest.hexdigest()


def _refuse_other_kinds(manifest: Mapping[str, Any]) -> None:
    """Raise where a part of a manifest of ours is of another kind than it is written as."""
    whole = {"workshop": str, "chains": dict, "attachments": list, "about": dict, "parts": dict}
    if not all(isinstance(manifest[name], kind) for name, kind in whole.items()):
        raise TypeError
    UUID(manifest["workshop"])


class OpenLedger:
    """A file that was opened for reading; its chains are read and hold, its attachments are read on demand."""

    def __init__(self, path: Path, bounds: Bounds | None = None) -> None:
        self.name, self.bounds = path.name, bounds or Bounds()
        try:
            self._archive = zipfile.ZipFile(path)
        except (OSError, zipfile.BadZipFile, ValueError):
            raise self._refused("a file that hingeline ledger export made") from None
        try:
            self.ledger = self._read()
        except BaseException:
            self._archive.close()
            raise

    def __enter__(self) -> OpenLedger:
        return self

    def __exit__(self, *_: object) -> None:
        self._archive.close()

    def attachment(self, digest: str) -> Iterator[bytes]:
        """Read an attachment in pieces; one that is too large, or is not what its name says, is refused."""
        seen = hashlib.sha256()
        for piece in self._part(f"attachments/{digest}", self.bounds.attachment):
            seen.update(piece)
            yield piece
        if seen.hexdigest() != digest:
            raise self._refused(f"the attached file {digest[:16]}… as it was")

    def _read(self) -> Ledger:
        self._refuse_other_members()
        manifest = self._read_manifest()
        chains = {chain: list(self._links(chain)) for chain in manifest["chains"]}
        for chain, links in chains.items():
            self._refuse_broken(chain, links, manifest["chains"][chain])
        return Ledger(manifest["workshop"], chains, tuple(manifest["attachments"]), manifest["about"])

    def _refuse_other_members(self) -> None:
        infos = self._archive.infolist()
        names = [info.filename for info in infos]
        if len(names) > self.bounds.members or len(set(names)) < len(names):
            raise self._refused(f"at most {self.bounds.members} parts, each once")
        for name in names:
            if not ALLOWED.fullmatch(name):
                raise self._refused("chains, attachments and a manifest, and nothing else", name)
        if sum(info.file_size for info in infos) > self.bounds.attachments:
            raise self._refused(f"at most {self.bounds.attachments} bytes, unpacked")

    def _read_manifest(self) -> dict[str, Any]:
        try:
            manifest: dict[str, Any] = json.loads(b"".join(self._part(MANIFEST, self.bounds.manifest)))
            known = manifest["format"] == FORMAT
            if known:
                _refuse_other_kinds(manifest)
        except (ValueError, KeyError, TypeError, RecursionError):
            raise self._refused("a manifest that can be read") from None
        if not known:
            raise self._refused(f"the format {FORMAT}", str(manifest["format"]))
        listed = {f"chains/{chain}.jsonl" for chain in manifest["chains"]}
        listed |= {f"attachments/{digest}" for digest in manifest["attachments"]}
        if listed | {MANIFEST} != set(self._archive.namelist()) or listed != set(manifest["parts"]):
            raise self._refused("every part in the manifest, and no other")
        return manifest

    def _links(self, chain: str) -> Iterator[Link | Blank]:
        rest = b""
        for piece in self._part(f"chains/{chain}.jsonl", self.bounds.chains):
            *lines, rest = (rest + piece).split(b"\n")
            if max(map(len, (rest, *lines))) > self.bounds.line:
                raise self._refused(f"lines of at most {self.bounds.line} bytes", chain)
            yield from map(self._link, lines)
        if rest:
            raise self._refused("a last line that ends", chain)

    def _link(self, line: bytes) -> Link | Blank:
        try:
            parts = json.loads(line)
            return link_of(parts) if "body" in parts else Blank(**parts)
        except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
            raise self._refused("an entry a line", line[:60].decode(errors="replace")) from None

    def _refuse_broken(self, chain: str, links: Sequence[Link | Blank], listed: Any) -> None:
        broken = next(breaks(links), None)
        if broken:
            raise self._refused("entries that follow one another", f"{chain} {broken.position}: {broken.finding}")
        head = links[-1].digest if links else None
        if listed != {"entries": len(links), "head": head}:
            raise self._refused("as many entries as the manifest says, up to its head", chain)

    def _part(self, name: str, most: int) -> Iterator[bytes]:
        """Unpack a part in pieces, and stop where it grows beyond its bound."""
        seen = 0
        try:
            with self._archive.open(name) as part:
                while piece := part.read(PIECE):
                    seen += len(piece)
                    if seen > most:
                        raise self._refused(f"at most {most} bytes in a part", name)
                    yield piece
        except (zipfile.BadZipFile, zlib.error, KeyError, OSError, EOFError, RuntimeError, NotImplementedError):
            raise self._refused("a file that can be unpacked", name) from None

    def _refused(self, expected: str, value: str = "") -> InputRefused:
        return InputRefused.of(
            "FILE", value or self.name, expected, "Have it exported again; nothing was taken from it."
        )
