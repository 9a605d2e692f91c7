"""A weight is no more certain than the digits that were typed: half of the last one, evenly."""

from math import hypot, sqrt
from pathlib import Path

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.figures import Figure, Weight
from kitbuilder.kitfile.read import read, resolve_at
from kitbuilder.units import parse_reading
from tests.assess.kits import SALT, assessed

POUND = 0.45359237
EVENLY = 1.959964 / sqrt(3)
"""From a half-width to 1.96 standard deviations of what lies evenly within it: JCGM 100:2008, 4.3.7."""
SEA, FRESH = 1025.0, 999.0


@pytest.mark.parametrize(
    ("text", "dimension", "half"),
    [
        ("2.1 kg", "mass", 0.05),
        ("2.10 kg", "mass", 0.005),
        ("2 kg", "mass", 0.5),
        ("210 g", "mass", 0.0005),
        (".5 kg", "mass", 0.05),
        ("-0.4 kg", "buoyancy", 0.05),
        ("+4.60 kg", "buoyancy", 0.005),
        ("7.4 oz", "mass", 0.05 * POUND / 16),
        ("3 lb 7 oz", "mass", 0.5 * POUND / 16),
        ("1 1/2 lb", "mass", 0.25 * POUND),
        ("2.10 kg ± 0.05 kg", "mass", None),
    ],
)
def test_half_of_the_last_digit(text: str, dimension: str, half: float | None) -> None:
    """By hand; a spread that is given says more than the digits do."""
    assert parse_reading(text, dimension).half_digit == (None if half is None else pytest.approx(half))


def weight(kind: str, **keys: str) -> Weight:
    rows = "\n".join(f'{key} = "{value}"' for key, value in ({"tag": "item"} | keys).items())
    [found] = assessed(f'format = 1\nname = "one"\nlayout = "single"\n{SALT}\n\n[[{kind}]]\n{rows}\n').weights
    assert found is not None
    return found


ITEMS = [
    ("other", {"volume": "0.8 L"}),
    ("wing", {"preset": "single-cylinder wing"}),
    ("first_stage", {"preset": "brass, DIN, 4 LP 2 HP"}),
    ("hose", {"role": "primary", "body": "rubber", "length": "75 cm"}),
    ("suit", {"cut": "full suit", "thickness": "5 mm"}),
]


@pytest.mark.parametrize(("kind", "keys"), ITEMS)
def test_a_mass_of_one_decimal_is_off_by_up_to_half_of_it(kind: str, keys: dict[str, str]) -> None:
    """2.1 kg on a kitchen scale of 2 g that shows 0.1 kg: ± 0.05 kg, of which 95 % lie within 0.0475 kg."""
    mass = weight(kind, mass="2.1 kg", **keys).mass
    assert mass.combined == pytest.approx(hypot(0.002, EVENLY * 0.05))
    assert mass.spread == pytest.approx(0.0475, rel=0.02)
    finer = weight(kind, mass="2.10 kg", **keys).mass
    assert finer.combined == pytest.approx(hypot(0.002, EVENLY * 0.005))


def test_a_cylinder_on_a_scale_that_shows_whole_kilograms() -> None:
    """15 kg may be anything from 14.5 to 15.5; a luggage scale is off by 50 g as well."""
    components = weight("cylinder", preset="steel 12 L 232 long", mass="15 kg").mass.components
    mine = {source: share for source, share in components.items() if "scale reading" in source}
    assert Figure(15.0, mine, "").combined == pytest.approx(hypot(0.05, EVENLY * 0.5))


def test_the_digits_of_a_bucket_count_too() -> None:
    """-0.8 kg in the bucket is 1025/999 of that in the sea; the mass is off by as much in both."""
    both = weight("other", mass="2.100 kg", buoyancy="-0.8 kg").buoyancy
    scale = hypot(0.002, EVENLY * 0.0005) * (SEA / FRESH - 1)
    bucket = hypot(0.002, EVENLY * 0.05) * SEA / FRESH
    hydrometer = 0.5 * (2.1 - 0.8) / FRESH
    assert both.combined == pytest.approx(hypot(scale, bucket, hydrometer))
    suit = weight("suit", cut="full suit", thickness="5 mm", mass="2.400 kg", buoyancy="+4.6 kg").buoyancy
    luggage = hypot(0.05, EVENLY * 0.05) * SEA / FRESH
    hydrometer = 0.5 * (2.4 + 4.6) / FRESH
    assert suit.combined == pytest.approx(hypot(scale, luggage, hydrometer), rel=1e-4)


def test_a_given_spread_takes_the_place_of_the_digits() -> None:
    """It is the diver's own word."""
    mass = weight("other", volume="0.8 L", mass="2.1 kg ± 0.2 kg").mass
    assert mass.spread == pytest.approx(0.2)


def test_a_mass_from_the_gear_file_brings_its_digits_along(tmp_path: Path) -> None:
    """The kit says nothing of it."""
    (tmp_path / "gear.toml").write_text(
        'format = 1\nholds = "gear"\nname = "mine"\n[[other]]\ntag = "box"\nmass = "2.1 kg"\n'
    )
    path = tmp_path / "kit.toml"
    path.write_text(
        f'format = 1\nname = "one"\nlayout = "single"\ngear = "gear.toml"\n{SALT}\n'
        '[[other]]\ntag = "box"\nowned = "box"\nvolume = "0.8 L"\n'
    )
    [found] = assess(resolve_at(path, read(path).contents)).weights
    assert found is not None
    assert found.mass.combined == pytest.approx(hypot(0.002, EVENLY * 0.05))
