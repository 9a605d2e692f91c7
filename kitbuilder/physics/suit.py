"""How much foam a suit has, and how much of its volume is left under pressure.

Published statements on how foam is squeezed contradict each other. Each is a function of its own here; `foam_left`
gives the middle between them and keeps the contradiction as the spread.
"""

ATMOSPHERE_PA = 101325.0
"""Standard atmosphere, by definition: ISO 2533:1975. All foam volumes are relative to the volume here."""
HIGHEST_PA = 12e5
HALVED_AT_PA = 1025.0 * 9.80665 * 15.0
"""Pressure of 15 m of sea water above that of the surface."""


def body_area(stature_m: float, mass_kg: float) -> float:
    """Give the area of a person's skin from stature and body mass.

    Args:
        stature_m: stature, 1.2 to 2.2 [m].
        mass_kg: body mass without equipment, 30 to 200 [kg].

    Returns:
        Area of the skin, head, hands and feet included [m2].

    Raises:
        ValueError: stature or mass outside the range of validity.

    Valid: 1.2 to 2.2 m, 30 to 200 kg. Falls short by up to 20 % for very heavy bodies: see `body_area_heavy`.

    Source: A formula to estimate the approximate surface area if height and weight be known, Archives of Internal
    Medicine 17 (1916) 863: 0.007184 W^0.425 H^0.725, W in kg, H in cm.
    """
    if not 1.2 <= stature_m <= 2.2:
        raise ValueError(f"a stature lies from 1.2 to 2.2 m, not {stature_m}")
    if not 30.0 <= mass_kg <= 200.0:
        raise ValueError(f"a body mass lies from 30 to 200 kg, not {mass_kg}")
    stature_cm = 100.0 * stature_m
    return float(0.007184 * mass_kg**0.425 * stature_cm**0.725)


def body_area_heavy(mass_kg: float) -> float:
    """Give the area of a person's skin from body mass alone, for bodies too heavy for `body_area`.

    Args:
        mass_kg: body mass without equipment, 50 to 250 [kg].

    Returns:
        Area of the skin, head, hands and feet included [m2].

    Raises:
        ValueError: a mass outside the range of validity.

    Valid: 50 to 250 kg, about the range of the people measured (range from memory).

    Source: Body surface area prediction in normal-weight and obese patients, American Journal of Physiology,
    Endocrinology and Metabolism 281 (2001) E586, abstract: 0.1173 W^0.6466, W in kg.
    """
    if not 50.0 <= mass_kg <= 250.0:
        raise ValueError(f"a body mass lies from 50 to 250 kg here, not {mass_kg}")
    return float(0.1173 * mass_kg**0.6466)


def foam_volume(area_m2: float, coverage: float, stretch: float, thickness_m: float) -> float:
    """Give the volume of a suit's foam at the surface.

    Args:
        area_m2: area of the skin, above 0 [m2].
        coverage: area of the suit over area of the skin, above 0 to 2; above 1 where layers lie double [1].
        stretch: thickness when worn over thickness of the sheet, above 0 to 1 [1].
        thickness_m: thickness of the sheet, 0 to 0.03 [m].

    Returns:
        Volume [m3].

    Raises:
        ValueError: an area, coverage, stretch or thickness outside its range.

    Valid: a suit that fits; folds and water under the suit are left out.

    Source: geometry, area times thickness; a thin sheet over a body that is wide against it.
    """
    if not area_m2 > 0.0:
        raise ValueError(f"an area of skin is above zero, not {area_m2}")
    if not 0.0 < coverage <= 2.0:
        raise ValueError(f"a coverage lies above zero and up to 2, not {coverage}")
    if not 0.0 < stretch <= 1.0:
        raise ValueError(f"the share of thickness left when worn lies above zero and up to 1, not {stretch}")
    if not 0.0 <= thickness_m <= 0.03:
        raise ValueError(f"the thickness of a sheet lies from zero to 0.03 m, not {thickness_m}")
    return area_m2 * coverage * stretch * thickness_m


def foam_left_fitted(pressure_pa: float) -> float:
    """Give the share of its surface volume that foam keeps: gas that is squeezed in rubber that is not.

    Args:
        pressure_pa: absolute pressure, 101325 to 1200000 [Pa].

    Returns:
        Volume over volume at the surface [1].

    Raises:
        ValueError: a pressure outside the range of validity.

    Valid: one standard atmosphere to 12 bar, foam of standard diving grade, before permanent set.

    Source: derived: a curve laid through 0.70 left at 10 m, 0.40 at 60 m and 0.35 at 100 m (from memory).
    It was laid in bar and is taken in atmospheres here, which makes it 1 at the surface.
    """
    return 0.27 + 0.73 / (1.0 + 0.70 * _over_surface(pressure_pa))


def foam_left_halved(pressure_pa: float) -> float:
    """Give the share of its surface volume that foam keeps if it is half as thick at 15 m in the sea.

    Args:
        pressure_pa: absolute pressure, 101325 to 1200000 [Pa].

    Returns:
        Volume over volume at the surface [1].

    Raises:
        ValueError: a pressure outside the range of validity.

    Valid: one standard atmosphere to 12 bar. Only the one point is published; the hyperbola through it is derived, and
    with it the foam would go on shrinking at depth where rubber stops it.

    Source: encyclopedia article titled "Wetsuit" (found): thickness halves at about 15 m.
    """
    return 1.0 / (1.0 + _over_surface(pressure_pa) * ATMOSPHERE_PA / HALVED_AT_PA)


def foam_left_boyle(pressure_pa: float) -> float:
    """Give the share of its surface volume that foam would keep if it were gas only.

    Args:
        pressure_pa: absolute pressure, 101325 to 1200000 [Pa].

    Returns:
        Volume over volume at the surface [1].

    Raises:
        ValueError: a pressure outside the range of validity.

    Valid: one standard atmosphere to 12 bar; as a lower bound, since the rubber of the foam is ignored.

    Source: Boyle's law, any physics textbook; that foam is halved at 10 m is common practice, no source.
    """
    return 1.0 / (1.0 + _over_surface(pressure_pa))


def foam_left(pressure_pa: float) -> tuple[float, float]:
    """Give the share of its surface volume that foam keeps, between statements that contradict each other.

    Args:
        pressure_pa: absolute pressure, 101325 to 1200000 [Pa].

    Returns:
        The middle between the highest and the lowest of the three statements, and half the distance between them [1].

    Raises:
        ValueError: a pressure outside the range of validity.

    Valid: one standard atmosphere to 12 bar. Half the distance is no standard deviation: all three lie inside.

    Source: `foam_left_fitted`, `foam_left_halved` and `foam_left_boyle`.
    """
    statements = (foam_left_fitted(pressure_pa), foam_left_halved(pressure_pa), foam_left_boyle(pressure_pa))
    highest, lowest = max(statements), min(statements)
    return (highest + lowest) / 2.0, (highest - lowest) / 2.0


def _over_surface(pressure_pa: float) -> float:
    """Give the pressure above that of the surface, in atmospheres."""
    if not ATMOSPHERE_PA <= pressure_pa <= HIGHEST_PA:
        raise ValueError(f"foam is described from {ATMOSPHERE_PA:g} to {HIGHEST_PA:g} Pa absolute, not {pressure_pa}")
    return pressure_pa / ATMOSPHERE_PA - 1.0
