"""Cylinders: fillings, reserves, gases that add up, and stamps that can be true."""

from collections.abc import Iterator

from kitbuilder.assess.buoyancy.cylinder_weight import Vessel, work_out_vessel
from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, words
from kitbuilder.assess.gas.fillings import working_pressure_of
from kitbuilder.assess.gas.mixes import parts_given
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Cylinder
from kitbuilder.physics.cylinder import least_shell_mass

TEST_OVER_WORKING = 1.5
"""A cylinder is tested at one and a half times its working pressure (ISO 9809-1 and ISO 7866, from memory)."""

RATED_OVER_STAMP = 1.1
"""Steel cylinders of cubic feet are rated at a tenth above the stamped pressure (common practice, no source)."""


def _cylinders(context: Context) -> Iterator[tuple[int, Cylinder]]:
    for number, item in enumerate(context.kit.items):
        if isinstance(item, Cylinder):
            yield number, item


def _vessels(context: Context) -> Iterator[tuple[int, Vessel]]:
    for number, cylinder in _cylinders(context):
        if vessel := work_out_vessel(cylinder, context.water):
            yield number, vessel


@rule("overfilled")
def overfilled(context: Context) -> RuleResults:
    """Report more pressure than the cylinder is stamped for."""
    for number, cylinder in _cylinders(context):
        working = working_pressure_of(cylinder)
        if working is None or cylinder.filled_pa is None or cylinder.filled_pa <= working:
            continue
        is_certain = cylinder.filled_pa > working + catalogue().limits["gauge_spread"].value
        yield Finding(
            Signal.DANGER if is_certain else Signal.CAUTION,
            number,
            "filled",
            words(
                "the cylinder is filled to ",
                Amount(cylinder.filled_pa, "pressure"),
                "; its working pressure is ",
                Amount(working, "pressure"),
                "" if is_certain else ". A gauge does not show such a small difference for certain",
            ),
            words("An overfilled cylinder may burst, now or after more such fillings."),
            words("Fill no further than the working pressure. Have an overfilled cylinder inspected."),
        )


KEY_WORDS = {"reserve": "the reserve", "turn": "the turn pressure"}
"""How a sentence names a key."""


@rule("reserve above filling")
def reserve_above_filling(context: Context) -> RuleResults:
    """Report pressures that do not follow one another."""
    for number, vessel in _vessels(context):
        given = [("reserve", vessel.reserve_pa)]
        if vessel.cylinder.turn_pa is not None:
            given.append(("turn", vessel.turn_pa))
        for key, pressure in given:
            if pressure <= vessel.filled_pa and (key != "turn" or pressure >= vessel.reserve_pa):
                continue
            limit, word = (
                (vessel.filled_pa, "above its filling")
                if pressure > vessel.filled_pa
                else (vessel.reserve_pa, "below its reserve")
            )
            yield Finding(
                Signal.WARNING,
                number,
                key,
                words(
                    f"{KEY_WORDS[key]} is ", Amount(pressure, "pressure"), f", {word} of ", Amount(limit, "pressure")
                ),
                words("The plan counts on gas that the cylinder does not hold."),
                words("Correct `filled`, `turn` and `reserve`: the filling is the highest, the reserve the lowest."),
            )


@rule("gas adds up")
def gas_adds_up(context: Context) -> RuleResults:
    """Report parts of a gas that do not add up to one."""
    tolerance = catalogue().limits["mix_tolerance"].value
    for number, cylinder in _cylinders(context):
        oxygen, helium, nitrogen = parts_given(cylinder)
        whole = oxygen + helium + nitrogen
        if abs(whole - 1.0) <= tolerance and min(oxygen, helium, nitrogen) >= -1e-9:
            continue
        key = "oxygen" if cylinder.oxygen is not None else "helium" if cylinder.helium is not None else "nitrogen"
        mix = f"oxygen {oxygen:.1%}, helium {helium:.1%}, nitrogen {nitrogen:.1%}".replace("%", " %").replace("-", "−")
        yield Finding(
            Signal.DANGER,
            number,
            key,
            words(f"the parts of the gas add up to {whole:.1%}: {mix}".replace("%", " %").replace("  %", " %")),
            words("Nobody may breathe a gas that is not known."),
            words("Analyse the gas and write what the analyser shows. Nitrogen is the rest."),
        )


@rule("rated above its stamp")
def rated_above_its_stamp(context: Context) -> RuleResults:
    """Report steel whose rated capacity was given at the stamped pressure: many are rated a tenth above it."""
    for number, vessel in _vessels(context):
        cylinder = vessel.cylinder
        if cylinder.volume_m3 is None or cylinder.volume_spread_m3 is None or vessel.metal != "steel":
            continue
        yield Finding(
            Signal.NOTICE,
            number,
            "volume",
            words(
                "the volume of ",
                Amount(vessel.volume.value, "volume"),
                " follows from a rated capacity. If the rating is for a tenth more than the pressure given, it is ",
                Amount(vessel.volume.value / RATED_OVER_STAMP, "volume"),
            ),
            words("Many steel cylinders sold by cubic feet are rated for a tenth more than the stamped pressure."),
            words("Write the stamped water volume, or the pressure that the rating is for."),
            rule_of_thumb=True,
        )


@rule("lighter than its metal")
def lighter_than_its_metal(context: Context) -> RuleResults:
    """Report a mass with which no vessel could hold the pressure."""
    for number, vessel in _vessels(context):
        metal = catalogue().metals[vessel.metal]
        least = least_shell_mass(
            vessel.volume.value,
            TEST_OVER_WORKING * vessel.working_pressure_pa,
            metal.density.value,
            metal.strength.value,
        )
        if vessel.shell_mass_kg >= least:
            continue
        key = "mass" if vessel.cylinder.mass_kg is not None else "stamped_mass"
        yield Finding(
            Signal.WARNING,
            number,
            key,
            words(
                f"a {vessel.metal} cylinder of ",
                Amount(vessel.shell_mass_kg, "mass"),
                " cannot hold ",
                Amount(vessel.volume.value, "volume"),
                " at ",
                Amount(vessel.working_pressure_pa, "pressure"),
                ": even a sphere would weigh ",
                Amount(least, "mass"),
            ),
            words("One of the numbers is wrong, so mass and buoyancy of the cylinder are wrong as well."),
            words("Read mass, volume and pressure off the shoulder again, each with its unit."),
        )
