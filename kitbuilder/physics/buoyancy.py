"""The weight of an item under water.

Buoyancy is kept in kilogram-force with plus for "floats": the mass in kilograms that would have to be hung on the
item to make it neutral, weighed in air. Gravity then drops out of every formula. The buoyancy of air (0.1 % of what
is displaced) is left out, as it is on the scales divers use.
"""


def buoyancy_kgf(volume_m3: float, mass_kg: float, water_density_kg_m3: float) -> float:
    """Give the force with which a submerged item pulls upwards: displaced water less its own weight.

    Args:
        volume_m3: water the item displaces, 0 or more [m3].
        mass_kg: mass of the item, 0 or more [kg].
        water_density_kg_m3: density of the water around it [kg/m3].

    Returns:
        Buoyancy, plus floats, minus sinks [kgf].

    Raises:
        ValueError: a negative volume or mass, or a density that is not above 0.

    Valid: an item wholly under water whose volume does not change with depth; for one that is squeezed, give the
    volume at that depth.

    Source: the principle of Archimedes; fluid statics, any physics textbook (displaced weight less own weight).
    """
    if not volume_m3 >= 0:
        raise ValueError(f"a displaced volume is zero or more, not {volume_m3}")
    _require_mass_and_density(mass_kg, water_density_kg_m3)
    return water_density_kg_m3 * volume_m3 - mass_kg


def displaced_volume(mass_kg: float, buoyancy_kgf: float, water_density_kg_m3: float) -> float:
    """Give the volume of an item from its mass in air and its buoyancy in water, the inverse of `buoyancy_kgf`.

    Args:
        mass_kg: mass of the item, weighed in air, 0 or more [kg].
        buoyancy_kgf: its buoyancy, plus floats; minus what a spring balance shows under water [kgf].
        water_density_kg_m3: density of the water it was weighed in [kg/m3].

    Returns:
        Volume of the displaced water [m3].

    Raises:
        ValueError: a negative mass, a density that is not above 0, or an item heavier under water than in air.

    Valid: as `buoyancy_kgf`.

    Source: the principle of Archimedes, solved for the volume (hydrostatic weighing).
    """
    _require_mass_and_density(mass_kg, water_density_kg_m3)
    if not mass_kg + buoyancy_kgf >= 0:
        raise ValueError(f"an item of {mass_kg} in air cannot have a buoyancy of {buoyancy_kgf}: heavier under water")
    return (mass_kg + buoyancy_kgf) / water_density_kg_m3


LEAD_DENSITY_KG_M3 = 11340.0
"""Pure lead at 20 C: materials handbooks, 11340 to 11350, from memory."""


def lead_for(buoyancy_kgf: float, water_density_kg_m3: float) -> float:
    """Give the mass of lead that takes away a buoyancy: more than the buoyancy, since lead displaces water too.

    Args:
        buoyancy_kgf: buoyancy to take away; below 0, lead to leave off [kgf].
        water_density_kg_m3: density of the water [kg/m3].

    Returns:
        Mass of lead [kg].

    Raises:
        ValueError: the density of the water is not above 0, or not below that of lead.

    Valid: solid lead, under water.

    Source: the principle of Archimedes; density of lead as above.
    """
    if not 0.0 < water_density_kg_m3 < LEAD_DENSITY_KG_M3:
        raise ValueError(f"water has a density above 0 and below that of lead, not {water_density_kg_m3}")
    return buoyancy_kgf / (1.0 - water_density_kg_m3 / LEAD_DENSITY_KG_M3)


def _require_mass_and_density(mass_kg: float, water_density_kg_m3: float) -> None:
    if not mass_kg >= 0:
        raise ValueError(f"a mass is zero or more, not {mass_kg}")
    if not water_density_kg_m3 > 0:
        raise ValueError(f"the density of water is above zero, not {water_density_kg_m3}")
