"""Every formula takes what it says it takes, to the very end of the range, and refuses what lies a hair beyond.

The ranges are those of the docstrings; they belong to the sources named there.
"""

import math
from collections.abc import Callable
from typing import Any

import pytest

from kitbuilder.physics import (
    buoyancy,
    cylinder,
    elastica,
    gas,
    hose,
    orifice,
    pipe_flow,
    pressure,
    suit,
    threads,
    water,
)
from kitbuilder.physics.threads import ThreadTolerances

INCH = 0.0254
ATMOSPHERE = 101325.0
HAIR = 1e-6
NO_END = None
FOAM = {"area_m2": 1.8, "coverage": 0.8, "stretch": 0.9, "thickness_m": 0.005}
GAS = {"nitrogen": 0.79, "oxygen": 0.21, "helium": 0.0, "pressure_pa": 100e5, "temperature_k": 290.0}
BLOW_DOWN = {
    "volume_m3": 0.012,
    "start_pressure_pa": 200e5,
    "end_pressure_pa": 50e5,
    "downstream_pressure_pa": 4e5,
    "diameter_m": 5e-4,
    "discharge": 0.8,
    "molar_mass_kg_mol": 0.029,
    "heat_ratio": 1.4,
    "temperature_k": 293.0,
}
NARROW = {
    "diameter_m": 5e-4,
    "discharge": 0.8,
    "upstream_pressure_pa": 200e5,
    "downstream_pressure_pa": 4e5,
    "molar_mass_kg_mol": 0.029,
    "heat_ratio": 1.4,
    "temperature_k": 293.0,
}
PIPE = {
    "supply_pressure_pa": 15e5,
    "ambient_pressure_pa": 5e5,
    "flow_m3_s": 3e-3,
    "length_m": 1.0,
    "bore_m": 0.006,
    "roughness_m": 1e-5,
    "molar_mass_kg_mol": 0.029,
    "viscosity_pa_s": 1.8e-5,
    "temperature_k": 293.0,
}
TOLERANCES = ThreadTolerances(*([1e-4] * len(ThreadTolerances._fields)))

