"""A uniform cantilever wing with an aileron, by assumed shapes and strips."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from hingeline.flutter.assembling import Frame, Stations, integrated, point_mass, symmetric
from hingeline.flutter.beam_shapes import bending_numbers, bending_shapes, torsion_numbers, torsion_shapes
from hingeline.flutter.strip_air import strip_forces
from hingeline.flutter.structures import Aileron, Wing
from hingeline.flutter.system import Array

# Products of the highest shapes that are allowed are integrated to the last digits with so many points.
POINTS = 40


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the span on which nothing changes: places, widths, and what each freedom does there."""

    places: Array
    widths: Array
    motion: Array
    with_aileron: bool


def wing_frame(wing: Wing) -> Frame:
    """Give mass and stiffness of a wing with its aileron and the aileron's weights.

    Parameters
    ----------
    wing : Wing

    Returns
    -------
    Frame
        Freedoms: bending and torsion shapes of the bare beam, 1 at the tip, then the aileron.

    Notes
    -----
    M = ∫ Tᵀ m T dy + Σ m v vᵀ. The aileron's mass is added to the wing's: with e = b(c - a) it has
    hh m, hα e m + S, αα e² m + 2 e S + I, hβ S, αβ e S + I, ββ I, for one metre of span each. Known
    only S and K of the aileron, its static moment is taken linear along the span:
    s(y) = S/l + 12 (K - S y_c)/l³ (y - y_c) (own derivation; K = ∫ x y dm from the wing's root).
    """
    freedoms = freedoms_of(wing)
    mass = np.zeros((len(freedoms), len(freedoms)))
    for stretch in stretches(wing):
        mass += integrated(mass_of_strip(wing, stretch), stretch.motion, stretch.widths)
    if wing.aileron is not None:
        for weight in wing.aileron.weights:
            lever = wing.semichord * (wing.aileron.hinge_line - wing.elastic_axis) - weight.arm
            station = motion_at(wing, np.array([weight.spanwise]), with_aileron=True)[0]
            mass += point_mass(weight.mass, station.T @ np.array([1.0, lever, -weight.arm]))
    stiffness = np.diag(stiffness_of(wing))
    return Frame(freedoms, mass, np.zeros_like(mass), stiffness)


def freedoms_of(wing: Wing) -> tuple[str, ...]:
    """Name the freedoms."""
    names = [f"bending {number}" for number in range(1, wing.bending_modes + 1)]
    names += [f"torsion {number}" for number in range(1, wing.torsion_modes + 1)]
    return (*names, "aileron") if moves(wing.aileron) else tuple(names)


def moves(aileron: Aileron | None) -> bool:
    """Whether the aileron is a freedom."""
    return aileron is not None and not aileron.locked


def stiffness_of(wing: Wing) -> list[float]:
    """Give the stiffness of each freedom: EI (β L)⁴/(4 L³), GJ (γ L)²/(2 L), the circuit."""
    length = wing.length
    bending = wing.bending_stiffness * bending_numbers(wing.bending_modes) ** 4 / (4.0 * length**3)
    torsion = wing.torsion_stiffness * torsion_numbers(wing.torsion_modes) ** 2 / (2.0 * length)
    circuit = [wing.aileron.stiffness] if wing.aileron is not None and moves(wing.aileron) else []
    return [*bending.tolist(), *torsion.tolist(), *circuit]


def stretches(wing: Wing) -> list[Stretch]:
    """Cut the span at the ends of the aileron, each part with its own Gauss points."""
    aileron = wing.aileron
    ends = [0.0, wing.length] if aileron is None else [0.0, aileron.from_root, aileron.to, wing.length]
    found = []
    for start, end in pairwise(ends):
        if end > start:
            on = aileron is not None and aileron.from_root <= start and end <= aileron.to
            found.append(stretch_between(wing, start, end, with_aileron=on))
    return found


def stretch_between(wing: Wing, start: float, end: float, *, with_aileron: bool) -> Stretch:
    """Lay Gauss points between two places along the span."""
    return _laid(_planform(wing), start, end, with_aileron)


class Planform(NamedTuple):
    """What the shapes along a wing depend on, and no more: the same for wings that differ in masses and stiffness."""

    length: float
    bending: int
    torsion: int
    aileron_moves: bool


