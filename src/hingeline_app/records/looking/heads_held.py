"""Whether the chain still gives the heads that were given away."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from hingeline_app.records.heads import CHAINS, Head, ShortHead, SignedHead
from hingeline_app.records.looking.findings import NOTHING, Finding
from hingeline_app.records.looking.walking import Walked

RECORDS, _SECURITY = CHAINS
Keys = Mapping[str, Ed25519PublicKey]


def head_findings(walked: Walked, given: Iterable[SignedHead], keys: Keys) -> Iterator[Finding]:
    """Name each signed head of this chain that it does not give any more."""
    digests = walked.digests
    for signed in given:
        if (signed.head.workshop, signed.head.chain) == (str(walked.workshop), walked.chain):
            yield from _signature(signed, keys)
            yield from _held(signed.head, digests)


def outside_findings(chains: Sequence[Walked], heads: Iterable[SignedHead | ShortHead]) -> Iterator[Finding]:
    """Compare with codes from outside, as far as no chain of its own does.

    A short code does not say of which chain it is: the one that has it gave it. A full code of a workshop that is not
    kept here was compared with nothing, and that is said; the records are no less whole for it.
    """
    kept = {(str(each.workshop), each.chain) for each in chains}
    for head in heads:
        if isinstance(head, ShortHead):
            yield from _short_head(head, chains)
        elif (head.head.workshop, head.head.chain) not in kept:
            says = "it is of a workshop that is not kept here: nothing was compared"
            yield Finding("head", head.head.short, says, NOTHING)


def _short_head(short: ShortHead, chains: Sequence[Walked]) -> Iterator[Finding]:
    digests = [each.digests.get(short.position) for each in chains]
    if any(digest is not None and short.agrees(digest) for digest in digests):
        return
    has_another = any(each.chain == RECORDS and short.position in each.digests for each in chains)
    yield _another(str(short.position)) if has_another else _gone(str(short.position))


def proved_up_to(walked: Walked, given: Iterable[SignedHead]) -> int:
    """Give the position up to which some head that was given proves the chain."""
    digests = walked.digests
    ours = (each.head for each in given if each.head.chain == walked.chain)
    return max((head.position for head in ours if digests.get(head.position) == head.digest), default=0)


def _signature(signed: SignedHead, keys: Keys) -> Iterator[Finding]:
    where = signed.head.short
    if signed.key not in keys:
        yield Finding("head", where, f"key {signed.key} is not kept here: only its check sum was compared", NOTHING)
    elif not signed.holds(keys[signed.key]):
        yield Finding("head", where, "its signature does not hold: it was not given by this workshop")


def _held(head: Head, digests: Mapping[int, str]) -> Iterator[Finding]:
    if head.position not in digests:
        yield _gone(head.short)
    elif digests[head.position] != head.digest:
        yield _another(head.short)


def _gone(where: str) -> Finding:
    return Finding("head", where, "the chain ends before it: its tail was cut off, or an older copy was put back")


def _another(where: str) -> Finding:
    return Finding("head", where, "the chain has another entry there: it was worked out anew after the head was given")
