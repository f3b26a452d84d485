"""The page of ``hingeline ballast``: what is predicted first, then what to do, then what it does."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from hingeline_app.cli.page import Page, value_of
from hingeline_app.figures.correction.bars import bars_of
from hingeline_app.figures.correction.words import (
    amount_words,
    before_and_after,
    change_words,
    load_words,
    plan_words,
)
from hingeline_app.figures.limits.change_text import limit_change_text
from hingeline_app.figures.wording import (
    describe_margin,
    format_measured,
    format_moment_range,
    format_percent,
    format_probability,
    format_scaled,
    measured_places,
)

Document = Mapping[str, Any]


def show_ballast(document: Document) -> None:
    """Show a correction."""
    page = Page()
    name = (document["surface"] or {}).get("name") or "The surface"
    page.title(name, "the smallest change that the approved data allows: predicted, not weighed")
    _statement(page, document)
    page.drawing(limit_change_text(*bars_of(document), page.columns - 4))
    _changes(page, document)
    page.table("What it does", ["", "before", "after"], before_and_after(document))
    _limits(page, document)
    _remedies(page, document)
    _others(page, document["plans"][1:])
    _loads(page, document["changes"])
    _budget(page, document["budget"])
    page.sentences("Notes", document["notes"])
    page.cautions(document["cautions"])
    page.show()


def _statement(page: Page, document: Document) -> None:
    after, word, rule = document["moment_after"], document["predicted_statement"], document["rule"]
    limits = value_of(document["limits"]["lower"]), value_of(document["limits"]["upper"])
    margin = describe_margin(after["value"], *limits, measured_places(after["value"], after["expanded_uncertainty"]))
    sentence = f"{_moment(after)}: {margin}."
    if document["reason"]:
        sentence += f" No plan meets what is asked. {document['reason']}"
    if word is None:
        page.statement(None, f"Predicted, not weighed: {sentence}", "The notes say what is missing.")
        return
    other = "guarded" if rule == "simple" else "simple"
    found = document[f"predicted_statement_{other}"]
    also = f"By the {other} rule: {found or 'no statement, since no uncertainty is known'}."
    page.statement(word, sentence, f"By the {rule} rule. {also} Not weighed: a new weighing decides.", predicted=True)


def _moment(quantity: Document) -> str:
    return format_measured(quantity["value"], quantity["expanded_uncertainty"], "N m", sense=True)


def _changes(page: Page, document: Document) -> None:
    if not document["changes"]:
        page.line("Nothing is to be changed.")
        return
    heading = "What to change" if document["feasible"] else "The nearest that is allowed (it is not enough)"
    head = ["place", "arm", "change", "carried then", "moment"]
    page.table(heading, head, [change_words(change) for change in document["changes"]])
    for change in document["changes"]:
        if change["pieces"]:
            pieces = " + ".join(amount_words(piece["value"]) for piece in change["pieces"])
            page.line(f"{change['place']}: pieces {pieces}.")
        if change["fixed_mass"]["value"]:
            page.line(f"{change['place']}: bracket and screws {amount_words(change['fixed_mass']['value'])} included.")


def _limits(page: Page, document: Document) -> None:
    limits = document["limits"]
    rows = [("approved limits", format_moment_range(value_of(limits["lower"]), value_of(limits["upper"])))]
    rows.append(("source of the limits", document["limits_source"] or "not given"))
    rows.append(("aimed at", format_measured(document["target_moment"]["value"], None, "N m", sense=True)))
    if document["predicted_probability_within"] is not None:
        share = f"{format_probability(document['predicted_probability_within'])} (normal, by predicted value and u)"
        rows.append(("probability within", share))
    page.pairs(rows)


def _remedies(page: Page, document: Document) -> None:
    sentences = [each["sentence"] for each in document["remedies"]]
    page.sentences("Any one of these would make it possible, if the approved data allowed it", sentences)


def _others(page: Page, plans: Iterable[Document]) -> None:
    rows = [plan_words(plan) for plan in plans]
    if rows:
        page.table("Other plans", ["changes", "predicted", "moved in all", "K/I"], rows)


def _loads(page: Page, changes: Iterable[Document]) -> None:
    rows = [(change["place"], *load_words(change["load"])) for change in changes if change["load"]]
    if rows:
        head = ["loads on the weight, N", "normal, 24 g", "fore and aft, 12 g", "along the hinge, 12 g"]
        page.table("", head, rows)


def _budget(page: Page, budget: Iterable[Document]) -> None:
    rows = [(row["source"], format_scaled(row["contribution"], "N m"), format_percent(row["share"])) for row in budget]
    if len(rows) > 1:
        page.table("What the predicted ± is made of", ["cause", "of the moment, u", "share"], rows)
