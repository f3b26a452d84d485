"""Passkeys (WebAuthn level 2): asking a person's own device, and judging what it answers.

A challenge is used once. Where something is signed, the challenge carries its digest, so that
the device's answer is an answer for those very bytes.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fido2.server import Fido2Server
from fido2.utils import websafe_decode, websafe_encode
from fido2.webauthn import (
    AttestedCredentialData,
    AuthenticationResponse,
    PublicKeyCredentialRpEntity,
    PublicKeyCredentialUserEntity,
    ResidentKeyRequirement,
    UserVerificationRequirement,
)

from hingeline_app.records.models import Account, Passkey

NONCE_BYTES = 32
State = dict[str, Any]
VERIFIED = UserVerificationRequirement.REQUIRED


class PasskeyRefused(ValueError):
    """The answer of the device does not hold: why stands in the message."""


@dataclass(frozen=True)
class NewKey:
    """What a device gave to be known by."""

    credential: str
    public_key: str
    count: int


@dataclass(frozen=True)
class Answer:
    """A device's answer that holds."""

    passkey: Passkey
    count: int
    evidence: dict[str, str]


def ask_to_register(server_name: str, account: Account) -> tuple[dict[str, Any], State]:
    """Give what the browser asks the device for a new passkey, and what to remember meanwhile."""
    user = PublicKeyCredentialUserEntity(
        id=account.pk.bytes, name=account.sign_in_name, display_name=account.person.name
    )
    options, state = _server(server_name).register_begin(
        user,
        credentials=[_known(each) for each in usable(account, server_name)],
        resident_key_requirement=ResidentKeyRequirement.PREFERRED,
        user_verification=VERIFIED,
    )
    return dict(options.public_key), dict(state)


def judge_registration(server_name: str, state: State, answer: Mapping[str, Any]) -> NewKey:
    """Take a new passkey in.

    Raises
    ------
    PasskeyRefused
        The answer does not fit what was asked.
    """
    try:
        data = _server(server_name).register_complete(state, answer)
    except (ValueError, KeyError, TypeError) as fault:
        raise PasskeyRefused(str(fault)) from fault
    credential = data.credential_data
    assert credential is not None, "the library gives it or raises"
    return NewKey(websafe_encode(credential.credential_id), websafe_encode(bytes(credential)), data.counter)


def ask_to_prove(server_name: str, accounts: list[Account], digest: str = "") -> tuple[dict[str, Any], State]:
    """Give what the browser asks the device to sign: a challenge of ours, with the digest of what is signed."""
    keys = [_known(key) for account in accounts for key in usable(account, server_name)]
    challenge = os.urandom(NONCE_BYTES) + bytes.fromhex(digest)
    options, state = _server(server_name).authenticate_begin(
        keys or None, user_verification=VERIFIED, challenge=challenge
    )
    return dict(options.public_key), dict(state)


def judge_proof(server_name: str, state: State, text: str) -> Answer:
    """Judge what a device signed.

    Raises
    ------
    PasskeyRefused
        It is no answer to what was asked, or of no passkey that is known here.
    """
    try:
        answer = json.loads(text)
        passkey = _passkey_of(str(answer["id"]), server_name)
        _server(server_name).authenticate_complete(state, [_known(passkey)], answer)
        count = AuthenticationResponse.from_dict(answer).response.authenticator_data.counter
    except (ValueError, KeyError, TypeError, RecursionError) as fault:
        raise PasskeyRefused(str(fault)) from fault
    if count and count <= passkey.count:
        raise PasskeyRefused("the device's count went back: the passkey may have been copied")
    parts = {name: str(answer["response"][name]) for name in ("clientDataJSON", "authenticatorData", "signature")}
    return Answer(passkey, count, {"credential": passkey.credential, **parts})


def usable(account: Account, server_name: str) -> list[Passkey]:
    """Give the passkeys of an account that are good for a server's name."""
    return list(Passkey.objects.filter(account=account, server_name=server_name, withdrawn_on=None))


def _passkey_of(credential: str, server_name: str) -> Passkey:
    found = Passkey.objects.filter(credential=credential, server_name=server_name, withdrawn_on=None).first()
    if found is None:
        raise PasskeyRefused("no passkey of this workshop")
    return found


def _known(passkey: Passkey) -> AttestedCredentialData:
    return AttestedCredentialData(websafe_decode(passkey.public_key))


def _server(name: str) -> Fido2Server:
    return Fido2Server(PublicKeyCredentialRpEntity(name="Hingeline", id=name))
