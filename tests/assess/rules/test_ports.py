"""Ports: enough of them, none used twice, none left open."""

import pytest

from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import assessed, config, hose_text, with_keys, without
from tests.assess.rules.cases import CAUTION, WARNING, Case, assert_holds, check, of_item

SINGLE = config("warm-single")
COLD = config("cold-single")
SMALL = with_keys(SINGLE, "first", preset="brass, DIN, 2 LP 1 HP", plugged=[])
UNKNOWN = with_keys(SINGLE, "first", preset=None)
SPARE_GAUGE = hose_text(tag="spare hose", role="gauge", to="gauge")

CASES = [
    Case(
        "no such port",
        WARNING,
        "octopus hose",
        "from",
        with_keys(SINGLE, "octopus hose", from_="second LP2"),
        SINGLE,
        says=(
            'the port is "second LP2", but the kit has no first stage "second"',
            'the port is "second LP2", but the kit has no first stage "second"',
        ),
        do=("Name one of the first stages: first",),
    ),
    Case(
        "no such port",
        WARNING,
        "octopus hose",
        "from",
        with_keys(SINGLE, "octopus hose", from_="first LP7"),
        SINGLE,
        says=('the first stage "first" has no port LP7',),
        do=("LP1, LP2, LP3, LP4, HP1, HP2",),
    ),
    Case(
        "no such port",
        WARNING,
        "transmitter",
        "port",
        with_keys(COLD, "transmitter", port="first HP3"),
        COLD,
        says=('the first stage "first" has no port HP3',),
        do=("HP1, HP2",),
    ),
    Case(
        "no such port",
        WARNING,
        "octopus hose",
        "from",
        with_keys(SINGLE, "octopus hose", from_="jacket LP1"),  # an item, but no first stage
        SINGLE,
        says=('the port is "jacket LP1", but the kit has no first stage "jacket"',),
        do=("first",),
    ),
    Case(
        "port used twice",
        WARNING,
        "octopus hose",
        "from",
        with_keys(SINGLE, "octopus hose", from_="first LP1"),
        SINGLE,
        says=('"primary hose" already sits in the port first LP1',),
        do=('Free LP ports on "first": LP2, LP4',),
    ),
    Case(
        "port used twice",
        WARNING,
        "transmitter",
        "port",
        with_keys(COLD, "transmitter", port="first HP1"),
        COLD,
        says=('"gauge hose" already sits in the port first HP1',),
        do=('Free HP ports on "first": HP2',),
    ),
    Case(
        "port used twice",
        WARNING,
        "octopus hose",
        "from",
        with_keys(UNKNOWN, "octopus hose", from_="first LP1"),
        UNKNOWN,
        says=('"primary hose" already sits in the port first LP1',),
        do=('Free LP ports on "first"',),
    ),
    Case(
        "plug and hose",
        CAUTION,
        "first",
        "plugged",
        with_keys(SINGLE, "first", plugged=["LP3", "LP4", "HP2"]),
        SINGLE,
        says=('LP3 is listed as plugged, but "inflator hose" sits in it',),
        do=('Remove LP3 from `plugged`, or move "inflator hose" to another port',),
    ),
    Case(
        "plug and hose",
        CAUTION,
        "first",
        "plugged",
        with_keys(SINGLE, "first", plugged=["LP4", "HP2", "HP3"]),
        SINGLE,
        says=("HP3 is listed as plugged, but the first stage has no such port",),
        do=("LP1, LP2, LP3, LP4, HP1, HP2",),
    ),
    Case(
        "open port",
        WARNING,
        "first",
        "plugged",
        with_keys(SINGLE, "first", plugged=["LP4"]),
        SINGLE,
        says=("the port HP2 has neither a hose nor a plug",),
        do=("Fit a blanking plug", "Fit a blanking plug with the right thread and list the port under `plugged`"),
    ),
    Case(
        "open port",
        WARNING,
        "first",
        "plugged",
        with_keys(COLD, "transmitter", port=None),
        COLD,  # where a transmitter sits in HP2
        says=("the port HP2 has neither a hose nor a plug",),
        do=("Fit a blanking plug",),
    ),
    Case(
        "open port",
        WARNING,
        "first",
        "plugged",
        with_keys(SINGLE, "first", plugged=None),
        SINGLE,
        says=("the ports LP4, HP2 have neither a hose nor a plug",),
        do=("Fit a blanking plug",),
    ),
    Case(
        "open port",
        None,
        "first",
        "ports",
        UNKNOWN,
        with_keys(UNKNOWN, "first", ports=["LP1 3/8-24 UNF"], plugged=[]),
        says=("its ports are not known", "threads, pressure classes and plugs of the first stage"),
    ),
    Case(
        "port count",
        WARNING,
        None,
        None,
        SMALL,
        SINGLE,
        says=("the kit has 3 LP hoses, but only 2 LP ports",),
        do=("Remove a hose, or choose a first stage with more ports",),
    ),
    Case(
        "port count",
        WARNING,
        None,
        None,
        COLD + SPARE_GAUGE,
        COLD,
        says=("the kit has 2 HP hoses and 1 instrument without a hose, but only 2 HP ports",),
        do=("Remove a hose, or choose a first stage with more ports",),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks in one kit and not in the other."""
    check(case)


def test_one_finding_for_all_open_ports_of_a_first_stage() -> None:
    """A bare first stage is one item to do, not six."""
    text = without(without(without(without(SINGLE, "primary hose"), "octopus hose"), "inflator hose"), "gauge hose")
    [finding] = of_item(assessed(text), "open port", "first")
    assert_holds(sentence(finding.what, System.METRIC), ("LP1, LP2, LP3, HP1 have neither",))


def test_ports_are_not_counted_while_those_of_one_first_stage_are_unknown() -> None:
    """The hoses may well have a place on the one that is not known."""
    text = SMALL + '\n[[first_stage]]\ntag = "other"\n'
    assert not of_item(assessed(text), "port count", None)


def test_hoses_without_a_first_stage_have_no_ports_to_be_counted() -> None:
    """The hoses themselves say that their first stage is missing."""
    text = without(SINGLE, "first")
    assert not of_item(assessed(text), "port count", None)
    assert of_item(assessed(text), "no such port", "primary hose")


def test_a_first_stage_says_its_own_ports_over_those_of_its_preset() -> None:
    """The preset has four LP ports; this one was drilled with two."""
    text = with_keys(SINGLE, "first", ports=["LP1 3/8-24 UNF", "LP2 3/8-24 UNF", "HP1 7/16-20 UNF"], plugged=[])
    [finding] = of_item(assessed(text), "no such port", "inflator hose")
    assert_holds(sentence(finding.do, System.METRIC), ("LP1, LP2, HP1",))
