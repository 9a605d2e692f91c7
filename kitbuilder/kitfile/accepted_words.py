"""What a field accepts, in words: quantities as examples, and the smallest and the largest value."""

from kitbuilder.kit.fields import Field
from kitbuilder.units import DIMENSIONS, POUND, parse_quantity


def examples_of(field: Field) -> str:
    """Name quantities as a field has them: of the mass of a bag no ounces."""
    general = DIMENSIONS[field.dimension].accepted
    if field.dimension != "mass" or field.highest is None or field.highest < _HEAVY_KG:
        return general
    kilograms = parse_quantity(field.example.strip('"'), "mass")
    return f'{field.example} or "{kilograms / POUND:.0f} lb"'


_HEAVY_KG = 100.0
"""What may weigh as much is a bag, a limit for bags, or a body; no single item does."""


def format_limits(field: Field) -> str:
    """Name the smallest and the largest value of a quantity, with a unit."""
    unit, factor = _LIMIT_UNITS[field.dimension]
    if field.dimension == "length" and field.highest > _LONGEST_OF_ITEMS_M:  # type: ignore[operator]
        unit, factor = "m", 1.0
    if field.dimension == "length" and field.highest < _THINNEST_IN_CM_M:  # type: ignore[operator]
        unit, factor = "mm", 1e-3
    if field.dimension == "temperature":
        return f"from {field.lowest - 273.15:g} to {field.highest - 273.15:g} °C"  # type: ignore[operator]
    return f"from {field.lowest / factor:g} to {field.highest / factor:g} {unit}"  # type: ignore[operator]


_LONGEST_OF_ITEMS_M = 5.0
"""A limit above this is a depth, shown in metres."""
_THINNEST_IN_CM_M = 0.02
"""A limit below this is a foam or a bore, shown in millimetres."""

_LIMIT_UNITS = {
    "length": ("cm", 0.01),
    "mass": ("kg", 1.0),
    "buoyancy": ("kg", 1.0),
    "density": ("kg/m3", 1.0),
    "volume": ("L", 1e-3),
    "area": ("m2", 1.0),
    "pressure": ("bar", 1e5),
    "fraction": ("%", 0.01),
    "salinity": ("g/kg", 1e-3),
    "temperature": ("°C", 1.0),
    "energy": ("Wh", 3600.0),
}
