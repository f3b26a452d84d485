"""A workshop begins: tables of people, aircraft, parts, counters and history, looked at first, then taken in whole."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_http_methods, require_POST

from hingeline.errors import InputRefused, Refusal
from hingeline_app.files.onboarding_columns import KINDS
from hingeline_app.files.onboarding_file import LARGEST_FILE, Sheet, read_tables
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.onboarding import Onboarded, onboard, preview
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.requests import sent, visit_of
from hingeline_app.web.waiting_files import keep_waiting, let_go, waiting_file

HERE = {"here": "onboarding", "section": "workshop"}
SHOWN_ROWS = 8


class TableForm(PageForm):
    """A table."""

    table = forms.FileField(label=gettext_lazy("Table: CSV in UTF-8, or a workbook (.xlsx)"), max_length=200)

    def clean_table(self) -> Any:
        """Refuse what is larger than a table."""
        table = self.cleaned_data["table"]
        if table.size > LARGEST_FILE:
            raise forms.ValidationError(_("It has more than 20 MB: give the table alone."))
        return table


@open_to(Who.ADMINISTRATOR)
@require_http_methods(["GET", "HEAD", "POST"])
def onboarding(request: HttpRequest) -> HttpResponse:
    """Take a table, show what it would enter, or every cell that stands against it."""
    form = TableForm(sent(request), request.FILES or None)
    if request.method != "POST" or not form.is_valid():
        return _page(request, form, status=422 if form.errors else 200)
    table = form.cleaned_data["table"]
    let_go(request.session)
    data = table.read()
    tables, found, faults = _looked_at(request, data, table.name)
    if faults:
        return _page(request, form, faults=faults, status=422)
    keep_waiting(request.session, table.name, data)
    return _page(request, form, found=found, tables=tables, name=table.name)


@open_to(Who.ADMINISTRATOR)
@require_POST
def onboarding_take_in(request: HttpRequest) -> HttpResponse:
    """Enter the table that was looked at: all of its rows, or none."""
    kept = waiting_file(request.session)
    if kept is None:
        messages.warning(request, _("The table is not here any more. Send it again."))
        return redirect("onboarding")
    name, data = kept
    try:
        done = onboard(visit_of(request).actor, read_tables(data, name))
    except (InputRefused, NotAllowed) as refused:
        return _page(request, TableForm(), faults=_faults(refused), status=422)
    let_go(request.session)
    assert done.receipt is not None, "what was entered has a receipt"
    messages.success(request, _("Taken in: %(rows)s. Receipt %(receipt)s.") % {
        "rows": ", ".join(f"{count} {kind}" for kind, count in done.rows.items()), "receipt": done.receipt.short
    })  # fmt: skip
    return redirect("onboarding")


def _looked_at(
    request: HttpRequest, data: bytes, name: str
) -> tuple[Sequence[Sheet], Onboarded | None, list[Refusal | str]]:
    try:
        tables = read_tables(data, name)
        return tables, preview(visit_of(request).actor, tables), []
    except (InputRefused, NotAllowed) as refused:
        return (), None, _faults(refused)


def _faults(refused: InputRefused | NotAllowed) -> list[Refusal | str]:
    return list(refused.refusals) if isinstance(refused, InputRefused) else [str(refused.reason)]


def _page(request: HttpRequest, form: TableForm, status: int = 200, **more: Any) -> HttpResponse:
    tables = [(each.kind, _first_rows(each), len(each.rows)) for each in more.pop("tables", ())]
    kinds = [(kind, [(name, column.needed) for name, column in columns.items()]) for kind, columns in KINDS.items()]
    context = {**HERE, "form": form, "kinds": kinds, "tables": tables, "shown": SHOWN_ROWS, **more}
    return render(request, "web/onboarding.html", context, status=status)


def _first_rows(sheet: Sheet) -> dict[str, Any]:
    columns = [name for name in KINDS[sheet.kind] if any(row.cells.get(name) for row in sheet.rows)]
    rows = [(row.number, [_shown(row.cells.get(name)) for name in columns]) for row in sheet.rows[:SHOWN_ROWS]]
    return {"columns": columns, "rows": rows}


def _shown(value: Any) -> str:
    return ", ".join(map(str, value)) if isinstance(value, tuple | list) else "" if value is None else str(value)
