"""Float checks that contradict the rest, or cannot be used."""

import pytest

from kitbuilder.kit.resolved import LinkedFiles
from tests.assess.kits import PLAIN, assessed, beside, float_check, kit_of, without
from tests.assess.rules.cases import CAUTION, Case, check, of_item

RULE = "float check"
GOOD = (float_check("one", lead_kg=5.5), float_check("other", lead_kg=5.8))
MADE_OF = "aluminium 11.1 L 207; full suit 5 mm; single-cylinder wing"
"""What the plain kit is made of, as its text says."""
SLIP = float_check("slip of the pen", lead_kg=15.0)


def case(signal: int | None, wrong: LinkedFiles, right: LinkedFiles, *says: str, do: str = "") -> Case:
    return Case(
        RULE,
        signal,  # type: ignore[arg-type]
        None,
        "diver" if signal else "",
        PLAIN,
        PLAIN,
        says,
        (do,) if do else (),
        beside_wrong=wrong,
        beside_right=right,
    )


CASES = [
    case(
        CAUTION,
        beside(float_check("alone", lead_kg=30.0)),
        beside(float_check("alone", lead_kg=6.0)),
        'float check "alone" contradicts the figures of body, suit and cylinder: the diver floated 2',
        "the diver floated ",
        do="excluded = true",
    ),
    case(
        CAUTION,
        beside(float_check("heavy", seen="sank", by_kgf=-15.0, lead_kg=2.0)),
        beside(float_check("heavy", seen="sank", by_kgf=-1.0, lead_kg=7.0)),
        "less than these say",
        do="Check its lead, pressure, water and depth in the diver file",
    ),
    case(
        None,
        beside(float_check("vague", seen="sank")),
        beside(float_check("vague", seen="sank", by_kgf=-1.0)),
        "the file does not say how much lead was added or taken off",
    ),
    case(
        None,
        beside(float_check("far away", kit="gone.toml")),
        beside(float_check("far away", kit="gone.toml"), kits=(("gone.toml", kit_of(PLAIN)),)),
        'the float check "far away" of the diver file is not counted: gone.toml, the kit that was worn, is not '
        "in this folder or cannot be read",
    ),
    case(
        None,
        beside(float_check("bare", kit="bare.toml"), kits=(("bare.toml", kit_of(without(PLAIN, "tank"))),)),
        beside(float_check("bare", kit="bare.toml"), kits=(("bare.toml", kit_of(PLAIN)),)),
        "nothing is known of the cylinders of bare.toml",
    ),
    case(
        None,
        beside(float_check("vague", seen="floated")),
        beside(float_check("vague", seen="floated", excluded=True)),
        "the file does not say how much lead was added or taken off",
    ),
    case(
        None,
        beside(float_check("planned", seen=None)),
        beside(float_check("planned")),
        'the float check "planned" of the diver file is not counted',
    ),
    case(
        None,
        beside(float_check("sign", seen="floated", by_kgf=-2.0)),
        beside(float_check("sign", seen="floated", by_kgf=2.0)),
        "the diver floated, but lead was taken off",
    ),
    case(
        None,
        beside(float_check("sign", seen="sank", by_kgf=2.0)),
        beside(float_check("sign", seen="sank", by_kgf=-2.0)),
        "the diver sank, but lead was added",
    ),
    case(
        None,
        beside(float_check("old suit", worn=MADE_OF.replace("5 mm", "7 mm"))),
        beside(float_check("old suit", worn=MADE_OF)),
        "the kit has changed since: then full suit 7 mm, now full suit 5 mm",
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks with one diver file and not with the other."""
    check(case)


def test_one_against_the_others_is_named_and_stays_counted_until_it_is_excluded() -> None:
    """Two others agree with each other and with the figures."""
    found = assessed(PLAIN, beside(*GOOD, SLIP))
    texts = [item.what[0] for item in of_item(found, RULE, None)]
    assert any('"slip of the pen" contradicts the other float checks' in str(text) for text in texts)
    assert all(seen.is_counted for seen in found.balance.checks)
    excluded = assessed(PLAIN, beside(*GOOD, float_check("slip of the pen", lead_kg=15.0, excluded=True)))
    assert not of_item(excluded, RULE, None)
    assert [seen.is_counted for seen in excluded.balance.checks] == [True, True, False]


def test_without_a_balance_nothing_is_said() -> None:
    """Another rule tells that there is none."""
    assert not of_item(assessed(without(PLAIN, "tank"), beside(SLIP)), RULE, None)
