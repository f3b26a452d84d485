"""Fresh proof for each signature: a password or a passkey, now, of the person whose page this is.

    form = SignForm(request.POST)            # a ProofForm; its page includes web/proof.html
    proof = fresh_proof(request, over=digest)  # raises ProofRefused, noted and counted

A guest, who has no account, is known by licence number.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from django.contrib import auth
from django.http import HttpRequest
from django.utils.translation import gettext as _

from hingeline_app.records.actions.passkeys import note_passkey_use
from hingeline_app.records.actions.security import NOT_PROVED, PROVED, note_security
from hingeline_app.records.attempts import forget_attempts
from hingeline_app.records.proof import Proof
from hingeline_app.records.queries.at_the_door import guest_by_licence
from hingeline_app.records.ways_in import PASSKEY, PASSWORD
from hingeline_app.web.passkey_talk import answer_in
from hingeline_app.web.requests import visit_of

LICENCE = "licence number"


class ProofRefused(Exception):
    """It was not proved; the reason is a sentence for the person. Nothing may be signed."""


def fresh_proof(request: HttpRequest, over: str = "") -> Proof:
    """Prove who sends this form.

    Parameters
    ----------
    over : str
        Digest (SHA-256) of what is signed. A passkey answers for these very bytes.

    Raises
    ------
    ProofRefused
        Wrong, missing, or locked out after too many tries.
    """
    actor = visit_of(request).actor
    account: Any = actor.account
    answer = answer_in(request, over) if request.POST.get("proof_assertion") else None
    how = PASSKEY if answer else PASSWORD
    given: dict[str, Any] = (
        {"passkey_answer": answer} if answer else {"password": request.POST.get("proof_password", "")}
    )
    found: Any = auth.authenticate(request, username=account.sign_in_name, **given)
    if found is None or found.pk != account.pk:
        note_security(actor, NOT_PROVED, {"how": how, "over": over})
        raise ProofRefused(_("This is not the password or passkey of %(name)s.") % {"name": account.person.name})
    if answer:
        note_passkey_use(answer)
    forget_attempts(request, account)
    note_security(actor, PROVED, {"how": how, "over": over})
    return Proof(account.person_id, account.pk, how, datetime.now(UTC), over, answer.evidence if answer else {})


def guest_proof(request: HttpRequest, licence_number: str, over: str = "") -> Proof:
    """Know a guest inspector by licence number, on the tablet and page of the person who is signed in.

    Raises
    ------
    ProofRefused
        No guest of this workshop has that number.
    """
    actor = visit_of(request).actor
    guest = guest_by_licence(actor.workshop, licence_number)
    if guest is None:
        note_security(actor, NOT_PROVED, {"how": LICENCE, "over": over})
        raise ProofRefused(_("No guest with this licence number was entered in this workshop."))
    note_security(actor, PROVED, {"how": LICENCE, "over": over, "guest": str(guest.pk)})
    return Proof(guest.pk, None, LICENCE, datetime.now(UTC), over)
