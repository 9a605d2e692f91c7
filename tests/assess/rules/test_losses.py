"""One failure that takes too much."""

import pytest

from tests.assess.kits import config, hose_text, with_keys, without
from tests.assess.rules.cases import CAUTION, NOTICE, WARNING, Case, check

SINGLE = config("warm-single")
TWINSET = config("twinset")
SIDEMOUNT = config("sidemount")
SECONDS, INFLATION = "all second stages on one first stage", "wing and drysuit on one first stage"

ON_LEFT = with_keys(TWINSET, "long hose", from_="left post LP3")
"""Necklace and primary on the left post."""
PONY = (
    '\n[[cylinder]]\ntag = "pony"\npreset = "aluminium 5.7 L 207"\ncarried = "stage"\n'
    '\n[[first_stage]]\ntag = "small first"\npreset = "brass, DIN, 4 LP 2 HP"\non = "pony"\n'
)
PONY_SECOND = '\n[[second_stage]]\ntag = "third"\npreset = "plastic body"\n' + hose_text(
    tag="pony hose", role="stage second stage", from_="small first LP1", to="third"
)

CASES = [
    Case(
        SECONDS,
        WARNING,
        "left post",
        None,
        ON_LEFT,
        TWINSET,
        says=("primary and necklace", "this first stage feeds every second stage (primary and necklace)"),
        do=("Connect one second stage to another first stage",),
    ),
    Case(
        SECONDS,
        WARNING,
        "right",
        None,
        without(SIDEMOUNT, "short hose"),  # one second stage is left that gas reaches
        SIDEMOUNT,
        says=("this first stage feeds every second stage (primary)",),
        do=("another first stage",),
    ),
    Case(
        SECONDS,
        WARNING,
        "left post",
        None,
        ON_LEFT,
        ON_LEFT + hose_text(tag="spare hose", from_="right post LP3", to="primary"),  # one works whichever is closed
        says=("primary and necklace",),
        do=("Connect one second stage to another first stage",),
    ),
    Case(
        SECONDS,
        NOTICE,
        "first",
        None,
        SINGLE,
        SINGLE + PONY + PONY_SECOND,
        says=("the only first stage", "primary and octopus"),
        do=("buddy", "Stay within reach of a buddy, or carry a second cylinder with its own first stage"),
    ),
    Case(
        SECONDS,
        WARNING,  # the small first stage feeds nothing yet
        "first",
        None,
        SINGLE + PONY,
        SINGLE + PONY + PONY_SECOND,
        says=("primary and octopus",),
        do=("another first stage",),
    ),
    Case(
        INFLATION,
        CAUTION,
        "left post",
        None,
        with_keys(TWINSET, "wing hose", from_="left post LP3"),
        TWINSET,
        says=("this first stage alone inflates wing and drysuit",),
        do=("Connect one of the two to another first stage",),
    ),
    Case(
        INFLATION,
        CAUTION,
        "right",
        None,
        with_keys(SIDEMOUNT, "wing hose", from_="right LP4"),
        config("cold-single"),  # one first stage: the other rule says it all
        says=("bladder and drysuit",),
        do=("another first stage",),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks in one kit and not in the other."""
    check(case)
