"""Where the predicted moment should come to lie: the band of the rule, and the moment aimed at."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hingeline.balance.ballast.model import BallastTask

SLIP = 2e-7  # N m: more than a solver's tolerance for whole numbers can make
HAIR = 1e-9  # N m: by the guarded rule the interval may not even touch the limit


@dataclass(frozen=True, slots=True)
class Aim:
    """The band that the predicted moment has to lie in, and the moment aimed at in it [N m].

    ``empty``: the guarded band holds no moment at all; then nothing can be predicted inside.
    """

    low: float | None
    high: float | None
    moment: float
    empty: bool = False

    def holds(self, moment: float, rounding: float = 0.0) -> bool:
        """Tell whether a moment lies in the band, on its ends included."""
        above = self.low is None or moment >= self.low - rounding
        below = self.high is None or moment <= self.high + rounding
        return above and below and not self.empty

    def within(self, other: Aim) -> bool:
        """Tell whether the band lies in another one."""
        low = other.low is None or (self.low is not None and self.low >= other.low)
        high = other.high is None or (self.high is not None and self.high <= other.high)
        return low and high

    def narrower(self) -> Aim:
        """Give the same with the band drawn in by what a solver may let slip."""
        low = None if self.low is None else self.low + SLIP
        high = None if self.high is None else self.high - SLIP
        return replace(self, low=low, high=high, moment=_kept(self.moment, low, high))

    def open(self) -> Aim:
        """Give the same without a band."""
        return replace(self, low=None, high=None, empty=False)


def aim_of(task: BallastTask, expanded: float | None) -> Aim:
    """Draw the band in by U where the rule is guarded, and find the moment aimed at within it.

    A target beyond the end of the band is replaced by that end: of all moments in the band it is the
    nearest one.
    """
    low, high = _band(task, expanded)
    if low is not None and high is not None and low > high:
        return Aim(low, high, _wanted(task, None, None), empty=True)
    return Aim(low, high, _kept(_wanted(task, low, high), low, high))


def _band(task: BallastTask, expanded: float | None) -> tuple[float | None, float | None]:
    limits = task.limits
    if limits.rule == "simple" or expanded is None:
        return limits.lower, limits.upper
    low = None if limits.lower is None else limits.lower + expanded + HAIR
    high = None if limits.upper is None else limits.upper - expanded - HAIR
    return low, high


def _wanted(task: BallastTask, low: float | None, high: float | None) -> float:
    if task.target == "moment" and task.target_moment is not None:
        return task.target_moment
    lower, upper = task.limits.lower, task.limits.upper
    if task.target == "middle" and lower is not None and upper is not None:
        return (lower + upper) / 2.0
    if low is None and high is None:
        low, high = lower, upper
    return _kept(task.moment.value, low, high)


def _kept(moment: float, low: float | None, high: float | None) -> float:
    if low is not None and high is not None and low > high:
        return (low + high) / 2.0
    if low is not None and moment < low:
        return low
    return high if high is not None and moment > high else moment
