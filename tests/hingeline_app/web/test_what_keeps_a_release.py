"""What keeps a release: an old result, a stale page, a query, a held step; and the paper of work that stops."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from django.test import Client

from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.jobs import choose_limits, open_order, set_detail
from hingeline_app.records.actions.limits import enter_limits, read_again
from hingeline_app.records.actions.releasing import release
from hingeline_app.records.models import Account, Job
from hingeline_app.records.proof import Proof
from hingeline_app.records.queries.signing import seen_by_number
from hingeline_app.records.roles import SECOND_INSPECTOR
from hingeline_app.records.write_door import Actor
from hingeline_app.web.steps.release import judged
from tests.hingeline_app.web.after_the_weighing import (
    PRINTED,
    closed,
    entry,
    field_of,
    look_at_all,
    page,
    shop,
    signs,
    somebody,
    weigh,
)
from tests.hingeline_app.web.conftest import PASSWORD, Fenholt
from tests.hingeline_app.web.printed import words

__all__ = ["shop"]

pytestmark = pytest.mark.django_db


@pytest.mark.slow
def test_a_result_from_other_limits_than_the_chosen_row_keeps_the_release(shop: Fenholt) -> None:
    """Another row is chosen after the weighing: the statement was made against the first."""
    printed = PRINTED | {"moment": ["0.00 N m", "1.00 N m"]}
    row = enter_limits(shop.mate, shop.approved["issue"], "Elevator, left half", "27-19", printed)
    read_again(somebody(shop, "Cy Vale", "cy", "FH.66.30", SECOND_INSPECTOR), row.pk, printed)
    closed(shop)
    assert "from other limits" not in page(shop.client("ruth"), shop, "release")
    job = Job.objects.get(number=shop.job)
    choose_limits(shop.mate, job.pk, row.pk, job.limit_row_id)
    assert "worked out from other limits than the chosen row has now" in page(shop.client("ruth"), shop, "release")
    answer = signs(shop.client("ruth"), f"/job/{shop.job}/sign/release")
    assert answer.status_code == 422
    assert Job.objects.get(number=shop.job).state == "open"


@pytest.mark.slow
def test_a_query_and_a_held_step_keep_the_release_and_a_job_changes_hands(shop: Fenholt) -> None:
    """A query without its answer is open; the hand-over says to whom and how it stands; incomplete work says why."""
    worker = shop.client("jon")
    assert entry(worker, shop, "query", asked="May the tube be blended?", was="null")[0] == 200
    assert "The query to the design holder has no answer" in page(worker, shop, "release")
    assert entry(worker, shop, "step-state", about="refit", state="held")[0] == 422
    assert entry(worker, shop, "step-state", about="refit", state="held", reason="bolt on order")[0] == 200
    assert "Refit is held: bolt on order" in page(worker, shop, "release")
    to = str(shop.administrator.person.pk)  # type: ignore[union-attr]
    assert entry(worker, shop, "hand-over", to=to, note="half refitted", was="null")[0] == 200
    assert "Mara Tarrow" in page(worker, shop, "release")
    assert entry(worker, shop, "incomplete", reason="no bolt before Monday", was="null")[0] == 200
    assert "no bolt before Monday" in page(worker, shop, "release")


def inspected(shop: Fenholt) -> Client:
    """Close the job and sign its second inspection; give the certifying person's browser."""
    closed(shop)
    second = shop.client("ines")
    look_at_all(second, shop)
    assert signs(second, f"/job/{shop.job}/sign/second").status_code == 302
    return shop.client("ruth")


@pytest.mark.slow
def test_a_stale_signing_page_releases_nothing_after_the_weighing_changed_to_outside(shop: Fenholt) -> None:
    """The page was opened while it was inside; another tablet weighs again, outside: of the job and over its order."""
    ruth = inspected(shop)
    address = f"/job/{shop.job}/sign/release"
    shown = ruth.get(address).content.decode()
    assert "In the way" not in shown
    weigh(shop, ("940 g", "945 g", "940 g"))
    sent = {name: field_of(shown, name) for name in ("seen", "proof_over", "command_key")}
    answer = ruth.post(address, {**sent, "proof_password": PASSWORD})
    assert answer.status_code == 422
    assert "changed since this page was shown" in answer.content.decode()
    assert Job.objects.get(number=shop.job).state == "open"


