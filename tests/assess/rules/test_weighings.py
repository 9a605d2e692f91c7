"""Weighings that cannot both be right."""

import pytest

from tests.assess.kits import SALT
from tests.assess.rules.cases import WARNING, Case, check

HEAD = f'format = 1\nname = "one plate"\nlayout = "single"\n{SALT}\n[[other]]\ntag = "plate"\nmass = "2.6 kg"\n'
SUIT = HEAD.replace("[[other]]", "[[suit]]").replace('"plate"', '"suit"') + 'cut = "vest"\nthickness = "3 mm"\n'

CASES = [
    Case(
        "heavier in water",
        WARNING,
        "plate",
        "buoyancy",
        f'{HEAD}buoyancy = "-2.9 kg"',
        f'{HEAD}buoyancy = "-2.3 kg"',
        ("heavier under water, 2.90 kg, than in air, 2.60 kg",),
        ("Weigh it again",),
    ),
    Case(
        "heavier in water",
        WARNING,
        "suit",
        "buoyancy",
        SUIT.replace("2.6 kg", "1.2 kg") + 'buoyancy = "-1.9 kg"',
        SUIT.replace("2.6 kg", "1.2 kg") + 'buoyancy = "+1.9 kg"',
        ("heavier under water, 1.90 kg",),
        ("what sinks has a minus",),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    check(case)
