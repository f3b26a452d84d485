"""Published cases and both routes of the weighing, worked out on the user's own machine. Nothing here prints.

Files
-----
model       what came out: cases, values, the two routes
cases.toml  published cases, each with its source; no maker's numbers
cases       how each kind of case is computed, and compared with the print
arms, dues  the same of arms, and of what is due
weighings   invented weighings of the Merle T2, as many as wanted
run         puts it together
"""

from __future__ import annotations

from hingeline_app.selftest.model import CaseOutcome, SelfTest, TwoRoutes, Value
from hingeline_app.selftest.run import run_selftest

__all__ = ["CaseOutcome", "SelfTest", "TwoRoutes", "Value", "run_selftest"]
