"""Viscosity of a mix of gases: a textbook's example, a reference library, and laws."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.physics.gas_viscosity import ARGON_PA_S, HELIUM_PA_S, NITROGEN_PA_S, OXYGEN_PA_S, mixture_viscosity

MASSES = (0.0280134, 0.0319988, 0.004002602, 0.039948)
"""Of nitrogen, oxygen, helium and argon [kg/mol]: CIAAW, from memory."""
PURE = {"Nitrogen": NITROGEN_PA_S, "Oxygen": OXYGEN_PA_S, "Helium": HELIUM_PA_S, "Argon": ARGON_PA_S}
PARTS = st.lists(st.floats(0.0, 1.0), min_size=4, max_size=4).filter(lambda parts: sum(parts) > 0.1)


def test_a_textbook_example_comes_out() -> None:
    """Transport phenomena, 2nd ed. (2002), example 1.4-2, from memory: 1.714e-5 Pa s at 1 atm and 293 K.

    13.3 % carbon dioxide, 3.9 % oxygen, 82.8 % nitrogen.
    """
    found = mixture_viscosity((0.133, 0.039, 0.828), (0.04401, 0.032, 0.02802), (1.462e-5, 2.031e-5, 1.754e-5))
    assert found == pytest.approx(1.714e-5, rel=5e-4)


@pytest.mark.parametrize("name", PURE)
def test_the_gases_are_those_of_a_reference_library(name: str) -> None:
    """Source: CoolProp as installed, at 293.15 K: to the printed digit at 1 bar, within 1.7 % at 16 bar."""
    properties = pytest.importorskip("CoolProp.CoolProp")
    at = [properties.PropsSI("V", "T", 293.15, "P", bar * 1e5, name) for bar in (1, 16)]
    assert PURE[name] == pytest.approx(at[0], abs=0.0006e-5)
    assert PURE[name] == pytest.approx(at[1], rel=0.017)


def test_air_is_as_viscous_as_its_own_measurements_say() -> None:
    """Source: CoolProp as installed, which has a correlation of air as one fluid; it is good to about 1 %."""
    properties = pytest.importorskip("CoolProp.CoolProp")
    expected = properties.PropsSI("V", "T", 293.15, "P", 1e5, "Air")
    assert mixture_viscosity((0.7812, 0.2096, 0.0, 0.0092), MASSES, tuple(PURE.values())) == pytest.approx(
        expected, rel=0.005
    )


@given(viscosity=st.floats(1e-6, 1e-4), parts=PARTS)
def test_equal_gases_mix_to_themselves(viscosity: float, parts: list[float]) -> None:
    total = sum(parts)
    fractions = [part / total for part in parts]
    assert mixture_viscosity(fractions, (0.03,) * 4, (viscosity,) * 4) == pytest.approx(viscosity)


@given(parts=PARTS)
def test_the_order_of_the_gases_does_not_matter(parts: list[float]) -> None:
    total = sum(parts)
    rows = list(zip([part / total for part in parts], MASSES, PURE.values(), strict=True))
    there, back = (mixture_viscosity(*zip(*listed, strict=True)) for listed in (rows, rows[::-1]))
    assert there == pytest.approx(back)


@pytest.mark.parametrize(
    ("fractions", "masses", "viscosities", "what"),
    [
        ((0.5, 0.6), (0.03, 0.03), (2e-5, 2e-5), "add up to 1, not 1.1"),
        ((-0.1, 1.1), (0.03, 0.03), (2e-5, 2e-5), "zero or more, not -0.1"),
        ((0.5, 0.5), (0.03, 0.0), (2e-5, 2e-5), "above zero"),
        ((0.5, 0.5), (0.03, 0.03), (2e-5, -2e-5), "above zero"),
        ((1.0,), (0.03, 0.03), (2e-5, 2e-5), "shorter|longer"),
    ],
)
def test_what_is_no_mix_is_refused(
    fractions: tuple[float, ...], masses: tuple[float, ...], viscosities: tuple[float, ...], what: str
) -> None:
    with pytest.raises(ValueError, match=what):
        mixture_viscosity(fractions, masses, viscosities)
