"""What a gas cylinder displaces, and the mass it cannot be below."""


def external_volume(capacity_m3: float, shell_mass_kg: float, shell_density_kg_m3: float) -> float:
    """Give the water a closed cylinder displaces, without its valve: the inside and the metal round it.

    Args:
        capacity_m3: volume of the inside (water capacity), above 0 [m3].
        shell_mass_kg: mass of the empty cylinder without valve, above 0 [kg].
        shell_density_kg_m3: density of its metal, above 0 [kg/m3].

    Returns:
        Volume inside the outer skin [m3].

    Raises:
        ValueError: a capacity, mass or density that is not above 0.

    Valid: a cylinder of one metal. Stretching under pressure (0.1 to 0.5 % of the capacity) is left out, as are paint,
    boot and net.

    Source: definition of density, ISO 80000-4: the metal's volume is its mass over its density.
    """
    _require_capacity(capacity_m3)
    if not shell_mass_kg > 0.0:
        raise ValueError(f"the mass of a cylinder is above zero, not {shell_mass_kg}")
    _require_density(shell_density_kg_m3)
    return capacity_m3 + shell_mass_kg / shell_density_kg_m3


def least_shell_mass(capacity_m3: float, pressure_pa: float, metal_density_kg_m3: float, strength_pa: float) -> float:
    """Give a mass that no vessel of this metal can be below, to catch impossible input.

    Args:
        capacity_m3: volume of the inside (water capacity), above 0 [m3].
        pressure_pa: pressure inside over that outside which the vessel must bear, above 0 [Pa].
        metal_density_kg_m3: density of its metal, above 0 [kg/m3].
        strength_pa: tension the metal bears, above 0 [Pa].

    Returns:
        Mass of the lightest vessel [kg].

    Raises:
        ValueError: a capacity, pressure, density or strength that is not above 0.

    Valid: as a lower bound for vessels of one metal. The sphere is the lightest shape; a long cylinder needs a third
    more at the same tension, and real ones are two to nine times as heavy, for ends, neck, rust and fatigue.

    Source: mechanics of materials, any textbook, thin-walled sphere: the tension is p r / (2 t), so the mass
    4 pi r^2 t rho is 3/2 p V rho / sigma.
    """
    _require_capacity(capacity_m3)
    if not pressure_pa > 0.0:
        raise ValueError(f"the pressure a cylinder bears is above zero, not {pressure_pa}")
    _require_density(metal_density_kg_m3)
    if not strength_pa > 0.0:
        raise ValueError(f"the strength of a metal is above zero, not {strength_pa}")
    return 1.5 * pressure_pa * capacity_m3 * metal_density_kg_m3 / strength_pa


def water_capacity(rated_m3: float, pressure_pa: float, atmosphere_pa: float) -> float:
    """Give the volume of the inside of a cylinder from its rated capacity, by the convention of such ratings.

    Args:
        rated_m3: volume of the gas it is rated to hold, let out to the atmosphere, above 0 [m3].
        pressure_pa: gauge pressure at which it is rated to hold it, above 0 [Pa].
        atmosphere_pa: pressure of the atmosphere, above 0 [Pa].

    Returns:
        Volume of the inside (water capacity) [m3].

    Raises:
        ValueError: a capacity or pressure that is not above 0.

    Valid: for ratings that take the gas as ideal, as those of cubic feet do: 11.03 L at 3000 psi are sold as "80 cubic
    feet" (79.9 as an ideal gas) and hold 77.0 of real air. Were a rating of the real gas, the inside would be 4 %
    larger at 207 bar. Many steel cylinders are rated at a tenth above the stamped pressure: then that pressure counts.

    Source: law of Boyle for an ideal gas of one temperature. That ratings follow it: page "scuba cylinder
    specifications" of a diver-training textbook, aluminium 80: 673 in3, 3000 psi, 79.87 ft3.
    """
    _require_capacity(rated_m3)
    if not min(pressure_pa, atmosphere_pa) > 0.0:
        raise ValueError(f"the pressures of a rating are above zero, not {pressure_pa} and {atmosphere_pa}")
    return rated_m3 * atmosphere_pa / (pressure_pa + atmosphere_pa)


def _require_capacity(capacity_m3: float) -> None:
    if not capacity_m3 > 0.0:
        raise ValueError(f"the capacity of a cylinder is above zero, not {capacity_m3}")


def _require_density(density_kg_m3: float) -> None:
    if not density_kg_m3 > 0.0:
        raise ValueError(f"the density of a metal is above zero, not {density_kg_m3}")
