"""Which second stage is breathed, which one is given, and which one the giver then breathes."""

import pytest

from kitbuilder.assess.gas.second_stages import second_stage_hoses
from kitbuilder.kit.resolved import resolve
from tests.assess.kits import SALT, config, hose_text, kit_of


def uses(text: str) -> tuple[str | None, ...]:
    """Tags of the hoses breathed, given and kept."""
    return tuple(hose and hose.tag for hose in second_stage_hoses(resolve(kit_of(text))))


def kit_with(*hoses: tuple[str, str, str]) -> str:
    """A kit of hoses: tag, role, length."""
    tables = (hose_text(tag=tag, role=role, length=length) for tag, role, length in hoses)
    return f'format = 1\nname = "hoses"\nlayout = "single"\n{SALT}\n' + "".join(tables)


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("warm-single", ("primary hose", "octopus hose", "primary hose")),
        ("cold-single", ("long hose", "long hose", "necklace hose")),
        ("twinset", ("long hose", "long hose", "necklace hose")),
        ("sidemount", ("long hose", "long hose", "short hose")),
        ("wrong-on-purpose", ("primary hose", "octopus hose", "primary hose")),
    ],
)
def test_the_shipped_kits(name: str, expected: tuple[str, ...]) -> None:
    """Read from their files: an octopus is given and the primary kept; a long hose is breathed and given.

    The long hose of the last one leads to a second stage that is not in its file.
    """
    assert uses(config(name)) == expected


@pytest.mark.parametrize(
    ("hoses", "expected"),
    [
        ((), (None, None, None)),
        ((("only", "primary", "75 cm"),), ("only", "only", None)),
        ((("p", "primary", "100 cm"), ("n", "necklace", "56 cm")), ("p", "p", "n")),
        ((("n", "necklace", "56 cm"), ("o", "alternate", "100 cm")), ("n", "o", "n")),
        ((("p", "primary", "75 cm"), ("l", "long hose", "210 cm")), ("p", "l", "p")),
        ((("left", "second stage", "61 cm"), ("right", "second stage", "100 cm")), ("left", "right", "left")),
        ((("left", "second stage", "100 cm"), ("right", "second stage", "61 cm")), ("left", "left", "right")),
    ],
)
def test_what_roles_say(hoses: tuple[tuple[str, str, str], ...], expected: tuple[str | None, ...]) -> None:
    """By hand from what the roles mean; of two plain hoses the longer one is given."""
    assert uses(kit_with(*hoses)) == expected


def test_a_regulator_on_a_stage_is_none_of_them() -> None:
    """By its role, and by the cylinder that it is on, whatever its role."""
    on_stage = "".join(
        (
            '[[first_stage]]\ntag = "deco"\npreset = "brass, DIN, 4 LP 2 HP"\non = "stage"\n',
            '[[cylinder]]\ntag = "stage"\npreset = "aluminium 7 L 207"\ncarried = "stage"\n',
            hose_text(tag="deco hose", role="alternate", length="100 cm", from_="deco LP1"),
            hose_text(tag="other deco hose", role="stage second stage", length="100 cm"),
        )
    )
    assert uses(kit_with(("p", "primary", "75 cm")) + on_stage) == ("p", "p", None)
