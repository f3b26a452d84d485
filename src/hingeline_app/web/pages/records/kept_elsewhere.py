"""What was kept outside this machine, held against the records: a head, an entry's receipt, a worksheet on paper."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from django import forms
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_http_methods

from hingeline.errors import InputRefused
from hingeline_app.files.again import is_rounding
from hingeline_app.records.heads import ShortHead, SignedHead, read_code
from hingeline_app.records.looking import look_at_the_records
from hingeline_app.records.looking.findings import NOTHING
from hingeline_app.records.looking.look import Places
from hingeline_app.records.queries.entry_found import entry_found
from hingeline_app.records.roles import Act
from hingeline_app.replaying.sheets import sheet_replayed
from hingeline_app.report import read_worksheets
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import refuse_who_may_not, viewer_of
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.forms.refusals import sentence
from hingeline_app.web.requests import sent

LARGEST_SHEET = 20_000_000
RECEIPT = re.compile(r"(\d{1,12})(?:-([0-9a-f]{8}))?")
# What a look finds that speaks against a head.
OF_A_HEAD = ("program", "chain", "other chain", "head")
HERE = {"here": "ledger", "section": "workshop"}


class KeptElsewhereForm(PageForm):
    """A code from paper, or a sheet; one of them at a time."""

    code = forms.CharField(label=_("Head or receipt, as printed"), max_length=400, required=False, help_text=_(
        "For instance 128-7K3M-9QRS-TVWX-YZ01-C, or 128-3f9a1c2e; the number alone finds the entry."))  # fmt: skip
    sheet = forms.FileField(label=_("Worksheet (PDF)"), max_length=200, required=False)

    def clean(self) -> dict[str, Any]:
        """Read what was given, as the command line reads it."""
        said = super().clean() or {}
        code, sheet = str(said.get("code") or "").strip(), said.get("sheet")
        if code and not sheet:
            self._read(said, "code", code)
        elif code or not sheet:
            self.add_error("code", _("Give one of them: the code, or the worksheet."))
        elif sheet.size > LARGEST_SHEET:
            self.add_error("sheet", _("It is larger than 20 MB, and no worksheet is: choose the sheet's own file."))
        else:
            self._read(said, "sheet", sheet.read())
        return said

    def _read(self, said: dict[str, Any], field: str, given: Any) -> None:
        try:
            if field == "sheet":
                said["replayed"] = [sheet_replayed(each) for each in read_worksheets(given)]
            else:
                said["receipt"] = RECEIPT.fullmatch(given.lower())
                said["head"] = None if said["receipt"] else read_code(given)
        except InputRefused as refused:
            self.add_error(field, "\n".join(sentence(each) for each in refused.refusals))


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def ledger_compare(request: HttpRequest) -> HttpResponse:
    """Hold what was kept elsewhere against the records; nothing is kept of it, and no signature stopped by it."""
    refuse_who_may_not(request, Act.VERIFY)
    given = request.GET if request.GET.get("code") else None
    form = KeptElsewhereForm(sent(request) if request.method == "POST" else given, request.FILES or None)
    context: dict[str, Any] = {**HERE, "form": form}
    if form.is_bound and form.is_valid():
        context |= _answer(request, form.cleaned_data)
    return render(request, "web/ledger_compare.html", context, status=422 if form.errors else 200)


def _answer(request: HttpRequest, said: dict[str, Any]) -> dict[str, Any]:
    if said.get("replayed"):
        return {"sheets": [_told(each) for each in said["replayed"]]}
    if said["receipt"]:
        return _of_a_receipt(request, int(said["receipt"][1]), said["receipt"][2])
    head = said["head"]
    position = head.head.position if isinstance(head, SignedHead) else head.position
    # The chains and the head alone: tables, rows and journal are looked at by "Verify now".
    looked = look_at_the_records(Places(data=Path(settings.DATA_FOLDER), chains_only=True), [head])
    found = [each for each in looked.findings if each.what in OF_A_HEAD]
    entry = entry_found(viewer_of(request), position)
    # A head of the security chain has another entry of this number.
    is_its_own = entry is not None and _is_of(head, entry.digest)
    against = {each.what for each in found if each.stops != NOTHING}
    told = {"compared": "head", "position": position, "findings": found, "speaks_against": bool(against)}
    # A chain that is broken elsewhere may still give the head.
    return told | {"is_the_head": "head" in against, "entry": entry if is_its_own else None}


def _told(sheet: dict[str, Any]) -> dict[str, Any]:
    """Give a sheet that was worked out again, and whether all that differs is how another version rounds."""
    return sheet | {"by_rounding": all(map(is_rounding, sheet["differences"]))}


def _is_of(head: SignedHead | ShortHead, digest: str) -> bool:
    return head.head.digest == digest if isinstance(head, SignedHead) else head.agrees(digest)


def _of_a_receipt(request: HttpRequest, position: int, begins: str | None) -> dict[str, Any]:
    entry = entry_found(viewer_of(request), position)
    agrees = entry is not None and begins is not None and entry.receipt == f"{position}-{begins}"
    return {"compared": "receipt", "position": position, "begins": begins, "entry": entry, "agrees": agrees}
