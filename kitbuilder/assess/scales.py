"""The error of the scale that a diver has for a mass, and the density of the water in the bucket for weighing."""

from kitbuilder.assess.figures import add_component, evenly_within
from kitbuilder.catalogue import catalogue

FRESH_KG_M3 = 999.0
"""A bucket of tap water at 15 to 20 °C (IAPWS-95 gives 999.1 to 998.2)."""


def scale_components(
    source: str, reading_kg: float, given_kg: float | None, half_digit_kg: float | None
) -> dict[str, float]:
    """Give what a reading may be off by: as given with it, else by the usual scale and by the digits that were typed.

    Args:
        source: What it is a reading of.
        reading_kg: The reading.
        given_kg: The spread that the file gives with the reading.
        half_digit_kg: Half of what the last typed digit is worth; a display of 2.1 kg may stand for 2.05 to 2.15 kg.
    """
    found = {source: scale_spread(reading_kg, given_kg)}
    if half_digit_kg is not None and given_kg is None:
        add_component(found, *evenly_within(f"last digit of the {source}", half_digit_kg))
    return found


def scale_spread(mass_kg: float, given_kg: float | None = None) -> float:
    """Give the half-width by which a reading may be off [kg]: as given with it, else that of the usual scale.

    Args:
        mass_kg: The reading: of a kitchen scale, or of a luggage scale where it is large.
        given_kg: The spread that the file gives with the reading.
    """
    if given_kg is not None:
        return given_kg
    limits = catalogue().limits
    large = abs(mass_kg) >= limits["large_scale_from"].value
    return limits["large_scale_spread" if large else "scale_spread"].value
