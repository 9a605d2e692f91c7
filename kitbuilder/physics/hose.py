"""Areas, volumes and mass of a round hose taken as a tube of one material.

A real hose is layered; the density asked for here is the one that, spread over the whole wall, gives the hose its
mass. Swelling under pressure is left out.
"""

import math


def ring_area(outer_diameter_m: float, inner_diameter_m: float) -> float:
    """Give the area between two circles with one centre: the wall of a hose, cut across.

    Args:
        outer_diameter_m: outside diameter [m].
        inner_diameter_m: inside diameter, above 0 and below the outside diameter [m].

    Returns:
        Area of the ring [m2].

    Raises:
        ValueError: a diameter that is not above 0, or an inside not smaller than the outside.

    Valid: round sections.

    Source: plane geometry, area of an annulus.
    """
    if not inner_diameter_m > 0:
        raise ValueError(f"an inside diameter is above zero, not {inner_diameter_m}")
    if not inner_diameter_m < outer_diameter_m:
        raise ValueError(
            f"the inside diameter {inner_diameter_m} must be below the outside diameter {outer_diameter_m}"
        )
    # Factored, so that a thin wall loses no digits.
    return math.pi / 4 * (outer_diameter_m - inner_diameter_m) * (outer_diameter_m + inner_diameter_m)


def mass_per_length(outside_diameter_m: float, bore_m: float, density_kg_m3: float) -> float:
    """Give the mass of a metre of empty hose, without its end fittings.

    Args:
        outside_diameter_m: outside diameter [m].
        bore_m: inside diameter [m].
        density_kg_m3: density of the wall, averaged over its layers [kg/m3].

    Returns:
        Mass per length [kg/m].

    Raises:
        ValueError: a diameter or density that is not above 0, or a bore not smaller than the outside.

    Valid: a straight or bent round hose of constant section.

    Source: density times area; the same as EN 10220 gives for steel tube.
    """
    if not density_kg_m3 > 0:
        raise ValueError(f"a density is above zero, not {density_kg_m3}")
    return density_kg_m3 * ring_area(outside_diameter_m, bore_m)


def tube_volume(outside_diameter_m: float, length_m: float) -> float:
    """Give the water a closed length of hose displaces, bore included.

    Args:
        outside_diameter_m: outside diameter [m].
        length_m: length, 0 or more [m].

    Returns:
        Volume inside the outer skin [m3].

    Raises:
        ValueError: a diameter that is not above 0, or a negative length.

    Valid: a round hose filled with gas and closed at both ends; the gas counts as displaced water.

    Source: solid geometry, volume of a cylinder.
    """
    return _cylinder_volume(outside_diameter_m, length_m)


def bore_volume(bore_m: float, length_m: float) -> float:
    """Give the volume of gas a length of hose holds.

    Args:
        bore_m: inside diameter [m].
        length_m: length, 0 or more [m].

    Returns:
        Volume of the bore [m3].

    Raises:
        ValueError: a bore that is not above 0, or a negative length.

    Valid: a round bore, not swollen by pressure.

    Source: solid geometry, volume of a cylinder.
    """
    return _cylinder_volume(bore_m, length_m)


def solid_volume(mass_kg: float, density_kg_m3: float) -> float:
    """Give the volume of a solid piece, such as a brass end fitting, from its mass.

    Args:
        mass_kg: mass, 0 or more [kg].
        density_kg_m3: density of the material [kg/m3].

    Returns:
        Volume [m3].

    Raises:
        ValueError: a negative mass, or a density that is not above 0.

    Valid: a piece without closed hollows.

    Source: definition of density, ISO 80000-4.
    """
    if not mass_kg >= 0:
        raise ValueError(f"a mass is zero or more, not {mass_kg}")
    if not density_kg_m3 > 0:
        raise ValueError(f"a density is above zero, not {density_kg_m3}")
    return mass_kg / density_kg_m3


def _cylinder_volume(diameter_m: float, length_m: float) -> float:
    if not diameter_m > 0:
        raise ValueError(f"a diameter is above zero, not {diameter_m}")
    if not length_m >= 0:
        raise ValueError(f"a length is zero or more, not {length_m}")
    return math.pi / 4 * diameter_m * diameter_m * length_m
