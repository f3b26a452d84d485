"""From the bytes of a job file to its checked tables: what the readers of the other job files share."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError

from hingeline.errors import InputRefused
from hingeline.units import STANDARD_GRAVITY, read
from hingeline_app.files.formats import refuse_other_format
from hingeline_app.files.job_text import read_with_faults
from hingeline_app.files.quantities import Given
from hingeline_app.files.refusals import refused

File = TypeVar("File", bound=BaseModel)


def read_tables(data: bytes, model: type[File], *, kept: bool = False) -> File:
    """Read a job file as the tables of its model; one that was kept with a result by what its words meant then.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    document, faults = read_with_faults(data)
    refuse_other_format(document, str(get_args(model.model_fields["format"].annotation)[0]))
    context = {"local_gravity": local_gravity_ahead(document.get("local_gravity")), "kept": kept}
    try:
        file = model.model_validate(document, context=context)
    except ValidationError as fault:
        told = {each.field for each in faults}
        more = [each for each in refused(fault, model).refusals if each.field not in told]
        raise InputRefused([*faults, *more]) from None
    if faults:
        raise InputRefused(faults)
    return file


def local_gravity_ahead(text: Any) -> float:
    """Read the gravity ahead of the rest, which is converted with it; its faults are reported later."""
    try:
        gravity = STANDARD_GRAVITY if text is None else read(text, "acceleration")
    except InputRefused:
        return STANDARD_GRAVITY
    return gravity if gravity > 0.0 else STANDARD_GRAVITY


def apart(fields: Mapping[str, Any]) -> dict[str, Any]:
    """Part each measured quantity into ``name`` and ``name_uncertainty``, as the library's records have them."""
    parted: dict[str, Any] = {}
    for name, value in fields.items():
        if isinstance(value, Given):
            parted |= {name: value.value, f"{name}_uncertainty": value.stated}
        else:
            parted[name] = value
    return parted
