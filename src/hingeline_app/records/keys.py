"""The key that signs heads: one private key in the data folder, and every public key ever used."""

from __future__ import annotations

import os
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    PublicFormat,
    load_pem_private_key,
    load_pem_public_key,
)

from hingeline_app.records.heads import key_name
from hingeline_app.records.journal import sync_folder

FOLDER, PRIVATE = "keys", "heads.key"


def signing_key(data: Path) -> Ed25519PrivateKey:
    """Read the key; make it once, readable by this user alone."""
    path = data / FOLDER / PRIVATE
    if not path.exists():
        _make(path)
    key = load_pem_private_key(path.read_bytes(), password=None)
    assert isinstance(key, Ed25519PrivateKey), f"{path.name} holds another kind of key"
    return key


def public_keys(data: Path) -> dict[str, Ed25519PublicKey]:
    """Give every public key that ever signed here, by its name."""
    keys = [load_pem_public_key(path.read_bytes()) for path in sorted((data / FOLDER).glob("heads-*.pub"))]
    return {key_name(key): key for key in keys if isinstance(key, Ed25519PublicKey)}


def _make(path: Path) -> None:
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    key = Ed25519PrivateKey.generate()
    public = key.public_key()
    _write(
        path.with_name(f"heads-{key_name(public)}.pub"),
        public.public_bytes(Encoding.PEM, PublicFormat.SubjectPublicKeyInfo),
    )
    _write(path, key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))
    sync_folder(path.parent)


def _write(path: Path, data: bytes) -> None:
    """Write beside the place, sync, and move there in one step."""
    part = path.with_name(path.name + ".part")
    file = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | os.O_CLOEXEC, 0o600)
    try:
        os.write(file, data)
        os.fsync(file)
    finally:
        os.close(file)
    part.replace(path)