CLOSED: list[tuple[Callable[..., Any], dict[str, Any], str, float | None, float | None]] = [
    (suit.body_area, {"stature_m": 1.7, "mass_kg": 70.0}, "stature_m", 1.2, 2.2),
    (suit.body_area, {"stature_m": 1.7, "mass_kg": 70.0}, "mass_kg", 30.0, 200.0),
    (suit.body_area_heavy, {"mass_kg": 100.0}, "mass_kg", 50.0, 250.0),
    (suit.foam_volume, FOAM, "thickness_m", 0.0, 0.03),
    (suit.foam_volume, FOAM, "coverage", NO_END, 2.0),
    (suit.foam_volume, FOAM, "stretch", NO_END, 1.0),
    (suit.foam_left_fitted, {"pressure_pa": 2e5}, "pressure_pa", ATMOSPHERE, 12e5),
    (suit.foam_left_halved, {"pressure_pa": 2e5}, "pressure_pa", ATMOSPHERE, 12e5),
    (suit.foam_left_boyle, {"pressure_pa": 2e5}, "pressure_pa", ATMOSPHERE, 12e5),
    (suit.foam_left, {"pressure_pa": 2e5}, "pressure_pa", ATMOSPHERE, 12e5),
    (gas.compressibility, GAS, "pressure_pa", 1e5, 310e5),
    (gas.compressibility, GAS, "temperature_k", 270.0, 317.0),
    (gas.gas_density, GAS | {"argon": 0.0}, "pressure_pa", 1e5, 310e5),
    (gas.gas_density, GAS | {"argon": 0.0}, "temperature_k", 270.0, 317.0),
    (
        buoyancy.buoyancy_kgf,
        {"volume_m3": 0.01, "mass_kg": 10.0, "water_density_kg_m3": 1025.0},
        "volume_m3",
        0.0,
        None,
    ),
    (buoyancy.buoyancy_kgf, {"volume_m3": 0.01, "mass_kg": 10.0, "water_density_kg_m3": 1025.0}, "mass_kg", 0.0, None),
    (
        buoyancy.displaced_volume,
        {"mass_kg": 2.0, "buoyancy_kgf": -1.0, "water_density_kg_m3": 1025.0},
        "buoyancy_kgf",
        -2.0,
        NO_END,
    ),
    (hose.tube_volume, {"outside_diameter_m": 0.012, "length_m": 1.0}, "length_m", 0.0, NO_END),
    (hose.bore_volume, {"bore_m": 0.006, "length_m": 1.0}, "length_m", 0.0, NO_END),
    (hose.solid_volume, {"mass_kg": 0.1, "density_kg_m3": 8400.0}, "mass_kg", 0.0, NO_END),
    (elastica.bend, {"length_m": 0.8, "span_m": 0.7}, "length_m", 0.7, 3.0 * 0.7),
    (elastica.complete_elliptic_integrals, {"modulus_k": 0.5}, "modulus_k", 0.0, NO_END),
    (pressure.pressure_at_depth, {"depth_m": 10.0, "water_density_kg_m3": 1025.0}, "depth_m", 0.0, 350.0),
    (water.eos80_density, {"practical_salinity": 35.0, "temperature_c68": 10.0}, "practical_salinity", 0.0, 42.0),
    (gas.partial_pressure, {"fraction": 0.32, "pressure_pa": 4e5}, "fraction", 0.0, 1.0),
    (gas.partial_pressure, {"fraction": 0.32, "pressure_pa": 4e5}, "pressure_pa", 0.0, NO_END),
    (orifice.orifice_mass_flow, NARROW, "discharge", NO_END, 1.0),
    (orifice.orifice_mass_flow, NARROW, "downstream_pressure_pa", 0.0, 200e5),
    (orifice.choked_blow_down_time, BLOW_DOWN, "discharge", NO_END, 1.0),
    (pipe_flow.friction_factor, {"reynolds": 1e5, "relative_roughness": 1e-3}, "relative_roughness", 0.0, 0.05),
    (pipe_flow.hose_pressure_drop, PIPE, "length_m", 0.0, NO_END),
    (threads.unified_limits, {"basic_major_m": 0.5 * INCH, "threads_per_inch": 20.0}, "threads_per_inch", 4.0, 80.0),
    (
        threads.unified_limits,
        {"basic_major_m": 0.5 * INCH, "threads_per_inch": 20.0},
        "basic_major_m",
        0.25 * INCH,
        None,
    ),
    (
        threads.pipe_limits,
        {"major_m": 0.022, "threads_per_inch": 14.0, "tolerances": TOLERANCES},
        "threads_per_inch",
        4.0,
        80.0,
    ),
]
"""A formula, arguments it takes, one of them, and the ends of its range; both ends belong to it."""

