"""Density of fresh, brackish and sea water at the surface."""

import math

TO_PRACTICAL_SALINITY = 35.0 / 35.16504e-3
"""Practical Salinity over Absolute Salinity as a mass fraction, in water of reference composition (TEOS-10)."""
TO_T68 = 1.00024
"""Degrees of IPTS-68 in a degree Celsius of ITS-90, -2 to 40 °C.

Source: The international temperature scale of 1990, WOCE Newsletter 10 (September 1990), p. 10; TEOS-10 manual (2010),
appendix A.1. Neither was opened: the pages are those that libraries of sea water name; the range is from memory.
"""
ZERO_CELSIUS_K = 273.15
SCALE_SLACK = 0.01
"""Degrees: the two temperature scales differ by this much at 40 °C, which must not exclude a plain 40 °C."""


def seawater_density(salinity_kg_per_kg: float, temperature_k: float) -> float:
    """Give the density of water at atmospheric pressure from its salt and temperature.

    Args:
        salinity_kg_per_kg: Absolute Salinity, mass of salt in a mass of sea water; ocean 0.0352 [kg/kg].
        temperature_k: temperature, ITS-90 [K].

    Returns:
        Density [kg/m3].

    Raises:
        ValueError: salt or temperature outside the range of validity.

    Valid: 0 to 0.0422 kg/kg (42 practical), 271.15 to 313.15 K (-2 to 40 °C), 101325 Pa, the mix of salts of the
    ocean. Pressure adds 0.04 to 0.05 kg/m3 in every 10 m, which is left out. TEOS-10, the newer and better equation,
    differs by at most 0.006 kg/m3 up to 40 g/kg from 0 to 35 °C and 0.012 kg/m3 in the whole range: both equations
    are fits to measurements that scatter by about 0.004 kg/m3.

    Source: EOS-80, International one-atmosphere equation of state of seawater, Unesco technical papers in marine
    science 44 (1983), p. 17 to 19; salinity from TEOS-10 manual (2010), 2.4; scale of temperature by `TO_T68`.
    """
    practical_salinity = salinity_kg_per_kg * TO_PRACTICAL_SALINITY
    return eos80_density(practical_salinity, (temperature_k - ZERO_CELSIUS_K) * TO_T68)


def eos80_density(practical_salinity: float, temperature_c68: float) -> float:
    """Give the density of water at atmospheric pressure in the terms of the published equation.

    Args:
        practical_salinity: Practical Salinity PSS-78, 0 to 42 [1].
        temperature_c68: temperature on the scale of 1968, -2 to 40 [°C].

    Returns:
        Density [kg/m3].

    Raises:
        ValueError: salt or temperature outside the range of validity.

    Valid: practical salinity 0 to 42, -2 to 40 °C, 101325 Pa.

    Source: Unesco technical papers in marine science 44 (1983), p. 17 to 19, equations 13 and 14; Deep-Sea Research
    28A (1981), 625 to 629.
    """
    if not 0.0 <= practical_salinity <= 42.0:
        raise ValueError(
            f"the practical salinity of water lies from 0 to 42 (0 to 42.2 g/kg), not {practical_salinity:g}"
        )
    if not -2.0 - SCALE_SLACK <= temperature_c68 <= 40.0 + SCALE_SLACK:
        raise ValueError(f"the temperature of water lies from -2 to 40 °C, not {temperature_c68:g} °C")
    t = temperature_c68
    s = practical_salinity
    pure = 999.842594 + t * (
        6.793952e-2 + t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9)))
    )
    linear = 8.24493e-1 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)))
    root = -5.72466e-3 + t * (1.0227e-4 + t * -1.6546e-6)
    square = 4.8314e-4
    return pure + s * (linear + root * math.sqrt(s) + square * s)
