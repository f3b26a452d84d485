"""The checks ahead of the invented aircraft: one overdue, one after vibration, some coming, one nobody knows."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from uuid import UUID

from hingeline import due
from hingeline_app.demo.cast import Workshop
from hingeline_app.demo.hangar import Hangar
from hingeline_app.records.actions.signing_off import DoneAs, put_off, sign_off
from hingeline_app.records.actions.tasks import Line, add_tasks, end_task
from hingeline_app.records.dates import today
from hingeline_app.records.queries.hangar_choices import part_choices

ARM_FILE = """format = "hingeline/arm/1"
name = "Merle T2, elevator balance arm (invented)"

[tube]
outside_diameter = {value = "12.00 mm", limit = "0.05 mm"}
wall = {value = "1.50 mm", expanded = "0.04 mm", k = 2}
length = "172 mm"
hinge_to_root = "8 mm"
modulus = "205 GPa"
density = "7850 kg/m^3"
yield = "300 MPa"
ultimate = "440 MPa"

[loss]
where = "outside"
depth = {value = "0.20 mm", standard = "0.03 mm"}

[weight]
mass = {value = "0.600 kg", limit = "1 g"}

[crack]
geometry = "constant"
geometry_factor = 1.12
stress_range = {value = "60 MPa", limit = "15 MPa"}
toughness = "75 MPa m^0.5"
growth_constant = 6.9e-12
growth_exponent = 3.0
cycles_per_hour = 250
factor = 3
approved_interval = "100 h"

[detection]
method = "penetrant"
"""
POINTS = ("Weight tight, lock wire whole", "Wall thickness, paint off", "Weld collar: dye penetrant, all round")
HUNDRED = due.Task(
    "Balance-weight arm: crack check",
    source="directive",
    reference="Notice 2, issue C (invented)",
    applies_to="arms up to A15L",
    every=due.Interval(hours=Decimal(100)),
    counts_from="done",
)
YEARLY = due.Task(
    "Rudder: hinge play and friction",
    source="programme",
    reference="Fenholt programme 3, page 2 (invented)",
    every=due.Interval(months=12),
    months_are="anniversary",
    tolerance=due.Tolerance(months=1),
    counts_from="done",
)
TAB = due.Task(
    "Trim tab: free play",
    source="manual",
    reference="Merle T2 maintenance manual 5-10, issue C (invented)",
    every=due.Interval(hours=Decimal(50), months=6),
    months_are="anniversary",
    join="first",
    tolerance=due.Tolerance(hours=Decimal(5)),
    counts_from="late from due, early from done",
)
PINS = due.Task("Elevator hinge pins: renew", source="limitation", every=due.Interval(landings=500), counts_from="done")


def plan_checks(shop: Workshop, hangar: Hangar) -> None:
    """Enter the tasks with their history."""
    day, planes = today(shop.mara.workshop), hangar.aircraft
    _arms(shop, day)
    for plane, ago in (("T2-15", 344), ("T2-07", 120)):
        (task,) = add_tasks(shop.mara, [planes[plane]], Line(YEARLY))
        _done(shop, task.pk, day - timedelta(days=ago), None)
    add_tasks(shop.mara, [planes["T2-11"]], Line(YEARLY))
    (tab,) = add_tasks(shop.mara, [planes["T2-07"]], Line(TAB))
    _done(shop, tab.pk, day - timedelta(days=31), "2411.7")
    (late,) = add_tasks(shop.mara, [planes["T2-15"]], Line(TAB))
    _done(shop, late.pk, day - timedelta(days=184), "790.0")
    put_off(
        shop.mara, late.pk, approval="Variation 14 (invented)", reason="The spring is on its way.",
        until_date=day + timedelta(days=12),
    )  # fmt: skip
    (pins,) = add_tasks(shop.mara, [planes["T2-03"]], Line(PINS))
    _done(shop, pins.pk, day - timedelta(days=31), "3120.4", "8204")
    shaken = due.Happening(day - timedelta(days=2), "vibration reported")
    add_tasks(
        shop.mara, [planes["T2-15"]],
        Line(due.Task("Tail: inspect after vibration", source="manual", before_next_flight=True, event=shaken)),
    )  # fmt: skip
    old = due.Task("Arm replacement, notice 1", source="directive", applies=False, applies_to="arms of issue A")
    add_tasks(shop.mara, [planes["T2-11"]], Line(old))
    (paint,) = add_tasks(
        shop.mara, [planes["T2-03"]], Line(due.Task("Elevator: weigh after repaint", before_next_flight=True))
    )
    end_task(shop.mara, paint.pk, day, "weighed and released, job 4")


def _arms(shop: Workshop, day: date) -> None:
    line = Line(HUNDRED, check_points=POINTS, arm_file=ARM_FILE)
    assert shop.mara.person is not None, "everybody of the cast is a person"
    arms = {each.words.rpartition(" ")[2]: each.identifier for each in part_choices(shop.mara.person)}
    for serial, hours in (("A03L", "3045.7"), ("A07L", "2368.0")):
        (task,) = add_tasks(shop.mara, [arms[serial]], line)
        _done(shop, task.pk, day - timedelta(days=96), hours)


def _done(shop: Workshop, task: UUID, on: date, hours: str | None, landings: str | None = None) -> None:
    done = DoneAs(
        on,
        None if hours is None else Decimal(hours),
        None if landings is None else Decimal(landings),
        paper=f"CRS {on:%y%j} (invented)",
        signer="P. Orme",
    )
    sign_off(shop.jon, task, done)
