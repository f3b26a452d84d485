"""Random weighings as somebody would type them, from a seed: quicker than hypothesis where thousands are wanted."""

from __future__ import annotations

import random
from collections.abc import Callable
from functools import cache
from typing import Any

from hingeline.balance import (
    HungMass,
    Limits,
    Part,
    Stated,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
)
from hingeline.tables import read_table
from hingeline.units import Typed, express, read

SPACES = ("", " ", "  ", "\u00a0", "\u202f", "\t")
SIDES = ("aft", "forward")


@cache
def spellings(dimension: str) -> tuple[str, ...]:
    """Every spelling that the table of units has for a dimension."""
    rows = read_table("hingeline.units", "table.toml")["dimension"][dimension]["units"]
    return tuple(spelling for row in rows for spelling in (row["spelling"], *row.get("also", [])))


class Typist:
    """Types numbers: any unit, digits, sign and space that the grammar of files or pages allows."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)
        self.gravity = 9.80665
        self.typed = 0

    def number(self, value: float, *, page: bool) -> str:
        """Write a number with three to nine digits."""
        rng, size = self.random, abs(value)
        digits = rng.randint(3, 9)
        if page:
            text = f"{size:.{rng.randint(2, 9)}f}"
            text = text.replace(".", ",") if rng.random() < 0.5 else text
        elif rng.random() < 0.3:
            text = f"{size:.{digits - 1}{rng.choice('eE')}}"
        else:
            text = f"{size:.{digits}f}"
        text = text.removeprefix("0") if text.startswith(("0.", "0,")) and rng.random() < 0.2 else text
        sign = rng.choice("-\u2212") if value < 0.0 else rng.choice(["", "", "", "+"])
        return sign + text

    def quantity(self, value: float, dimension: str, *, sense: bool = False) -> Typed:
        """Write an SI value as text, and read it."""
        rng, page = self.random, self.random.random() < 0.3
        unit = rng.choice(spellings(dimension))
        own = express(value, unit, self.gravity, dimension=dimension)
        page = page and 0.01 <= abs(own) < 1e8
        word = ""
        if sense and rng.random() < 0.5:
            word = rng.choice([" nose-heavy", " Nose heavy", " leading edge heavy"]) if own < 0.0 else " tail-heavy"
            own = abs(own)
        text = self.number(own, page=page) + rng.choice(SPACES) + unit + word
        self.typed += 1
        return read(text, dimension, local_gravity=self.gravity, page=page)

    def weighing(self) -> Weighing:
        """Write a whole weighing."""
        rng = self.random
        self.gravity = 9.80665 if rng.random() < 0.5 else round(rng.uniform(9.76, 9.84), rng.randint(2, 6))
        gravity = read(f"{self.gravity} m/s^2", "acceleration")
        supports = tuple(self._support() for _ in range(rng.choice([1, 1, 2, 3])))
        across = any(support.rising for support in supports)
        return Weighing(
            surface=Surface(
                "aileron, right",
                mass=self.quantity(rng.uniform(1.0, 20.0), "mass"),
                vertical_offset=self.quantity(rng.uniform(-0.1, 0.1), "length"),
            ),
            supports=supports,
            hung=tuple(self._known(HungMass) for _ in range(rng.choice([0, 0, 1, 2]))),
            parts=tuple(
                self._known(Part, name=f"part {number}", state=rng.choice(["not fitted", "fitted, not counted"]))
                for number in range(rng.choice([0, 0, 1, 2]))
            ),
            uncertainty=self._uncertainty(across=across),
            limits=Limits(
                lower=self.quantity(rng.uniform(-30.0, 0.0), "moment", sense=True),
                upper=self.quantity(rng.uniform(0.1, 30.0), "moment", sense=True),
                rule=rng.choice(["simple", "guarded"]),
            ),
            local_gravity=gravity,
        )

    def _support(self) -> Support:
        rng = self.random
        kind, factor = rng.choice([("mass", 1.0), ("force", 9.8)])
        tare, net = rng.choice([0.0, rng.uniform(0.05, 1.0)]), rng.uniform(0.1, 5.0)

        def shown() -> tuple[float, ...]:
            scatter = (rng.gauss(0.0, 0.01) for _ in range(rng.randint(1, 5)))
            return tuple(self.quantity(factor * (tare + net + each), kind) for each in scatter)

        across = rng.random() < 0.3
        return Support(
            arm=self.quantity(rng.uniform(0.05, 1.5), "length"),
            side=rng.choice(SIDES),
            readings=() if across else shown(),
            rising=shown() if across else (),
            falling=shown() if across else (),
            reading_unit="kg" if kind == "mass" else "N",
            pushes=rng.choice(["up", "up", "down"]),
            tare=self.quantity(factor * tare, kind) if tare else 0.0,
            scale=rng.choice([None, "HL-1", "HL-2"]),
            arm_uncertainty=self._perhaps(lambda: self._stated(0.002, "length", "m")),
        )

    def _known(self, kind: type, **more: Any) -> Any:
        rng = self.random
        return kind(
            mass=self.quantity(rng.uniform(0.01, 2.0), "mass"),
            arm=self.quantity(rng.uniform(0.05, 1.5), "length"),
            side=rng.choice(SIDES),
            mass_uncertainty=self._perhaps(lambda: self._stated(0.001, "mass", "kg")),
            **more,
        )

    def _uncertainty(self, *, across: bool) -> StatedUncertainty:
        def weighed() -> Stated:
            return self._stated(0.01, "mass", "kg") if self.random.random() < 0.5 else self._stated(0.1, "force", "N")

        return StatedUncertainty(
            scale=self._perhaps(weighed),
            calibration=self._perhaps(weighed),
            arm=self._perhaps(lambda: self._stated(0.002, "length", "m")),
            friction=None if across else self._perhaps(weighed),
            air=self._perhaps(weighed),
            level=self._perhaps(lambda: self._stated(0.01, "angle", "rad")),
            gravity=self._perhaps(lambda: self._stated(0.005, "acceleration", "m/s^2")),
            mass_uncertainty=self._perhaps(lambda: self._stated(0.001, "mass", "kg")),
            tare_uncertainty=self._perhaps(weighed),
            repeatability=self._perhaps(weighed),
            k=self.random.choice([None, None, 2.0]),
        )

    def _stated(self, largest: float, dimension: str, unit: str) -> Stated:
        rng = self.random
        shape = rng.choice(["limit", "triangular", "standard", "expanded", "resolution"])
        amount = self.quantity(largest * rng.uniform(0.1, 1.0), dimension)
        if rng.random() < 0.2 and unit != "rad":
            amount, unit = self.quantity(rng.uniform(0.001, 0.05), "ratio"), "1"
        freedom = rng.choice([None, None, float(rng.randint(2, 60))])
        return Stated(amount, unit, shape, 2.0 if shape == "expanded" else None, freedom)

    def _perhaps(self, make: Callable[[], Stated]) -> Stated | None:
        return make() if self.random.random() < 0.6 else None
