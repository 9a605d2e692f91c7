"""The density of gas over all mixes, pressures and temperatures at once, to the accuracy that the formula states."""

import pytest

from kitbuilder.physics.gas import gas_density

BAR = 1e5
TENTHS = [(a / 10, b / 10, (10 - a - b) / 10) for a in range(11) for b in range(11 - a)]
"""Every mix of nitrogen, oxygen and helium in tenths."""
ARGON_OF_REST = 0.0092 / (0.7812 + 0.0092)
"""Argon in what air has beside oxygen: J. Phys. Chem. Ref. Data 29 (2000) 331, from memory."""
PRESSURES_BAR = (1, 20, 100, 200, 250, 310)
TEMPERATURES_K = (270.0, 293.15, 317.0)


@pytest.mark.parametrize(
    ("helium", "argon", "within"),
    [(False, False, 0.0003), (True, False, 0.0004), (False, True, 0.0003), (True, True, 0.0006)],
    ids=["nitrox", "with helium", "nitrox topped with air", "with helium, topped with air"],
)
def test_every_mix_is_as_near_to_the_equation_of_state_as_is_said(helium: bool, argon: bool, within: float) -> None:
    """Source: CoolProp as installed; the numbers are what `compressibility` and `gas_density` state."""
    coolprop = pytest.importorskip("CoolProp")
    far = {}
    for rest, oxygen, light in (mix for mix in TENTHS if bool(mix[2]) is helium):
        argon_part = rest * ARGON_OF_REST if argon else 0.0
        mix = (rest - argon_part, oxygen, light, argon_part)
        named = zip(("Nitrogen", "Oxygen", "Helium", "Argon"), mix, strict=True)
        present = {name: part for name, part in named if part}
        state = coolprop.AbstractState("HEOS", "&".join(present))
        state.set_mole_fractions(list(present.values()))
        state.specify_phase(coolprop.iphase_gas)
        for bar in PRESSURES_BAR:
            for kelvin in TEMPERATURES_K:
                state.update(coolprop.PT_INPUTS, bar * BAR, kelvin)
                off = gas_density(*mix, bar * BAR, kelvin) / state.rhomass() - 1
                if abs(off) > within:
                    far[mix, bar, kelvin] = off
    assert far == {}
