"""Float checks that contradict the rest, or cannot be used."""

import pytest

from kitbuilder.kit.diver import Beside
from tests.assess.kits import PLAIN, assessed, beside, float_check, kit_of, without
from tests.assess.rules.cases import CAUTION, Case, check, of_thing

RULE = "float check"
GOOD = (float_check("one", lead_kg=5.5), float_check("other", lead_kg=5.8))
SLIP = float_check("slip of the pen", lead_kg=15.0)


def case(signal: int | None, wrong: Beside, right: Beside, *says: str, do: str = "") -> Case:
    return Case(
        RULE,
        signal,  # type: ignore[arg-type]
        None,
        "diver",
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
        'float check "alone" contradicts the figures of body, suit and cylinder: it floated 2',
        "more than they say, and they may be off by ",
        do="excluded = true",
    ),
    case(
        CAUTION,
        beside(float_check("heavy", seen="sank", by_kgf=-15.0, lead_kg=2.0)),
        beside(float_check("heavy", seen="sank", by_kgf=-1.0, lead_kg=7.0)),
        "less than they say",
        do="Look at its lead, pressure, water and depth",
    ),
    case(
        None,
        beside(float_check("vague", seen="sank")),
        beside(float_check("vague", seen="sank", by_kgf=-1.0)),
        'float check "vague": it does not say how much lead made it neutral',
    ),
    case(
        None,
        beside(float_check("far away", kit="gone.toml")),
        beside(float_check("far away", kit="gone.toml"), kits=(("gone.toml", kit_of(PLAIN)),)),
        'float check "far away": the kit gone.toml is not there or cannot be read',
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
        "how much lead made it neutral",
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks with one diver file and not with the other."""
    check(case)


def test_one_against_the_others_is_named_and_stays_counted_until_it_is_excluded() -> None:
    """Two others agree with each other and with the figures."""
    found = assessed(PLAIN, beside(*GOOD, SLIP))
    texts = [item.what[0] for item in of_thing(found, RULE, None)]
    assert any('"slip of the pen" contradicts the other float checks' in str(text) for text in texts)
    assert all(seen.is_counted for seen in found.balance.checks)
    excluded = assessed(PLAIN, beside(*GOOD, float_check("slip of the pen", lead_kg=15.0, excluded=True)))
    assert not of_thing(excluded, RULE, None)
    assert [seen.is_counted for seen in excluded.balance.checks] == [True, True, False]


def test_without_a_balance_nothing_is_said() -> None:
    """Another rule tells that there is none."""
    assert not of_thing(assessed(without(PLAIN, "tank"), beside(SLIP)), RULE, None)
