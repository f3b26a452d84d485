"""The head of a chain, signed, in forms that can leave the machine: a code to type, a text for a QR code.

Whoever keeps the head of a day outside (on a printed sheet, with the owner) can show later
that the record up to it is the one that existed then: neither a tail that was cut off nor a
chain that was worked out anew gives this head again.

    short code   position, eighty bits of the digest, a check sign: 128-7K3M-9QRS-TVWX-YZ01-C
    full code    all of it with an Ed25519 signature, in signs that a QR code holds densely
"""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import dataclass
from uuid import UUID

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from hingeline.errors import InputRefused
from hingeline_app.records.canonical import canonical

FORMAT = "hingeline/head/1"
MARK = "HLH1"
CHAINS = {"records": "R", "security": "S"}
# Without I, L, O and U: what is read aloud or typed from paper is not taken for another sign.
SIGNS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
MISREAD = str.maketrans({"I": "1", "L": "1", "O": "0"})
SHORT_BYTES = 10


@dataclass(frozen=True, slots=True)
class Head:
    """Where a chain stood at a time."""

    workshop: str
    chain: str
    position: int
    digest: str
    at: str

    def signed_bytes(self) -> bytes:
        """Give what a signature covers."""
        return canonical({"format": FORMAT} | {name: getattr(self, name) for name in self.__slots__})

    @property
    def short(self) -> str:
        """Give the code that is typed."""
        signs = _short_signs(self.digest)
        groups = "-".join(signs[at : at + 4] for at in range(0, len(signs), 4))
        return f"{self.position}-{groups}-{_check_sign(self.position, signs)}"


@dataclass(frozen=True, slots=True)
class SignedHead:
    """A head with the key it was signed with."""

    head: Head
    key: str
    signature: bytes

    def holds(self, public: Ed25519PublicKey) -> bool:
        """Whether the signature is this key's, over this head."""
        try:
            public.verify(self.signature, self.head.signed_bytes())
        except InvalidSignature:
            return False
        return key_name(public) == self.key

    @property
    def code(self) -> str:
        """Give the full code, in the signs of a QR code's alphanumeric mode."""
        head = self.head
        parts = (
            MARK,
            _base32(UUID(head.workshop).bytes),
            CHAINS[head.chain],
            str(head.position),
            _base32(bytes.fromhex(head.digest)),
            re.sub(r"[-:.]", "", head.at),
            self.key.upper(),
            _base32(self.signature),
        )
        return ".".join(parts)


@dataclass(frozen=True, slots=True)
class ShortHead:
    """What a short code says."""

    position: int
    signs: str

    def agrees(self, digest: str) -> bool:
        """Whether an entry's digest begins so."""
        return _short_signs(digest) == self.signs


def sign_head(head: Head, key: Ed25519PrivateKey) -> SignedHead:
    """Sign a head."""
    return SignedHead(head, key_name(key.public_key()), key.sign(head.signed_bytes()))


def key_name(public: Ed25519PublicKey) -> str:
    """Name a key by the first sixteen signs of its digest."""
    return hashlib.sha256(public.public_bytes_raw()).hexdigest()[:16]


def read_code(text: str) -> SignedHead | ShortHead:
    """Read a short or a full code.

    Raises
    ------
    InputRefused
        It is neither, or was misread.
    """
    typed = re.sub(r"\s", "", text).upper()
    return _full(text, typed) if typed.startswith(MARK) else _short(text, typed)


def _short(text: str, typed: str) -> ShortHead:
    found = re.fullmatch(r"(\d{1,12})-([0-9A-Z-]+)", typed)
    signs = found[2].replace("-", "").translate(MISREAD) if found else ""
    if not found or len(signs) != SHORT_BYTES * 8 // 5 + 1:
        raise _refused(text, "a head's code such as 128-7K3M-9QRS-TVWX-YZ01-C", "Type it as it is printed.")
    position, signs, check = int(found[1]), signs[:-1], signs[-1]
    if _check_sign(position, signs) != check:
        raise _refused(
            text, "a code whose last character agrees with the rest", "A character was misread: compare them again."
        )
    return ShortHead(position, signs)


def _full(text: str, typed: str) -> SignedHead:
    try:
        _, workshop, chain, position, digest, at, key, signature = typed.split(".")
        head = Head(
            workshop=str(UUID(bytes=_bytes(workshop))),
            chain={short: name for name, short in CHAINS.items()}[chain],
            position=int(position),
            digest=_bytes(digest).hex(),
            at=_time(at),
        )
        return SignedHead(head, key.lower(), _bytes(signature))
    except (ValueError, KeyError, TypeError):
        raise _refused(text, "a head's full code", "Scan it again, or type the short one.") from None


def _refused(text: str, expected: str, remedy: str) -> InputRefused:
    return InputRefused.of("HEAD", text, expected, remedy)


def _time(at: str) -> str:
    parts = re.fullmatch(r"(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)(\d{3})Z", at)
    if not parts:
        raise ValueError(at)
    year, month, day, hour, minute, second, thousandth = parts.groups()
    return f"{year}-{month}-{day}T{hour}:{minute}:{second}.{thousandth}Z"


def _short_signs(digest: str) -> str:
    number = int.from_bytes(bytes.fromhex(digest)[:SHORT_BYTES])
    return "".join(SIGNS[number >> shift & 31] for shift in range(SHORT_BYTES * 8 - 5, -1, -5))


def _check_sign(position: int, signs: str) -> str:
    return SIGNS[hashlib.sha256(f"{position}-{signs}".encode()).digest()[0] & 31]


def _base32(data: bytes) -> str:
    return base64.b32encode(data).decode().rstrip("=")


def _bytes(text: str) -> bytes:
    return base64.b32decode(text + "=" * (-len(text) % 8))
