"""Gases where they are breathed: what is said above a limit, below one, and where no depth is given."""

import pytest

from tests.assess.kits import CASES_FOLDER, assessed
from tests.assess.rules.cases import CAUTION, DANGER, WARNING, Case, check, of_item

RICH, LEAN, NO_GAS = "too much oxygen", "too little oxygen", "no gas for a depth"
HEAD = 'format = 1\nname = "one gas"\nlayout = "single"\ndensity = "1019.716 kg/m3"\ndeepest = "45 m"\n'


def kit(rows: str, header: str = "") -> str:
    return f'{HEAD}{header}\n[[cylinder]]\ntag = "tank"\npreset = "aluminium 7 L 207"\n{rows}\n'


AIR_STAGE = '\n[[cylinder]]\ntag = "stage"\npreset = "aluminium 7 L 207"\ncarried = "stage"\n'
OXYGEN = 'carried = "stage"\noxygen = "100 %"\n'
NITROX, STAGE = 'gas = "nitrox 32"\n', 'carried = "stage"\noxygen = "50 %"\n'
CASES = [
    # 0.32 x (1.01325 + 4.5) = 1.764; 0.28 x 5.51325 = 1.544; 0.50 x (1.01325 + 2.1) = 1.557.
    Case(
        RICH,
        DANGER,
        "tank",
        "gas",
        kit(NITROX),
        kit('gas = "nitrox 25"'),
        says=("at 45 m the oxygen pressure of the gas is 1.76 bar; the limit is 1.60 bar",),
        do=("It can be breathed down to 33 m within 1.40 bar and down to 40 m within 1.60 bar", "`deepest` of the kit"),
    ),
    Case(
        RICH,
        WARNING,
        "tank",
        "gas",
        kit('gas = "nitrox 28"'),
        kit('gas = "nitrox 28"', 'oxygen_limit = "1.55 bar"'),
        says=("at 45 m the oxygen pressure of the gas is 1.54 bar; the limit is 1.40 bar",),
        do=("Use a gas with less oxygen",),
    ),
    Case(
        RICH,
        CAUTION,  # a stage is breathed at rest, and up to 1.6 bar by common practice
        "tank",
        "oxygen",
        kit(f'{STAGE}deepest = "21 m"'),
        kit(f'{STAGE}deepest = "18 m"'),
        says=("at 21 m the oxygen pressure of the gas is 1.56 bar; the limit is 1.40 bar",),
        do=("down to 18 m", "Rest while you breathe this gas"),
    ),
    Case(
        RICH,
        DANGER,
        "tank",
        "oxygen",
        kit(f'{STAGE}deepest = "23 m"'),
        kit(f'{STAGE}deepest = "18 m"'),
        says=("at 23 m the oxygen pressure of the gas is 1.66 bar; the limit is 1.60 bar",),  # 0.50 x (1.01325 + 2.3)
        do=("Use a gas with less oxygen",),
    ),
    # 1.01325 + 0.6 = 1.613, which practice calls 1.6.
    Case(
        RICH,
        CAUTION,
        "tank",
        "oxygen",
        kit(f'{OXYGEN}deepest = "6 m"'),
        kit(f'{OXYGEN}deepest = "4 m"'),
        says=("at 6 m the oxygen pressure of the gas is 1.61 bar; the limit is 1.40 bar",),
        do=(
            "It can be breathed down to 4 m within 1.40 bar and down to 6 m within 1.60 bar (the surface counts "
            "as 1 bar)",
        ),
    ),
    Case(
        NO_GAS,
        WARNING,
        None,
        "deepest",
        kit(f'{NITROX}deepest = "33 m"'),
        kit(f'{NITROX}deepest = "33 m"', "").replace('"45 m"', '"33 m"'),
        says=("the kit has no gas to breathe at 45 m: its gases are breathed only down to 33 m",),
        do=("`deepest` of a cylinder",),
    ),
    Case(
        NO_GAS,
        WARNING,
        None,
        None,
        kit('gas = "trimix 10/70"\nshallowest = "6 m"'),
        kit('gas = "trimix 10/70"\nshallowest = "6 m"') + AIR_STAGE,
        says=("its gases are breathed only below 6 m",),
        do=("`shallowest` of a cylinder",),
    ),
    Case(
        RICH,
        CAUTION,
        None,
        "oxygen_limit",
        kit(NITROX, 'oxygen_limit = "1.7 bar"'),
        kit(NITROX, 'oxygen_limit = "1.7 bar"\noxygen_highest = "1.8 bar"'),
        says=("`oxygen_limit` (1.70 bar) is above `oxygen_highest` (1.60 bar)",),
        do=("Write `oxygen_highest` no lower than `oxygen_limit`",),
    ),
    Case(
        RICH,
        None,
        "tank",
        "deepest",
        kit(STAGE),
        kit(f'{STAGE}deepest = "18 m"'),
        says=("50 %", "It can be breathed down to 18 m within 1.40 bar and down to 22 m within 1.60 bar"),
    ),
    # 0.10 x 1.01325 = 0.101.
    Case(
        LEAN,
        DANGER,
        "tank",
        "gas",
        kit('gas = "trimix 10/70"'),
        kit('gas = "trimix 10/70"\nshallowest = "6 m"'),
        says=("the oxygen pressure of the gas at the surface is 0.10 bar; the gas needs at least 0.16 bar",),
        do=("It can be breathed below 6 m", "`shallowest`"),
    ),
    Case(
        LEAN,
        DANGER,
        "tank",
        "gas",
        kit('gas = "trimix 10/70"\nshallowest = "5 m"'),
        kit('gas = "trimix 18/45"'),
        says=("the oxygen pressure of the gas at 5 m is 0.15 bar",),  # 0.10 x 1.51325
        do=("It can be breathed below 6 m",),
    ),
    Case(
        LEAN,
        None,
        "tank",
        "shallowest",
        kit('gas = "trimix 10/70"\ncarried = "stage"'),
        kit('carried = "stage"'),
        says=("10 %", "It can be breathed below 6 m"),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks in one kit and not in the other."""
    check(case)


def test_a_stage_without_a_depth_is_no_danger() -> None:
    """50 % and 100 % of oxygen at 45 m, and nobody says that they are breathed there."""
    found = assessed((CASES_FOLDER / "technical" / "two.toml").read_text("utf-8"))
    for tag in ("deco", "oxy"):
        [missing] = of_item(found, RICH, tag)
        assert missing.key == "deepest"


def test_nitrox_32_at_45_m_is_found() -> None:
    """The twinset of a user: 0.32 x (1.01325 + 4.54) = 1.78 bar in ocean water."""
    found = assessed((CASES_FOLDER / "technical" / "twin.toml").read_text("utf-8"))
    assert all(of_item(found, RICH, tag) for tag in ("right cylinder", "left cylinder"))
    assert {finding.signal for tag in ("right cylinder", "left cylinder") for finding in of_item(found, RICH, tag)} == {
        DANGER
    }
