"""Which result is worked out by what, from the job file it was asked by."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hingeline.balance import weigh
from hingeline.document import to_document
from hingeline_app.files.weighing_file import read_weighing


def worked_out_again(result_format: str, data: bytes) -> dict[str, Any]:
    """Work a job file out anew, by what made a result of this format.

    Raises
    ------
    KeyError
        Nothing here makes results of this format.
    InputRefused
        The file cannot be read by this version.
    """
    return to_document(WORKED_OUT[result_format](data))


def _weighing(data: bytes) -> object:
    return weigh(read_weighing(data).weighing)


def _correction(data: bytes) -> object:
    from hingeline.balance.ballast import plan_ballast
    from hingeline_app.files.ballast_file import read_ballast

    return plan_ballast(read_ballast(data).task)


def _coating(data: bytes) -> object:
    from hingeline.balance.coating import predict_coating
    from hingeline_app.files.coating_file import read_coating

    return predict_coating(read_coating(data, kept=True))


def _swing(data: bytes) -> object:
    from hingeline.balance.swing import inertia_by_swing
    from hingeline_app.files.swing_file import read_swing

    return inertia_by_swing(read_swing(data))


def _dynamic(data: bytes) -> object:
    from hingeline.balance.spread import dynamic_balance
    from hingeline_app.files.dynamic_file import read_dynamic

    return dynamic_balance(read_dynamic(data))


def _arm(data: bytes) -> object:
    from hingeline.arm import examine
    from hingeline_app.files.arm_file import read_arm

    return examine(read_arm(data))


WORKED_OUT: dict[str, Callable[[bytes], object]] = {
    "hingeline/weighing-result/1": _weighing,
    "hingeline/ballast-result/1": _correction,
    "hingeline/coating-result/1": _coating,
    "hingeline/swing-result/1": _swing,
    "hingeline/dynamic-result/1": _dynamic,
    "hingeline/arm-result/1": _arm,
}
