"""A cylinder by what it is rated to hold: "80 cu ft at 3000 psi" in place of the water it holds."""

import re

from kitbuilder.catalogue import catalogue
from kitbuilder.physics.cylinder import water_capacity
from kitbuilder.physics.pressure import ATMOSPHERE_PA
from kitbuilder.spellings import AT
from kitbuilder.units import QuantityError, Reading, parse_quantity

RATED_EXAMPLE = "80 cu ft at 3000 psi"
_AT = re.compile(AT)


def parse_capacity(text: str) -> Reading:
    """Give the water that a cylinder holds, as written, or from its rated capacity and pressure [m3].

    Raises:
        QuantityError: The text is no volume; or not a volume above zero, "at", and a pressure above zero.
    """
    volume, *pressures = (part.strip() for part in _AT.split(text))
    if not pressures:
        return Reading(parse_quantity(text, "volume"), None, None)
    accepted = f'write "{RATED_EXAMPLE}", or the water it holds: "12 L"'
    try:
        held_m3, pressure_pa = parse_quantity(volume, "volume"), parse_quantity(" at ".join(pressures), "pressure")
        water_m3 = water_capacity(held_m3, pressure_pa, ATMOSPHERE_PA)
    except QuantityError as error:
        raise QuantityError(error.found, accepted) from None
    except ValueError:
        raise QuantityError(f'"{text}" is not above zero', accepted) from None
    return Reading(water_m3, catalogue().limits["rated_capacity_spread"].value * water_m3, None)