ABOVE: list[tuple[Callable[..., Any], dict[str, Any], str, float]] = [
    (suit.foam_volume, FOAM, "area_m2", 0.0),
    (suit.foam_volume, FOAM, "coverage", 0.0),
    (suit.foam_volume, FOAM, "stretch", 0.0),
    (buoyancy.lead_for, {"buoyancy_kgf": 1.0, "water_density_kg_m3": 1025.0}, "water_density_kg_m3", 0.0),
    (
        buoyancy.buoyancy_kgf,
        {"volume_m3": 0.01, "mass_kg": 10.0, "water_density_kg_m3": 1025.0},
        "water_density_kg_m3",
        0.0,
    ),
    (hose.tube_volume, {"outside_diameter_m": 0.012, "length_m": 1.0}, "outside_diameter_m", 0.0),
    (hose.ring_area, {"outer_diameter_m": 0.012, "inner_diameter_m": 0.006}, "inner_diameter_m", 0.0),
    (hose.ring_area, {"outer_diameter_m": 0.012, "inner_diameter_m": 0.006}, "outer_diameter_m", 0.006),
    (hose.solid_volume, {"mass_kg": 0.1, "density_kg_m3": 8400.0}, "density_kg_m3", 0.0),
    (
        hose.mass_per_length,
        {"outside_diameter_m": 0.012, "bore_m": 0.006, "density_kg_m3": 1300.0},
        "density_kg_m3",
        0.0,
    ),
    *(
        (
            cylinder.external_volume,
            {"capacity_m3": 0.012, "shell_mass_kg": 14.0, "shell_density_kg_m3": 7850.0},
            name,
            0.0,
        )
        for name in ("capacity_m3", "shell_mass_kg", "shell_density_kg_m3")
    ),
    *(
        (
            cylinder.least_shell_mass,
            {"capacity_m3": 0.012, "pressure_pa": 232e5, "metal_density_kg_m3": 7850.0, "strength_pa": 1.1e9},
            name,
            0.0,
        )
        for name in ("capacity_m3", "pressure_pa", "metal_density_kg_m3", "strength_pa")
    ),
    (pressure.pressure_at_depth, {"depth_m": 10.0, "water_density_kg_m3": 1025.0}, "water_density_kg_m3", 0.0),
    (pressure.depth_at_pressure, {"pressure_pa": 2e5, "water_density_kg_m3": 1025.0}, "water_density_kg_m3", 0.0),
    *((orifice.orifice_mass_flow, NARROW, name, 0.0) for name in ("diameter_m", "discharge", "molar_mass_kg_mol")),
    (orifice.orifice_mass_flow, NARROW, "temperature_k", 0.0),
    (orifice.orifice_mass_flow, NARROW, "heat_ratio", 1.0),
    (orifice.critical_pressure_ratio, {"heat_ratio": 1.4}, "heat_ratio", 1.0),
    *(
        (orifice.choked_blow_down_time, BLOW_DOWN, name, 0.0)
        for name in ("volume_m3", "diameter_m", "molar_mass_kg_mol")
    ),
    (orifice.choked_blow_down_time, BLOW_DOWN, "heat_ratio", 1.0),
    *(
        (pipe_flow.hose_pressure_drop, PIPE, name, 0.0)
        for name in ("flow_m3_s", "bore_m", "molar_mass_kg_mol", "viscosity_pa_s", "temperature_k")
    ),
    (pipe_flow.peak_inspiratory_flow, {"minute_volume_m3_s": 1e-3}, "minute_volume_m3_s", 0.0),
]
"""A formula, arguments it takes, one of them, and what that must be above."""


def named(row: tuple[Any, ...]) -> str:
    return f"{row[0].__name__}, {row[2]}"


@pytest.mark.parametrize("row", CLOSED, ids=named)
def test_a_range_is_taken_to_its_ends_and_no_further(row: tuple[Any, ...]) -> None:
    """The end itself counts; a millionth beyond does not, nor does what is no number."""
    formula, arguments, name, low, high = row
    for end, beyond in ((low, -1), (high, +1)):
        if end is not None:
            formula(**arguments | {name: end})
            with pytest.raises(ValueError):
                formula(**arguments | {name: end + beyond * HAIR * max(abs(end), 1e-3)})
    with pytest.raises(ValueError):
        formula(**arguments | {name: math.nan})


@pytest.mark.parametrize("row", ABOVE, ids=named)
def test_what_must_be_above_an_end_is_refused_at_the_end(row: tuple[Any, ...]) -> None:
    """A hair above is taken."""
    formula, arguments, name, end = row
    formula(**arguments)
    for value in (end, end - 1.0, math.nan):
        with pytest.raises(ValueError):
            formula(**arguments | {name: value})


def test_water_is_lighter_than_lead() -> None:
    """At the density of lead no lead sinks."""
    buoyancy.lead_for(1.0, 11000.0)
    with pytest.raises(ValueError):
        buoyancy.lead_for(1.0, buoyancy.LEAD_DENSITY_KG_M3)


@pytest.mark.parametrize(("parts", "taken"), [((0.8, 0.2 + 9e-7, 0.0), True), ((0.8, 0.2 + 1.1e-6, 0.0), False)])
def test_parts_of_a_gas_add_up_to_a_millionth(parts: tuple[float, float, float], taken: bool) -> None:
    """No more, no less; a part below zero is refused even where the sum is right."""
    if taken:
        gas.compressibility(*parts, 100e5, 290.0)
        return
    with pytest.raises(ValueError, match="add up to 1"):
        gas.compressibility(*parts, 100e5, 290.0)
    with pytest.raises(ValueError, match="nitrogen"):
        gas.compressibility(-0.1, 1.1, 0.0, 100e5, 290.0)