@pytest.mark.slow
def test_the_act_itself_refuses_what_the_bench_finds_whatever_page_was_shown(shop: Fenholt) -> None:
    """Whoever signs under the digest of this very moment is refused inside the door: outside, a step held, a crack."""
    weigh(shop, ("940 g", "945 g", "940 g"))
    inspected(shop)
    assert "not shown to be inside" in release_now(shop)
    weigh(shop)
    worker = shop.client("jon")
    held = {"about": "refit", "state": "held", "was": "not needed", "reason": "bolt late"}
    assert entry(worker, shop, "step-state", **held)[0] == 200
    entry(worker, shop, "arm-point", point="root", seen="crack", method="dye penetrant", note="4 mm")
    look_at_all(shop.client("ines"), shop)
    assert signs(shop.client("ines"), f"/job/{shop.job}/sign/second").status_code == 302
    refused = release_now(shop)
    assert "Refit is held: bolt late" in refused
    assert "Root: crack check, all round: crack" in refused
    assert Job.objects.get(number=shop.job).state == "open"


@pytest.mark.slow
def test_the_release_of_an_order_asks_the_bench_of_each_of_its_jobs(shop: Fenholt) -> None:
    """One job of the order has a held step: none of the order is released, by the act under the newest digest."""
    inspected(shop)
    order = open_order(shop.mate, shop.aircraft, "Repaint")
    Job.objects.filter(number=shop.job).update(work_order=order.pk)
    set_detail(shop.mate, Job.objects.get(number=shop.job).pk, "refit.state", "not needed", "held")
    look_at_all(shop.client("ines"), shop)
    assert signs(shop.client("ines"), f"/order/{order.number}/second-inspection").status_code == 302
    answer = signs(shop.client("ruth"), f"/order/{order.number}/release")
    assert answer.status_code == 422
    assert "Refit is held" in answer.content.decode()
    assert Job.objects.get(number=shop.job).state == "open"


def release_now(shop: Fenholt) -> str:
    """Call the act under what the job is at this moment; give the refusal."""
    account = Account.objects.get(sign_in_name="ruth")
    seen = {Job.objects.get(number=shop.job).pk: seen_by_number(account.person, shop.job)}
    fresh = Proof(account.person.pk, account.pk, "password", datetime.now(UTC))
    with pytest.raises(NotAllowed) as refused:
        release(Actor(shop.workshop, account.person, account), seen, fresh, judge=judged)
    return str(refused.value.reason)


@pytest.mark.slow
def test_work_that_stops_incomplete_has_a_paper_of_its_own_from_the_job_and_its_order(shop: Fenholt) -> None:
    """Why, how it is left, what is open; refused until somebody stated it; never called a release."""
    worker = shop.client("jon")
    assert worker.get(f"/job/{shop.job}/incomplete.pdf").status_code == 422
    held = {"about": "refit", "state": "held", "reason": "bolt on order"}
    assert entry(worker, shop, "step-state", **held)[0] == 200
    assert entry(worker, shop, "query", asked="May the tube be blended?", was="null")[0] == 200
    assert entry(worker, shop, "incomplete", reason="no bolt before Monday, left without pin 3", was="null")[0] == 200
    assert f"/job/{shop.job}/incomplete.pdf" in page(worker, shop, "release")
    order = open_order(shop.mate, shop.aircraft, "Repaint")
    refused = worker.get(f"/order/{order.number}/incomplete.pdf")
    assert refused.status_code == 422
    # Back to the order: the job of the same number is another's.
    assert f'class="button main" href="/order/{order.number}"' in refused.content.decode()
    Job.objects.filter(number=shop.job).update(work_order=order.pk)
    assert f"/order/{order.number}/incomplete.pdf" in worker.get(f"/order/{order.number}").content.decode()
    for address in (f"/job/{shop.job}/incomplete.pdf", f"/order/{order.number}/incomplete.pdf"):
        said = words(worker.get(address).content)
        for each in (
            "Not complete: not to be flown",
            "no bolt before Monday, left without pin 3",
            "Refit is held: bolt on order",
            "query to the design holder:",
            "May the tube be blended?",
            "tail-heavy",
            "This paper is not a release.",
        ):
            assert each in said, each
    worker.cookies["language"] = "fr"
    french = words(worker.get(f"/job/{shop.job}/incomplete.pdf?language=fr").content)
    for each in ("Indiqué", "Arrivée : ", "Peser : fait", "Remise en place : suspendu", "question au titulaire"):
        assert each in french, each
    assert "stated" not in french
    assert "May the tube be blended?" in french, "what was typed stays as it was typed"


@pytest.mark.slow
def test_reported_vibration_is_called_an_occurrence_before_the_release_in_whatever_language_it_was_chosen(
    shop: Fenholt,
) -> None:
    """The words why a job is here are those of the page it was opened on: German has no "vibration" in them."""
    worker, job = shop.client("jon"), Job.objects.get(number=shop.job)
    assert "(EU) No 376/2014" not in page(worker, shop, "release")
    set_detail(shop.mate, job.pk, "why", job.details.get("why"), "vibration")
    assert "(EU) No 376/2014" in page(worker, shop, "release")
