"""Named states with their two sentences, whose numbers are computed when they are shown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from hingeline.flutter.free_play import limit_cycles
from hingeline.flutter.static_effects import stick_force
from hingeline_app.figures.wording import format_number
from hingeline_app.why_balance.answers import point_of
from hingeline_app.why_balance.knobs import GRAVITY
from hingeline_app.why_balance.sentences import NO_BREAK_SPACE, searched_words, speed_words
from hingeline_app.why_balance.state import State, start_of
from hingeline_app.why_balance.surfaces import SURFACES

STICK_GEARING = 1.4
"""rad/m, invented: the tailplane turns 1.4 rad for each metre of stick travel."""


@dataclass(frozen=True)
class Preset:
    """A state that is worth seeing.

    Parameters
    ----------
    name : str
        In the page's address.
    title : str
    surface : str
    axis : str
    moved : Mapping
        Knobs away from their start, as they are shown.
    sentences : tuple of str
        Two; ``{onset}`` is this state's, ``{start}`` that of the surface's start, and others by name.
    beside : Mapping
        States that the sentences name, by that name: knobs away from their start.
    marched : Mapping
        Words for what takes seconds to compute; :func:`marched_words` computes them, and a test compares.
    """

    name: str
    title: str
    surface: str
    axis: str
    moved: Mapping[str, float]
    sentences: tuple[str, str]
    beside: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    marched: Mapping[str, str] = field(default_factory=dict)

    @property
    def state(self) -> State:
        """Return the state."""
        return start_of(SURFACES[self.surface]).moved(**self.moved).over(self.axis)


PRESETS = (
    Preset(
        "weight-on", "Weight on", "tailplane", "weight", {},
        (
            "The weight on its arm brings the centre of gravity to the hinge line. When the tail moves up and down, "
            "the tailplane goes along as one piece and hardly swings about its hinge.",
            "The air then finds no swing to feed, and {onset}.",
        ),
    ),
    Preset(
        "weight-lost", "Weight lost", "tailplane", "weight", {"weight": 0.0},
        (
            "With 3.5 kg on its arm the centre of gravity lies just behind the hinge line, and {start}.",
            "With the weight gone it lies far aft: each up-and-down movement swings the tailplane too, the air feeds "
            "that swing, and {onset}.",
        ),
    ),
    Preset(
        "in-steps", "Weight put on in steps", "tailplane", "weight", {"weight": 1.0},
        (
            "Without any weight {bare}; with 1 kg, which is a little, {onset}: lower, not higher.",
            "With more the speed rises, until at 2.9 kg {enough}: too little of a weight may be worse than none.",
        ),
        {"bare": {"weight": 0.0}, "enough": {"weight": 2.9}},
    ),
    Preset(
        "along-the-span", "Same balance, other place", "aileron", "place", {"place": 4.6},
        (
            "The aileron is balanced exactly in all three places: inboard {onset}, in the middle {middle}, "
            "outboard {outboard}.",
            "A weight works where the wing moves: the static moment does not tell where along the span it sits.",
        ),
        {"middle": {"place": 5.25}, "outboard": {"place": 5.95}},
    ),
    Preset(
        "arm-gone-soft", "Arm gone soft", "tailplane", "stiffness", {"stiffness": 10.0, "speed": 180.0},
        (
            "The same weight on the same arm balances the same on the bench; on a stiff arm {start}.",
            "When the arm bends so that the weight swings by itself at 10 Hz, {onset}: it must be stiff, not only "
            "strong.",
        ),
    ),
    Preset(
        "overpainted", "Overpainted", "tailplane", "paint", {"weight": 2.9, "paint": 1500.0, "speed": 96.0},
        (
            "With 2.9 kg and the paint that it was balanced with {before}.",
            "A second coat of 1.5 kg, most of it behind the hinge line, moves the centre of gravity aft, and {onset}: "
            "weigh after painting.",
        ),
        {"before": {"weight": 2.9}},
    ),
    Preset(
        "circuit-slack", "Free play in the circuit", "tailplane", "weight", {"weight": 0.0, "play": 0.5, "speed": 56.0},
        (
            "Without free play {onset}. With half a degree of free play each way a motion can keep itself going "
            "already at {speed}. Knocked by 1.5 times the free play, it settles to {cycle} times it and stays there.",
            "Knocked harder, by 6 times the free play, it {knocked} in this model: one knock that dies out shows "
            "nothing.",
        ),
        marched={"cycle": "2.2", "knocked": "dies out"},
    ),
    Preset(
        "tab-rod-broken", "Tab rod broken", "elevator", "rod", {"rod": 0.0, "speed": 20.0},
        (
            "The elevator is balanced exactly; with its tab held by the rod {start}.",
            "With the rod off {onset}: balance of the elevator does not help against a loose tab.",
        ),
    ),
    Preset(
        "stick-force", "Trim and stick force", "tailplane", "weight", {"weight": 0.0, "speed": 100.0},
        (
            "Losing 3.5 kg at 360 mm changes the moment about the hinge line by {moment} in level flight, which the "
            "pilot feels as {force} of pull and trims away.",
            "That is felt, and it is not why the weight is there: {onset}.",
        ),
    ),
)  # fmt: skip


def number_of(state: State) -> int:
    """Give the number of the preset that a state is, from 1; 0 where it is none."""
    return next((number for number, preset in enumerate(PRESETS, 1) if preset.state.query == state.query), 0)


def preset_of(state: State) -> Preset | None:
    """Give the preset that a state is; None where it is none."""
    number = number_of(state)
    return PRESETS[number - 1] if number else None


def sentences_of(preset: Preset) -> tuple[str, str]:
    """Give the two sentences of a preset, with their numbers."""
    start = start_of(SURFACES[preset.surface])
    words = {
        "onset": onset_words(preset.state),
        "start": onset_words(start),
        "speed": speed_words(preset.state, preset.state.settings["speed"]),
    }
    words |= {name: onset_words(start.moved(**moved)) for name, moved in preset.beside.items()}
    words |= preset.marched
    if preset.name == "stick-force":
        words |= _felt_words(start)
    first, second = (sentence.format(**words) for sentence in preset.sentences)
    return first, second


def onset_words(state: State) -> str:
    """Say a state's onset as a clause."""
    point = point_of(state)
    if point.from_the_start:
        return "a motion grows at every speed"
    if point.speed is None:
        return f"the model finds no growth up to {searched_words(state)} (not proof)"
    return f"growth starts at {speed_words(state, point.speed)}"


def marched_words(state: State) -> dict[str, str]:
    """Say what two knocks turn into, by marching."""
    task = state.surface.model(state.settings)
    marched = [cycle for cycle in limit_cycles(task, [state.settings["speed"]]) if cycle.method == "marching"]
    small, large = (next(cycle for cycle in marched if cycle.start == start) for start in (1.5, 6.0))
    outcomes = {
        "cycle": "settles too",
        "dies out": "dies out",
        "grows": "grows",
        "not periodic": "keeps going, irregularly",
    }
    amplitude = "none" if small.peak_in_gaps is None else format_number(small.peak_in_gaps, 1)
    return {"cycle": amplitude, "knocked": outcomes[large.outcome]}


def _felt_words(start: State) -> dict[str, str]:
    """Say what is felt when the weight goes, in level flight."""
    moment = GRAVITY * start.settings["weight"] * start.settings["arm"]
    return {
        "moment": f"{format_number(moment, 1)}{NO_BREAK_SPACE}N·m tail-heavy",
        "force": f"{format_number(stick_force(moment, STICK_GEARING), 0)}{NO_BREAK_SPACE}N",
    }
