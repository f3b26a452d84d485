"""Scales, stands and materials: each ± is set once, here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from itertools import dropwhile
from typing import Any
from uuid import UUID

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.records.actions.entrance import NotAllowed, acting, signed_in
from hingeline_app.records.certificates import Certificate
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible, mark, remark
from hingeline_app.records.models import DailyCheck, Material, Result, Scale, Stand
from hingeline_app.records.plain_data import plain_data
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command


def add_scale(
    actor: Actor,
    name: str,
    *,
    step: str,
    largest: str,
    certificate: str = "",
    certificate_begins: date | None = None,
    certificate_expires: date | None = None,
    uncertainty: Mapping[str, Any] | None = None,
    check_weight: str = "",
    check_tolerance: str = "",
    command: Command | None = None,
) -> Scale:
    """Enter a scale.

    Raises
    ------
    InputRefused
        The name is taken; a mass cannot be read; the step is not above zero or above the largest; the
        certificate begins ahead, or ends before it begins.
    """
    with acting(actor, Act.KEEP_EQUIPMENT, "scale added", command=command) as entry:
        scale = Scale(workshop=actor.workshop, name=_free(Scale, actor, name))
        _describe(scale, step, largest, certificate, check_weight, check_tolerance)
        _certify(scale, certificate_begins, certificate_expires, uncertainty or {})
        entry.keep(scale)
    return scale


def correct_scale(
    actor: Actor,
    scale: UUID,
    reason: str,
    *,
    name: str,
    step: str,
    largest: str,
    check_weight: str = "",
    check_tolerance: str = "",
) -> Scale:
    """Enter anew what was typed wrong of a scale, or the check weight that it had not.

    Raises
    ------
    InputRefused
        As for :func:`add_scale`; name, step or largest mass changes, and a result rests on the scale.
    """
    with acting(actor, Act.KEEP_EQUIPMENT, "scale corrected", _because(reason)) as entry:
        kept = found(signed_in(actor), Scale, scale)
        before = {field: getattr(kept, field) for field in ("name", "step", "largest")}
        kept.name = legible("name", name, longest=60)
        if kept.name != before["name"]:
            _free(Scale, actor, kept.name)
        _describe(kept, step, largest, kept.certificate, check_weight, check_tolerance)
        for field, was in before.items():
            if getattr(kept, field) != was and Result.objects.filter(measurement__scale=kept).exists():
                remedy = "A result rests on it: withdraw this scale, and enter it anew under another name."
                raise InputRefused.of(field, getattr(kept, field), was, remedy)
        entry.keep(kept)
    return kept


def renew_certificate(
    actor: Actor,
    scale: UUID,
    certificate: str,
    begins: date,
    expires: date,
    uncertainty: Mapping[str, Any],
    command: Command | None = None,
) -> Scale:
    """Enter a new certificate, the days from which and until which it counts, and the uncertainty that it states.

    The one before it stays: weighings from before the first day of the new one rest on it, and on what it states. The
    same certificate entered again is corrected: it may begin sooner than was typed, or later, up to the same last day.

    Raises
    ------
    InputRefused
        It begins ahead, before another one that it follows, or after its last day.
    """
    with acting(actor, Act.KEEP_EQUIPMENT, "certificate renewed", command=command) as entry:
        kept = found(signed_in(actor), Scale, scale)
        before, name = kept.certificates, legible("certificate", certificate)
        if kept.certificate_begins is not None and begins < kept.certificate_begins and name != kept.certificate:
            expected = f"a day from {kept.certificate_begins} on"
            remedy = "The present one begins then. To correct its first day, enter it again by its own name."
            raise InputRefused.of("certificate begins", begins, expected, remedy)
        kept.certificate = name
        _certify(kept, begins, expires, uncertainty)
        others = dropwhile(lambda each: _is_corrected(each, kept), before)
        kept.certificates_before = [each.as_data() for each in others]
        entry.keep(kept)
    return kept


def _is_corrected(before: Certificate, now: Scale) -> bool:
    """Whether it is the same certificate, whose first day is corrected, once or again: as it was typed it never counts.

    Weighings of days that are not its own rest on the one before it. By another last day it is the next one, of a
    laboratory that gives all its certificates one name. One without a first day is not corrected by one with it:
    weighings of earlier days go on resting on it, as they did (decision 0191).
    """
    same = (before.name, before.expires) == (now.certificate, now.certificate_expires)
    return same and before.begins is not None


def _certify(scale: Scale, begins: date | None, expires: date | None, uncertainty: Mapping[str, Any]) -> None:
    """Let a certificate count from its first to its last day."""
    if begins is not None and begins > today(scale.workshop):
        raise InputRefused.of("certificate begins", begins, "a day that has come", "Check the date.")
    if begins is not None and expires is not None and expires < begins:
        raise InputRefused.of("certificate expires", expires, f"a day from {begins} on", "Check both dates.")
    scale.certificate_begins, scale.certificate_expires = begins, expires
    scale.uncertainty = plain_data("uncertainty", uncertainty)


def withdraw_scale(actor: Actor, scale: UUID, reason: str) -> Scale:
    """Take a scale out of use. One withdrawn before keeps its day: :class:`NotAllowed`."""
    with acting(actor, Act.KEEP_EQUIPMENT, "scale withdrawn", _because(reason)) as entry:
        kept = found(signed_in(actor), Scale, scale)
        if kept.withdrawn_on is not None:
            raise NotAllowed("This scale was withdrawn before.")
        kept.withdrawn_on = today(actor.workshop)
        entry.keep(kept)
    return kept


def check_scale(actor: Actor, scale: UUID, shown: str, command: Command | None = None) -> DailyCheck:
    """Enter what a scale shows today under its check weight. Outside the tolerance it is kept, and said.

    Raises
    ------
    InputRefused
        The scale has no check weight, or what it shows is no mass.
    """
    with acting(actor, Act.KEEP_EQUIPMENT, "scale checked", command=command) as entry:
        person = signed_in(actor)
        kept = found(person, Scale, scale)
        if not kept.check_weight or not kept.check_tolerance:
            remedy = "Enter its check weight and how far it may be off first."
            raise InputRefused.of("scale", kept.name, "a scale with a check weight", remedy)
        value = _mass("shown", shown)
        off = abs(value - _mass("check weight", kept.check_weight))
        check = DailyCheck(
            scale=kept,
            number=kept.checks.count() + 1,
            checked_on=today(actor.workshop),
            shown=shown.strip(),
            shown_kilograms=value,
            checked_by=person,
            # A weight that is off by just the tolerance is within, whatever the last binary digit says.
            is_within=off <= _mass("tolerance", kept.check_tolerance) * (1 + 1e-9),
        )
        entry.keep(check)
    return check


def add_stand(
    actor: Actor,
    name: str,
    *,
    masses: Sequence[Mapping[str, str]] = (),
    uncertainty: Mapping[str, Any] | None = None,
    command: Command | None = None,
) -> Stand:
    """Enter a stand with its mandrel and props, their masses, and the ± of its arms and levels."""
    with acting(actor, Act.KEEP_EQUIPMENT, "stand added", command=command) as entry:
        loose = [
            {"name": legible("name", each.get("name")), "mass": _typed_mass(each.get("mass", ""))} for each in masses
        ]
        stand = Stand(
            workshop=actor.workshop,
            name=_free(Stand, actor, name),
            masses=loose,
            uncertainty=plain_data("uncertainty", uncertainty or {}),
        )
        entry.keep(stand)
    return stand


def withdraw_stand(actor: Actor, stand: UUID, reason: str) -> Stand:
    """Take a stand out of use. One withdrawn before keeps its day: :class:`NotAllowed`."""
    with acting(actor, Act.KEEP_EQUIPMENT, "stand withdrawn", _because(reason)) as entry:
        kept = found(signed_in(actor), Stand, stand)
        if kept.withdrawn_on is not None:
            raise NotAllowed("This stand was withdrawn before.")
        kept.withdrawn_on = today(actor.workshop)
        entry.keep(kept)
    return kept


def add_material(
    actor: Actor,
    name: str,
    batch: str,
    release_certificate: str,
    received_on: date,
    *,
    expires_on: date | None = None,
    command: Command | None = None,
) -> Material:
    """Enter a batch of material with the certificate it came with.

    Raises
    ------
    InputRefused
        There is no certificate; the batch is here; it expires before it came.
    """
    with acting(actor, Act.KEEP_EQUIPMENT, "material added", command=command) as entry:
        material = Material(
            workshop=actor.workshop,
            name=legible("material", name),
            batch=mark("batch", batch),
            release_certificate=legible("release certificate", release_certificate),
            received_on=received_on,
            expires_on=expires_on,
        )
        if expires_on is not None and expires_on < received_on:
            raise InputRefused.of("expires on", expires_on, f"a day from {received_on} on", "Check both dates.")
        if Material.objects.filter(workshop=actor.workshop, name=material.name, batch=material.batch).exists():
            raise InputRefused.of("batch", material.batch, "a new batch", "It is here: choose it.")
        entry.keep(material)
    return material


def withdraw_material(actor: Actor, material: UUID, reason: str) -> Material:
    """Withdraw a batch, for instance one that was recalled."""
    with acting(actor, Act.KEEP_EQUIPMENT, "material withdrawn", _because(reason)) as entry:
        kept = found(signed_in(actor), Material, material)
        if kept.withdrawn_because:
            raise NotAllowed("This batch was withdrawn before.")
        kept.withdrawn_because = entry.says["reason"]
        entry.keep(kept)
    return kept


def _describe(
    scale: Scale,
    step: str,
    largest: str,
    certificate: str,
    check_weight: str,
    tolerance: str,
) -> None:
    scale.step, scale.largest = _typed_mass(step, "step"), _typed_mass(largest, "largest")
    if not 0 < _mass("step", step) <= _mass("largest", largest):
        raise InputRefused.of("step", step, "a mass above 0, at most the largest", "Read it off the scale's plate.")
    scale.certificate = legible("certificate", certificate, needed=False)
    scale.check_weight = _typed_mass(check_weight, "check weight") if check_weight else ""
    scale.check_tolerance = _typed_mass(tolerance, "tolerance") if tolerance else ""


def _free(table: type[Scale] | type[Stand], actor: Actor, name: str) -> str:
    read_name = legible("name", name, longest=60)
    if table._default_manager.filter(workshop=actor.workshop, name=read_name).exists():
        raise InputRefused.of("name", read_name, "a new name", "It is here: choose another.")
    return read_name


def _typed_mass(text: str, field: str = "mass") -> str:
    _mass(field, text)
    return legible(field, text, longest=40)


def _mass(field: str, text: str) -> float:
    return float(read(text, "mass", field=field, page=True))


def _because(reason: str) -> dict[str, str]:
    return {"reason": remark("reason", reason, needed=True)}
