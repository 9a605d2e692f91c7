"""Quick-disconnects, swivel pins and built-in swivels."""

import pytest

from tests.assess.kits import assessed, config, with_keys
from tests.assess.rules.cases import CAUTION, NOTICE, WARNING, Case, check, of_item

TWINSET = config("twinset")
FAMILIES = {
    "standard nipple": "standard nipple coupling",
    "long high-flow nipple": "long high-flow nipple coupling",
    "large-bore nipple": "large-bore nipple coupling",
    "industrial-profile nipple": "industrial-profile coupling",
}
BUILT_IN = with_keys(TWINSET, "necklace", preset="plastic body, built-in swivel")

CASES = [
    Case(
        "coupling family",
        WARNING,
        "wing hose",
        "to_end",
        with_keys(TWINSET, "wing hose", to_end="large-bore nipple coupling"),
        TWINSET,
        says=('the coupling large-bore nipple coupling does not fit the standard nipple of "wing"',),
        do=("coupling for the standard nipple", "Buy a hose with a coupling for the standard nipple"),
    ),
    Case(
        "coupling family",
        WARNING,
        "drysuit hose",
        "to_end",
        with_keys(TWINSET, "drysuit", inlet="industrial-profile nipple"),
        with_keys(
            with_keys(TWINSET, "drysuit", inlet="industrial-profile nipple"),
            "drysuit hose",
            to_end="industrial-profile coupling",
        ),
        says=('the coupling standard nipple coupling does not fit the industrial-profile nipple of "drysuit"',),
        do=("coupling for the industrial-profile nipple",),
    ),
    Case(
        "coupling family",
        WARNING,
        "necklace hose",
        "to_end",
        with_keys(TWINSET, "necklace hose", to_end="standard nipple coupling"),
        TWINSET,
        says=('the coupling standard nipple coupling does not fit the 9/16 of "necklace"',),
        do=("Buy a hose with a coupling for the 9/16-18 UNF",),
    ),
    Case(
        "coupling family",
        None,
        "wing hose",
        "to_end",
        with_keys(TWINSET, "wing hose", to_end=None),
        TWINSET,
        says=("assumed to be standard nipple coupling",),
    ),
    Case(
        "coupling make",
        CAUTION,
        "wing hose",
        "make",
        with_keys(TWINSET, "wing hose", make="black"),
        TWINSET,
        says=(
            "the coupling (black) and the nipple (grey) are of two makes",
            "the coupling (black) and the nipple (grey) are of two makes",
        ),
        do=("Press and release the inflator ten times", "ten times"),
    ),
    Case(
        "coupling make",
        None,
        "wing hose",
        "make",
        with_keys(TWINSET, "wing hose", make=None),
        TWINSET,
        says=("one of the two is not known",),
    ),
    Case(
        "coupling make",
        None,
        "wing",
        "make",
        with_keys(TWINSET, "wing", make=None),
        TWINSET,
        says=("one of the two is not known",),
    ),
    Case(
        "swivel pin",
        WARNING,
        "gauge hose",
        "swivel_pin",
        with_keys(TWINSET, "gauge hose", swivel_pin=False),
        TWINSET,
        says=("no swivel pin",),
        do=("two new O-rings",),
    ),
    Case(
        "swivel pin",
        None,
        "gauge hose",
        "swivel_pin",
        with_keys(TWINSET, "gauge hose", swivel_pin=None),
        TWINSET,
        says=("whether the gauge end has its swivel pin: the file does not say",),
    ),
    Case(
        "built-in swivel",
        NOTICE,
        "necklace",
        "inlet",
        BUILT_IN,
        TWINSET,
        says=("only its own replacement hose",),
        do=("Carry its replacement hose",),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks in one kit and not in the other."""
    check(case)


@pytest.mark.parametrize("nipple", FAMILIES)
@pytest.mark.parametrize("coupling", FAMILIES.values())
def test_a_coupling_goes_on_the_nipple_of_its_own_family_only(nipple: str, coupling: str) -> None:
    """Four families, sixteen pairs, four that lock. Common practice, no source."""
    text = with_keys(with_keys(TWINSET, "wing", inlet=nipple), "wing hose", to_end=coupling)
    assert bool(of_item(assessed(text), "coupling family", "wing hose")) == (FAMILIES[nipple] != coupling)


def test_makes_of_different_families_are_not_compared() -> None:
    """A coupling that does not lock needs no test of its pin."""
    text = with_keys(TWINSET, "wing hose", make="black", to_end="large-bore nipple coupling")
    assert not of_item(assessed(text), "coupling make", "wing hose")


def test_a_hose_to_a_transmitter_needs_no_swivel_pin() -> None:
    """Its end is a port, not a swivel."""
    text = with_keys(TWINSET, "gauge hose", role="transmitter", to_end="HP 7/16 port", swivel_pin=False)
    assert not of_item(assessed(text), "swivel pin", "gauge hose")


def test_a_built_in_swivel_with_its_own_hose_is_in_order() -> None:
    """Only the notice to carry a spare is new."""
    text = with_keys(BUILT_IN, "necklace hose", to_end="built-in swivel")
    new, old = ({(item.rule, item.signal) for item in assessed(kit).findings} for kit in (text, TWINSET))
    assert new - old == {("built-in swivel", NOTICE)}