def _planform(wing: Wing) -> Planform:
    return Planform(wing.length, wing.bending_modes, wing.torsion_modes, moves(wing.aileron))


@lru_cache(maxsize=64)
def _laid(plan: Planform, start: float, end: float, with_aileron: bool) -> Stretch:
    """Lay Gauss points, kept for the next wing of this planform: nobody may write into them."""
    nodes, weights = _gauss_points()
    places, widths = (start + end) / 2.0 + (end - start) / 2.0 * nodes, (end - start) / 2.0 * weights
    motion = _motion(plan, places, with_aileron)
    for each in (places, widths, motion):
        each.setflags(write=False)
    return Stretch(places, widths, motion, with_aileron)


@cache
def _gauss_points() -> tuple[Array, Array]:
    nodes, weights = np.polynomial.legendre.leggauss(POINTS)
    return nodes, weights


def motion_at(wing: Wing, places: Array, *, with_aileron: bool) -> Array:
    """Give plunge, pitch and aileron angle at places along the span, for each freedom: (s, 3, n)."""
    return _motion(_planform(wing), places, with_aileron)


def _motion(plan: Planform, places: Array, with_aileron: bool) -> Array:
    shapes, along = plan.bending + plan.torsion, places / plan.length
    motion = np.zeros((len(places), 3, shapes + plan.aileron_moves))
    motion[:, 0, : plan.bending] = bending_shapes(plan.bending, along)
    motion[:, 1, plan.bending : shapes] = torsion_shapes(plan.torsion, along)
    if with_aileron and plan.aileron_moves:
        motion[:, 2, -1] = 1.0
    return motion


def mass_of_strip(wing: Wing, stretch: Stretch) -> Array:
    """Give the mass of one metre of span in plunge, pitch and aileron, at each place of a stretch: (s, 3, 3)."""
    offset = wing.mass * wing.static_offset * wing.semichord
    bare = symmetric([[wing.mass], [offset, wing.inertia], [0.0, 0.0, 0.0]])
    strips = np.broadcast_to(bare, (len(stretch.places), 3, 3)).copy()
    if wing.aileron is not None and stretch.with_aileron:
        strips += mass_of_aileron(wing, wing.aileron, stretch.places)
    return strips


def mass_of_aileron(wing: Wing, aileron: Aileron, places: Array) -> Array:
    """Give what the aileron adds to one metre of span: (s, 3, 3)."""
    length, lever = aileron.to - aileron.from_root, wing.semichord * (aileron.hinge_line - wing.elastic_axis)
    mass, inertia = aileron.mass / length, aileron.inertia / length
    moment = static_moment_along(aileron, places)
    strips = np.empty((len(places), 3, 3))
    strips[:, 0, 0] = mass
    strips[:, 1, 0] = strips[:, 0, 1] = lever * mass + moment
    strips[:, 1, 1] = lever**2 * mass + 2.0 * lever * moment + inertia
    strips[:, 2, 0] = strips[:, 0, 2] = moment
    strips[:, 2, 1] = strips[:, 1, 2] = lever * moment + inertia
    strips[:, 2, 2] = inertia
    return strips


def static_moment_along(aileron: Aileron, places: Array) -> Array:
    """Give the aileron's static moment for one metre of span, linear, so that S and K come out [kg]."""
    length, middle = aileron.to - aileron.from_root, (aileron.to + aileron.from_root) / 2.0
    product = aileron.product_of_inertia
    excess = 0.0 if product is None else product - aileron.static_moment * middle
    along: Array = aileron.static_moment / length + 12.0 * excess / length**3 * (places - middle)
    return along


def wing_air(wing: Wing, density: float) -> list[Stations]:
    """Give the air along a wing.

    Parameters
    ----------
    wing : Wing
    density : float
        [kg/m³]

    Returns
    -------
    list of Stations
        One for each stretch of the span.
    """
    hinge = 0.0 if wing.aileron is None else wing.aileron.hinge_line
    air = strip_forces(wing.semichord, wing.elastic_axis, hinge, density)
    return [
        Stations(air, np.full(len(stretch.places), wing.semichord), stretch.motion, stretch.widths)
        for stretch in stretches(wing)
    ]
