"""The pressures that a cylinder is made for and filled to."""

from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Cylinder


def working_pressure_of(cylinder: Cylinder) -> float | None:
    """Give the working pressure of a cylinder [Pa], as stamped or of its preset; None where neither is given."""
    preset = catalogue().cylinders.get(cylinder.preset or "")
    return cylinder.working_pressure_pa or (preset.working_pressure.value if preset else None)


def filled_of(cylinder: Cylinder) -> float | None:
    """Give the pressure to which a cylinder is filled, by default its working pressure [Pa]; None when not known."""
    return working_pressure_of(cylinder) if cylinder.filled_pa is None else cylinder.filled_pa
