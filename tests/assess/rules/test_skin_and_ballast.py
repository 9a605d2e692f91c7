"""What the body of a hose does to skin, where it drifts, and how little it means for lead."""

from math import pi

import pytest

from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import FRESH, assessed, changed, config, with_keys
from tests.assess.rules.cases import CAUTION, NOTICE, Case, assert_holds, check, of_item

pytestmark = pytest.mark.usefixtures("usual_values")

TWINSET = config("twinset")
BARE = changed(TWINSET, ('neck   = "covered"', 'neck   = "bare"'))
NOT_SAID = changed(TWINSET, ('neck   = "covered"', ""))
BRAIDED = with_keys(BARE, "necklace hose", body="braided")
COARSE, FLOATS = "coarse on the neck", "long hose floats"

CASES = [
    Case(
        COARSE,
        CAUTION,
        "necklace hose",
        "body",
        BRAIDED,
        BARE,
        says=("the braided cover of the hose is coarse, and the hose lies on the bare neck",),
        do=(
            "Use a hose with a smooth body, or wear a collar or a hood",
            "Use a hose with a smooth body, or wear a collar or a hood",
        ),
    ),
    Case(
        COARSE,
        CAUTION,
        "necklace hose",
        "body",
        BRAIDED,
        with_keys(TWINSET, "necklace hose", body="braided"),  # a hood covers the neck
        says=("bare neck",),
        do=("Use a hose with a smooth body, or wear a collar or a hood",),
    ),
    Case(
        COARSE,
        CAUTION,
        "wing hose",
        "body",
        # From the right post the inflator hose passes behind the neck; from the left it does not.
        with_keys(BARE, "wing hose", body="braided"),
        with_keys(BARE, "wing hose", body="braided", crosses_neck=False),
        says=("bare neck",),
        do=("Use a hose with a smooth body, or wear a collar or a hood",),
    ),
    Case(
        COARSE,
        CAUTION,
        "necklace hose",
        "body",
        BRAIDED,
        with_keys(BRAIDED, "necklace hose", crosses_neck=False),
        says=("bare neck",),
        do=("Use a hose with a smooth body, or wear a collar or a hood",),
    ),
    Case(
        COARSE,
        None,
        None,
        "neck",
        with_keys(NOT_SAID, "necklace hose", body="braided"),
        NOT_SAID,
        says=('whether the braided hose "necklace hose" lies on bare skin',),
    ),
    Case(
        FLOATS,
        NOTICE,
        "long hose",
        "body",
        with_keys(TWINSET, "long hose", body="braided"),
        TWINSET,
        says=("the hose may float in ocean water", " g, anything from ", "the hose may float in ocean water"),
        do=("Tuck in the loose part so that it is held along its length",),
    ),
    Case(
        FLOATS,
        NOTICE,
        "long hose",
        "body",
        changed(with_keys(TWINSET, "long hose", body="braided"), ('"ocean"', '"fresh"')),
        changed(TWINSET, ('"ocean"', '"fresh"')),
        says=("the hose may float in fresh water", "the hose may float in fresh water"),
        do=("Check in the water how it lies",),
    ),
    Case(
        FLOATS,
        NOTICE,
        "long hose",
        "body",
        with_keys(TWINSET, "long hose", body="braided"),
        with_keys(TWINSET, "long hose", body="braided", length="120 cm"),  # short enough for its ends to hold down
        says=("the hose may float in ocean water",),
        do=("Tuck in the loose part so that it is held along its length",),
    ),
    # By hand, over 3.9 m of LP and 0.6 m of HP hose, from the ranges of the catalogue: outside diameters of rubber and
    # of braided 95 and 49 g (LP), 14 and 9 g (HP), their densities 36 and 21 g (LP), 5 and 2 g (HP); together 116 g,
    # of which 95 % of a sum with one large even part take 0.97.
    Case(
        "bodies and lead",
        NOTICE,
        None,
        None,
        TWINSET,
        'format = 1\nname = "no hoses"\nlayout = "single"\n',
        says=("with braided instead of rubber bodies, the hoses together weigh less by about 0.2 kg, anything",),
        do=("Choose the body of a hose by skin, bend and wear", "To carry less lead, change cylinder, suit or plate"),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks in one kit and not in the other."""
    check(case)


def test_only_a_long_hose_is_said_to_float() -> None:
    """In a salt lake of 1240 kg/m3 a braided hose of 120 cm may float too, but is too short to rise anywhere."""
    lake = changed(TWINSET, ('water  = "ocean"', 'density = "1240 kg/m3"'))
    found = assessed(with_keys(lake, "drysuit hose", body="braided", length="120 cm"))
    [buoyancy] = [each.weight.buoyancy for each in found.hoses if each.hose.tag == "drysuit hose"]
    assert buoyancy.value + buoyancy.spread > 0
    assert not of_item(found, FLOATS, "drysuit hose")
    assert of_item(found, FLOATS, "long hose")


@pytest.mark.parametrize("body", ["rubber", "polyurethane"])
def test_a_smooth_cover_may_lie_on_a_bare_neck(body: str) -> None:
    """Common practice, no source."""
    assert not of_item(assessed(with_keys(BARE, "necklace hose", body=body)), COARSE, "necklace hose")


def test_the_lead_for_braided_hoses_by_hand() -> None:
    """Twinset in fresh water of 1000 kg/m3: 389.4 cm of LP body and 56.6 cm of HP body change.

    Braided displaces less and weighs less; lead loses 1000/11340 of its weight under water.
    """

    def circle(diameter_mm: float) -> float:
        return pi / 4 * (diameter_mm / 1000) ** 2

    lp, hp = 3.894, 0.566
    lighter = lp * (0.105 - 0.064) + hp * (0.107 - 0.042)
    smaller = 1000 * (lp * (circle(12) - circle(10.8)) + hp * (circle(11) - circle(7.6)))
    less_gas = hp * (circle(4) - circle(3.2)) * 231.6
    lead = (lighter - smaller + less_gas) / (1 - 1000 / 11340)
    assert (lighter, lead) == (pytest.approx(0.196, abs=0.001), pytest.approx(0.0935, abs=0.0005))
    [finding] = of_item(assessed(changed(TWINSET, ('water  = "ocean"', FRESH))), "bodies and lead", None)
    assert_holds(
        sentence(finding.what, System.METRIC), (f"weigh less by about {lighter:.1f} kg", f"{lead:.2f} kg more lead")
    )
