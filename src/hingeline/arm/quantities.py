"""The quantities of an arm, each with its unit."""

from __future__ import annotations

from typing import Annotated

from hingeline.fields import Unit

Stress = Annotated[float, Unit("Pa")]
Toughness = Annotated[float, Unit("Pa m^0.5")]
Density = Annotated[float, Unit("kg/m^3")]
Frequency = Annotated[float, Unit("Hz")]
Angle = Annotated[float, Unit("rad")]
Time = Annotated[float, Unit("s")]
Inertia = Annotated[float, Unit("kg m^2")]
RootStiffness = Annotated[float, Unit("N m/rad")]
