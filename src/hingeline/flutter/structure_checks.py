"""What each structure must fulfil, beside that every number lies in its range."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hingeline.errors import Refusal
from hingeline.flutter.ranges import AXIS, INERTIA_PER_LENGTH, counted, fault, out_of_range
from hingeline.flutter.section import ALL
from hingeline.flutter.structures import (
    Aileron,
    Modes,
    ModeStrip,
    ModeWeight,
    Section,
    Tailplane,
    TailplaneWeight,
    Wing,
)
from hingeline.flutter.tailplane import static_moment

ON_THE_CHORD = "a place on the chord, between -1 and 1 semichords aft of mid-chord"
ABOUT = {
    "elastic axis": "The inertia is about the elastic axis, not about the centre of gravity.",
    "hinge line": "The inertia is about the hinge line, not about the centre of gravity.",
}
MOST_MODES, MOST_STRIPS, MOST_WEIGHTS = 40, 200, 20


def faults_of(place: str, structure: Section | Tailplane | Wing | Modes) -> Iterator[Refusal]:
    """Give every fault of a structure, which stands at ``place``."""
    if isinstance(structure, Section):
        return of_section(place, structure)
    if isinstance(structure, Tailplane):
        return of_tailplane(place, structure)
    if isinstance(structure, Wing):
        return of_wing(place, structure)
    return of_modes(place, structure)


def of_section(place: str, section: Section) -> Iterator[Refusal]:
    """Refuse a strip that cannot be."""
    yield from of_freedoms(f"{place}.freedoms", section.freedoms)
    unused = {f"{place}.{name}" for name in unused_in(section)}
    refusals = [refusal for refusal in out_of_range(place, section) if refusal.field not in unused]
    yield from refusals
    if "pitch" in section.freedoms and not refusals:
        moment = section.pitch_static_moment
        yield from too_little(f"{place}.pitch_inertia", section.pitch_inertia, section.mass, moment, "elastic axis")
    if section.plunging_mass is not None and section.plunging_mass < section.mass:
        yield fault(f"{place}.plunging_mass", section.plunging_mass, f"at least the mass, {section.mass:g} kg/m",
                    "It is all that moves in plunge, with what does not pitch.")  # fmt: skip
    if "surface" in section.freedoms:
        yield from on_the_chord(f"{place}.hinge_line", section.hinge_line)
    yield from of_tab(place, section)


def unused_in(section: Section) -> set[str]:
    """Name the inertias that no freedom needs: they may be left out."""
    needs = {"pitch": "pitch_inertia", "surface": "surface_inertia", "tab": "tab_inertia"}
    unused = {name for freedom, name in needs.items() if freedom not in section.freedoms}
    return unused - {"tab_inertia"} if section.tab_rigid_gear is not None else unused


def too_little(field: str, inertia: float, mass: float, moment: float, axis: str) -> Iterator[Refusal]:
    """Refuse an inertia that mass and static moment alone go beyond: I is at least S²/m."""
    least = moment * moment / mass
    if inertia < least * (1.0 - 1e-12):
        unit = "kg m^2" if axis == "hinge line" else "kg m"
        expected = f"at least the static moment squared over the mass, {least:.6g} {unit}"
        yield fault(field, inertia, expected, ABOUT[axis])


def of_freedoms(field: str, freedoms: Sequence[str]) -> Iterator[Refusal]:
    """Refuse freedoms that are unknown, named twice, or fewer than two."""
    unknown = [name for name in freedoms if name not in ALL]
    if unknown:
        yield fault(field, ", ".join(unknown), f"some of {', '.join(ALL)}", "Write these words.")
    elif len(set(freedoms)) != len(freedoms) or len(freedoms) < 2:
        remedy = "A single freedom has no flutter in this theory, and a strip needs each only once."
        yield fault(field, ", ".join(freedoms) or "none", "two or more different freedoms", remedy)


def of_tab(place: str, section: Section) -> Iterator[Refusal]:
    """Refuse a tab without its hinge, ahead of its control, or geared twice."""
    rigid = section.tab_rigid_gear is not None
    if "tab" in section.freedoms or rigid:
        if section.tab_hinge_line is None:
            yield fault(f"{place}.tab_hinge_line", "missing", "the tab's hinge line", "Add it.")
        else:
            yield from on_the_chord(f"{place}.tab_hinge_line", section.tab_hinge_line)
            if section.tab_hinge_line <= section.hinge_line:
                yield fault(f"{place}.tab_hinge_line", section.tab_hinge_line,
                            f"a place aft of the surface's hinge line at {section.hinge_line:g}",
                            "The tab lies on the surface.")  # fmt: skip
    if rigid and "tab" in section.freedoms:
        yield fault(f"{place}.tab_rigid_gear", section.tab_rigid_gear, "no rigid gear beside a tab that is a freedom",
                    'Leave "tab" out of the freedoms, or give tab_stiffness and tab_gear.')  # fmt: skip
    if rigid and "surface" not in section.freedoms:
        yield fault(f"{place}.tab_rigid_gear", section.tab_rigid_gear, "a surface that moves the tab",
                    'Add "surface" to the freedoms.')  # fmt: skip
    if rigid and (section.tab_stiffness or section.tab_gear):
        yield fault(f"{place}.tab_rigid_gear", section.tab_rigid_gear, "no tab_stiffness and no tab_gear beside it",
                    "A rigid gear has no spring.")  # fmt: skip


def on_the_chord(field: str, hinge: float) -> Iterator[Refusal]:
    """Refuse a hinge line that is not on the chord; one far off is refused by its range already."""
    if AXIS.holds(hinge) and not -1.0 < hinge < 1.0:
        yield fault(field, hinge, ON_THE_CHORD, "-0.5 is a quarter of the chord, 0.5 three quarters.")


def of_tailplane(place: str, tailplane: Tailplane) -> Iterator[Refusal]:
    """Refuse a tailplane that cannot be."""
    refusals = list(out_of_range(place, tailplane))
    yield from refusals
    if (tailplane.circuit_stiffness is None) == (tailplane.circuit_frequency is None):
        shown = "neither" if tailplane.circuit_stiffness is None else "both"
        yield fault(f"{place}.circuit_stiffness", shown, "either circuit_stiffness or circuit_frequency",
                    'A free circuit is circuit_stiffness = "0 N m/rad".')  # fmt: skip
    if not refusals:
        moment = static_moment(tailplane)
        yield from too_little(f"{place}.inertia", tailplane.inertia, tailplane.mass, moment, "hinge line")
    yield from too_many(f"{place}.weight", tailplane.weights, MOST_WEIGHTS)
    for index, weight in enumerate(tailplane.weights):
        yield from of_tailplane_weight(f"{place}.weight[{index}]", weight)


def of_tailplane_weight(place: str, weight: TailplaneWeight) -> Iterator[Refusal]:
    """Refuse a weight whose arm is stated twice."""
    yield from out_of_range(place, weight)
    if weight.arm_frequency is not None and weight.arm_stiffness is not None:
        yield fault(f"{place}.arm_frequency", "both", "arm_frequency or arm_stiffness", "Leave one out.")


def of_wing(place: str, wing: Wing) -> Iterator[Refusal]:
    """Refuse a wing that cannot be."""
    refusals = list(out_of_range(place, wing))
    yield from refusals
    if not refusals:
        moment = wing.mass * wing.static_offset * wing.semichord
        yield from too_little(f"{place}.inertia", wing.inertia, wing.mass, moment, "elastic axis")
    if wing.aileron is not None:
        yield from of_aileron(f"{place}.aileron", wing.aileron, wing.length)


def of_aileron(place: str, aileron: Aileron, length: float) -> Iterator[Refusal]:
    """Refuse an aileron that is not on its wing."""
    refusals = list(out_of_range(place, aileron))
    yield from refusals
    if not refusals:
        yield from too_little(f"{place}.inertia", aileron.inertia, aileron.mass, aileron.static_moment, "hinge line")
    yield from on_the_chord(f"{place}.hinge_line", aileron.hinge_line)
    if not aileron.from_root < aileron.to:
        yield fault(f"{place}.from", aileron.from_root, f"a place inboard of {aileron.to:g} m", "Swap them.")
    if aileron.to > length:
        yield fault(f"{place}.to", aileron.to, f"at most the length of the wing, {length:g} m", "Both from the root.")
    yield from too_many(f"{place}.weight", aileron.weights, MOST_WEIGHTS)
    for index, weight in enumerate(aileron.weights):
        yield from out_of_range(f"{place}.weight[{index}]", weight)
        if not 0.0 <= weight.spanwise <= length:
            yield fault(f"{place}.weight[{index}].spanwise", weight.spanwise, f"a place on the wing of {length:g} m",
                        "It counts from the root of the wing.")  # fmt: skip


def of_modes(place: str, modes: Modes) -> Iterator[Refusal]:
    """Refuse modes without strips, and shape values that are not one for each mode."""
    yield from out_of_range(place, modes)
    for name, items, most in (("mode", modes.modes, MOST_MODES), ("strip", modes.strips, MOST_STRIPS)):
        yield from too_many(f"{place}.{name}", items, most)
        if not items:
            yield fault(f"{place}.{name}", "none", f"at least one [[{place}.{name}]]", "Add it.")
    yield from too_many(f"{place}.weight", modes.weights, MOST_WEIGHTS)
    for index, mode in enumerate(modes.modes):
        yield from out_of_range(f"{place}.mode[{index}]", mode)
    for index, strip in enumerate(modes.strips):
        yield from out_of_range(f"{place}.strip[{index}]", strip)
        yield from on_the_chord(f"{place}.strip[{index}].hinge_line", strip.hinge_line)
        yield from of_shape(f"{place}.strip[{index}]", strip, len(modes.modes))
    for index, weight in enumerate(modes.weights):
        yield from out_of_range(f"{place}.weight[{index}]", weight)
        yield from of_shape(f"{place}.weight[{index}]", weight, len(modes.modes))
    if modes.strips and sum(strip.width * strip.surface_inertia for strip in modes.strips) <= 0.0:
        yield fault(f"{place}.strip[0].surface_inertia", 0.0, INERTIA_PER_LENGTH.expected(),
                    "Without it the control would have no inertia.")  # fmt: skip


def of_shape(place: str, item: ModeStrip | ModeWeight, count: int) -> Iterator[Refusal]:
    """Refuse shape values that are not one for each mode."""
    for name in ("plunge", "pitch"):
        given = len(getattr(item, name))
        if count and given != count:
            yield fault(
                f"{place}.{name}", counted(given, "number"), f"{count}, one for each mode", "In the modes' order."
            )


def too_many(field: str, items: Sequence[object], most: int) -> Iterator[Refusal]:
    """Refuse more items than anybody needs."""
    if len(items) > most:
        yield fault(field, f"{len(items)} of them", f"at most {most}", "Put some together.")
