"""What is on the bench of the invented workshop: a repaint of three surfaces, and jobs in every state."""

from __future__ import annotations

from collections.abc import Callable
from uuid import UUID

from hingeline_app.demo.approved import enter_approved_data
from hingeline_app.demo.cast import Workshop, found_workshop
from hingeline_app.demo.checks import plan_checks
from hingeline_app.demo.hangar import Hangar, fill_hangar
from hingeline_app.demo.recorded import take_recordings_in
from hingeline_app.demo.work import Surface, Work
from hingeline_app.records.actions.jobs import open_order, void_job

Say = Callable[[str], None]
OUTSIDE = ("840 g", "845 g", "840 g", "845 g", "840 g")
INSIDE = ("740 g", "735 g", "740 g", "740 g", "735 g")
RUDDER = ("120 g", "125 g", "120 g", "120 g", "125 g")
NO_ARM = "The weight arm was not disturbed."


def tell(say: Say) -> Workshop:
    """Fill an empty folder with the invented workshop; give its people and its tablet's secret."""
    say("Setting up the invented workshop of Fenholt: people, aircraft, approved data, jobs, checks.")
    shop = found_workshop()
    hangar, rows = fill_hangar(shop), enter_approved_data(shop)
    _repaint(shop, hangar, rows)
    _released(shop, hangar, rows)
    _waiting(shop, hangar, rows)
    _too_close(shop, hangar, rows)
    _others(shop, hangar, rows)
    plan_checks(shop, hangar)
    take_recordings_in(shop, hangar)
    return shop


def _repaint(shop: Workshop, hangar: Hangar, rows: dict[str, UUID]) -> None:
    """Open three surfaces of one visit: one outside its limits, one just arrived, one inside."""
    order = open_order(shop.mara, hangar.aircraft["T2-07"], "Tail repainted")
    left = Surface("T2-07", "Elevator, left half", "4.100 kg", "255 mm", OUTSIDE)
    work = Work(shop, hangar, shop.mara, left, "Repainted", order.pk).arrives().limits(rows[left.name])
    work.weigh().may_be_corrected()
    right = Surface("T2-07", "Elevator, right half", "4.080 kg", "255 mm", ())
    Work(shop, hangar, shop.mara, right, "Repainted", order.pk)
    rudder = Surface("T2-07", "Rudder", "3.350 kg", "330 mm", RUDDER, "forward")
    Work(shop, hangar, shop.jon, rudder, "Repainted", order.pk).arrives().limits(rows["Rudder"]).weigh()


def _released(shop: Workshop, hangar: Hangar, rows: dict[str, UUID]) -> None:
    """Release the elevator half that drifts: weighed, inspected by another, released."""
    what = Surface("T2-03", "Elevator, left half", "4.210 kg", "255 mm", INSIDE)
    work = Work(shop, hangar, shop.jon, what, "Annual check: weighed").arrives().limits(rows[what.name]).weigh()
    work.closes("arm", reason=NO_ARM).closes("refit").asks().inspected(shop.ines).released(shop.ruth)


def _waiting(shop: Workshop, hangar: Hangar, rows: dict[str, UUID]) -> None:
    """Leave one weighed and refitted; the second inspection is asked for."""
    what = Surface("T2-15", "Elevator, left half", "4.060 kg", "255 mm", INSIDE)
    work = Work(shop, hangar, shop.mara, what, "Corrosion treated").arrives().limits(rows[what.name]).weigh()
    work.closes("arm", "refit").asks()


def _too_close(shop: Workshop, hangar: Hangar, rows: dict[str, UUID]) -> None:
    """Weigh a rudder by the guarded rule, nearer to its limit than the scale can tell; and an expired scale."""
    what = Surface("T2-11", "Rudder", "3.410 kg", "330 mm", ("220 g", "225 g", "220 g"), "forward")
    Work(shop, hangar, shop.jon, what, "Repaired").arrives().limits(rows["Rudder"]).weigh()
    half = Surface("T2-11", "Elevator, right half", "4.120 kg", "255 mm", ("812 g", "813 g", "812 g"))
    Work(shop, hangar, shop.jon, half, "Weight off").arrives().limits(rows[half.name]).weigh(scale=hangar.expired)


def _others(shop: Workshop, hangar: Hangar, rows: dict[str, UUID]) -> None:
    """Open the rest: vibration reported; limits that one person read; the wrong aircraft; a weighing under way."""
    shaken = Surface("T2-15", "Rudder", "3.300 kg", "330 mm", ())
    Work(shop, hangar, shop.mara, shaken, "Vibration reported")
    aileron = Surface("T2-03", "Aileron, left", "2.150 kg", "155 mm", ("205 g", "205 g"))
    work = Work(shop, hangar, shop.jon, aileron, "Painted").arrives().limits(rows["Aileron, left"])
    work.weigh(end=False)
    wrong = Surface("T2-11", "Elevator, left half", "4.100 kg", "255 mm", ())
    void_job(shop.jon, Work(shop, hangar, shop.jon, wrong, "Repainted").job.pk, "Opened on the wrong aircraft.")
