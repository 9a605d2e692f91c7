"""A spread that the file gives with a reading is that of the figure: not the usual scale's."""

import math

import pytest

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Weight
from tests.assess.kits import SALT, assessed

MASS, IN_WATER = "2.10 kg ± 0.30 kg", "-0.80 kg ± 0.20 kg"
SEA, FRESH = 1025.0, 999.0


def kit(kind: str, **keys: str) -> Assessment:
    """A kit of one item."""
    rows = "\n".join(f'{key} = "{value}"' for key, value in ({"tag": "item"} | keys).items())
    return assessed(f'format = 1\nname = "one"\nlayout = "single"\n{SALT}\n\n[[{kind}]]\n{rows}\n')


def weight(kind: str, **keys: str) -> Weight:
    [found] = kit(kind, **keys).weights
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("kind", "keys"),
    [
        ("other", {"volume": "0.8 L"}),
        ("wing", {"preset": "single-cylinder wing"}),
        ("first_stage", {"preset": "brass, DIN, 4 LP 2 HP"}),
        ("hose", {"role": "primary", "body": "rubber", "length": "75 cm"}),
        ("suit", {"cut": "full suit", "thickness": "5 mm"}),
    ],
)
def test_the_mass_has_the_spread_of_the_file(kind: str, keys: dict[str, str]) -> None:
    reading = "0.40 kg ± 0.03 kg" if kind == "hose" else MASS
    mass = weight(kind, mass=reading, **keys).mass
    assert mass.components["scale reading of item"] == pytest.approx(0.03 if kind == "hose" else 0.30)


def test_a_weighed_cylinder_has_the_spread_of_the_file() -> None:
    """Its gas and its scale are the only sources that its mass has."""
    found = kit("cylinder", preset="steel 12 L 232 long", mass="15.0 kg ± 0.4 kg").weights[0]
    assert found is not None
    assert found.mass.components["scale reading of item"] == pytest.approx(0.4)


def test_the_buoyancy_has_the_spread_of_the_file() -> None:
    """By hand: what both readings say is displaced in the bucket, and in the sea 1025/999 of it.

    A mass that is off is off in the bucket too, and only 1025/999 - 1 of it is left.
    """
    components = weight("other", mass=MASS, buoyancy=IN_WATER).buoyancy.components
    assert components["scale reading of item in water"] == pytest.approx(0.20 * SEA / FRESH)
    assert components["scale reading of item"] == pytest.approx(0.30 * (SEA / FRESH - 1))


def test_a_suit_in_a_bucket_has_the_spread_of_the_file() -> None:
    keys = {"cut": "full suit", "thickness": "5 mm", "mass": "2.4 kg ± 0.1 kg", "buoyancy": "+4.6 kg ± 0.7 kg"}
    assert weight("suit", **keys).buoyancy.components["scale reading of item in water"] == pytest.approx(
        0.7 * SEA / FRESH
    )


def test_a_given_spread_widens_the_totals() -> None:
    """Two items of 2.1 kg, off by 0.3 and 0.4 kg: together by 0.5."""
    items = "\n".join(
        f'[[other]]\ntag = "{tag}"\nmass = "2.1 kg ± {spread} kg"\ndensity = "7900 kg/m3"\n'
        for tag, spread in (("a", 0.3), ("b", 0.4))
    )
    found = assessed(f'format = 1\nname = "two"\nlayout = "single"\n{SALT}\n\n{items}')
    assert found.everything.mass.spread == pytest.approx(math.hypot(0.3, 0.4))
