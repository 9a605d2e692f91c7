"""Pressure under water."""

ATMOSPHERE_PA = 101325.0
"""Standard atmosphere, by definition: ISO 2533:1975."""
GRAVITY_M_S2 = 9.80665
"""Standard gravity, by definition: ISO 80000-3."""
DEEPEST_M = 350.0


def pressure_at_depth(depth_m: float, water_density_kg_m3: float) -> float:
    """Give the pressure at a depth, the air above the water included.

    Args:
        depth_m: depth below the surface, 0 to 350 [m].
        water_density_kg_m3: density of the water at the surface, above 0 [kg/m3].

    Returns:
        Absolute pressure [Pa].

    Raises:
        ValueError: a depth outside 0 to 350 m, or a density that is not above 0.

    Valid: water of one density under one standard atmosphere. Sea water is squeezed a little and adds 0.1 % at 350 m;
    a lake at 2000 m of altitude lacks 0.2 bar of air. Both are left out.

    Source: hydrostatics, any physics textbook (surface pressure plus density times gravity times depth); standard
    atmosphere ISO 2533:1975, standard gravity ISO 80000-3.
    """
    if not 0.0 <= depth_m <= DEEPEST_M:
        raise ValueError(f"a depth lies from zero to {DEEPEST_M:g} m, not {depth_m}")
    if not water_density_kg_m3 > 0.0:
        raise ValueError(f"the density of water is above zero, not {water_density_kg_m3}")
    return ATMOSPHERE_PA + water_density_kg_m3 * GRAVITY_M_S2 * depth_m


def depth_at_pressure(pressure_pa: float, water_density_kg_m3: float) -> float:
    """Give the depth at which a pressure prevails, the air above the water included; zero at the surface and above.

    Args:
        pressure_pa: absolute pressure [Pa].
        water_density_kg_m3: density of the water at the surface, above 0 [kg/m3].

    Returns:
        Depth below the surface [m].

    Raises:
        ValueError: a density that is not above 0.

    Valid: as `pressure_at_depth`, whose inverse it is.

    Source: hydrostatics, as `pressure_at_depth`.
    """
    if not water_density_kg_m3 > 0.0:
        raise ValueError(f"the density of water is above zero, not {water_density_kg_m3}")
    return max(0.0, (pressure_pa - ATMOSPHERE_PA) / (water_density_kg_m3 * GRAVITY_M_S2))
