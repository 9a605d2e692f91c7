"""What is screwed into a port: thread, adapter and pressure class, from the port to the hose end."""

import pytest

from kitbuilder.assess.findings import Signal
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import assessed, config, with_keys
from tests.assess.rules.cases import DANGER, WARNING, Case, assert_holds, check, of_item

SINGLE = config("warm-single")
RULE = "thread at the port"
LP, HP = "primary hose", "gauge hose"
HALF_INCH = with_keys(SINGLE, "first", preset="brass, DIN, 1/2 port")
OLD = with_keys(SINGLE, "first", preset="old brass, yoke, 3 LP 1 HP 3/8", plugged=[])


def screwed_in(port: str, end: str, adapter: str | None = None) -> str:
    """The reef kit with a first stage of four ports, one of them as given, and a hose with such an end in it."""
    name = port.split(" ")[0]
    others = {"LP1": "LP1 3/8-24 UNF", "LP2": "LP2 3/8-24 UNF", "LP3": "LP3 3/8-24 UNF", "HP1": "HP1 7/16-20 UNF"}
    text = with_keys(SINGLE, "first", ports=list((others | {name: port}).values()), plugged=[])
    return with_keys(text, HP if name == "HP1" else LP, from_end=end, **({"from_adapter": adapter} if adapter else {}))


CASES = [
    Case(
        RULE,
        WARNING,
        LP,
        "from_end",
        screwed_in("LP1 3/8-24 UNF", "LP 1/2"),
        screwed_in("LP1 3/8-24 UNF", "LP 3/8"),
        says=(
            "the hose end LP 1/2 has the thread 1/2-20 UNF, the port LP1 has 3/8-24 UNF",
            "does not screw in",
            "It is a common mistake to buy a half-inch hose for a three-eighths port",
        ),
        do=("Buy a hose with a 3/8-24 UNF end",),
    ),
    Case(
        RULE,
        DANGER,
        LP,
        "from_end",
        screwed_in("LP1 1/2-20 UNF", "LP 3/8"),
        screwed_in("LP1 1/2-20 UNF", "LP 1/2"),
        says=(
            "slides over the other and no thread holds it",
            "It is a common mistake to buy a half-inch hose for a three-eighths port",
        ),
        do=("Buy a hose with a 1/2-20 UNF end", "The adapter 1/2 to 3/8 would also fit"),
    ),
    Case(
        RULE,
        DANGER,
        LP,
        "from_end",
        screwed_in("LP1 1/2-20 UNF", "LP 3/8"),
        screwed_in("LP1 1/2-20 UNF", "LP 3/8", "adapter 1/2 to 3/8"),
        says=("slides over the other",),
        do=("The adapter 1/2 to 3/8 would also fit",),
    ),
    Case(
        RULE,
        WARNING,
        LP,
        "from_adapter",
        screwed_in("LP1 3/8-24 UNF", "LP 3/8", "adapter 1/2 to 3/8"),
        screwed_in("LP1 3/8-24 UNF", "LP 3/8"),
        says=("the adapter 1/2 to 3/8 has the thread 1/2-20 UNF, the port LP1 has 3/8-24 UNF",),
        do=("Remove the adapter 1/2 to 3/8: the hose end LP 3/8 fits the port LP1 without it",),
    ),
    Case(
        RULE,
        WARNING,
        LP,
        "from_adapter",
        screwed_in("LP1 3/8-24 UNF", "LP 3/8", "elbow 90"),
        screwed_in("LP1 3/8-24 UNF", "LP 3/8"),
        says=("the elbow 90 (female)", "the port LP1 (female)"),
        do=("Remove the elbow 90",),
    ),
    Case(
        RULE,
        WARNING,
        LP,
        "from_adapter",
        screwed_in("LP1 1/2-20 UNF", "LP 1/2", "adapter 1/2 to 3/8"),
        screwed_in("LP1 1/2-20 UNF", "LP 1/2"),
        says=("the hose end LP 1/2 has the thread 1/2-20 UNF, the adapter 1/2 to 3/8 has 3/8-24 UNF",),
        do=("Remove the adapter 1/2 to 3/8: the hose end LP 1/2 fits the port LP1 without it",),
    ),
    Case(
        RULE,
        WARNING,
        HP,
        "from_end",
        screwed_in("HP1 3/8-24 UNF", "HP 7/16"),
        screwed_in("HP1 3/8-24 UNF", "HP 3/8"),
        says=("7/16-20 UNF", "3/8-24 UNF", "does not screw in"),
        do=("Buy a hose with a 3/8-24 UNF end",),
    ),
    Case(
        RULE,
        DANGER,
        HP,
        "from_end",
        screwed_in("HP1 7/16-20 UNF", "HP 3/8"),
        screwed_in("HP1 7/16-20 UNF", "HP 7/16"),
        says=("slides over the other and no thread holds it",),
        do=("Buy a hose with a 7/16-20 UNF end",),
    ),
    Case(
        RULE,
        None,
        LP,
        "from_end",
        with_keys(SINGLE, LP, from_end=None),
        SINGLE,
        says=("the first stage end of the hose: assumed to be LP 3/8",),
    ),
    Case(
        "pressure class",
        DANGER,
        LP,
        "from",
        with_keys(OLD, LP, from_="first HP1"),
        OLD,
        says=("low-pressure hose (LP 3/8)", "high-pressure port first HP1", "and the thread fits"),
        do=("Move the hose to an LP port", "Have a technician measure the pressure of an unmarked port"),
    ),
    Case(
        "pressure class",
        DANGER,
        HP,
        "from",
        with_keys(OLD, HP, from_end="LP 3/8"),
        with_keys(OLD, HP, from_end="HP 3/8"),
        says=(
            "low-pressure part (LP 3/8)",
            "first HP1",
            "a low-pressure part (LP 3/8) sits in the high-pressure port first HP1, and the thread fits",
        ),
        do=("made for high pressure from end to end",),
    ),
    Case(
        "pressure class",
        DANGER,
        HP,
        "from",
        with_keys(SINGLE, HP, from_adapter="adapter 1/2 to 3/8", from_end="HP 3/8"),
        with_keys(SINGLE, HP, from_adapter="adapter 7/16 to 3/8", from_end="HP 3/8"),
        says=("low-pressure part (adapter 1/2 to 3/8)",),
        do=("made for high pressure from end to end",),
    ),
    Case(
        "pressure class",
        WARNING,
        HP,
        "from",
        with_keys(SINGLE, HP, from_="first LP4"),
        SINGLE,
        says=("high-pressure hose (gauge)", "low-pressure port first LP4"),
        do=("Move the hose to an HP port",),
    ),
    Case(
        "coding defeated",
        DANGER,
        HP,
        "from_adapter",
        with_keys(SINGLE, HP, from_adapter="adapter 7/16 to 3/8", from_end="HP 3/8"),
        SINGLE,
        says=("adapter 7/16 to 3/8 joins the threads of two pressure classes",),
        do=("Remove the adapter and use a hose that is made for the port",),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks in one kit and not in the other."""
    check(case)


FITS = [
    ("LP1 3/8-24 UNF", "LP 3/8", None),
    ("LP1 1/2-20 UNF", "LP 1/2", None),
    ("LP1 1/2-20 UNF", "LP 3/8", "adapter 1/2 to 3/8"),
    ("HP1 7/16-20 UNF", "HP 7/16", None),
    ("HP1 3/8-24 UNF", "HP 3/8", None),
    ("HP1 7/16-20 UNF", "HP 3/8", "adapter 7/16 to 3/8"),
]


@pytest.mark.parametrize(("port", "end", "adapter"), FITS)
def test_what_belongs_together_goes_together(port: str, end: str, adapter: str | None) -> None:
    """Threads of one name and opposite genders, one after the other."""
    hose = HP if port.startswith("HP") else LP
    assert not of_item(assessed(screwed_in(port, end, adapter)), RULE, hose)


@pytest.mark.parametrize("end", ["LP 3/8", "LP 1/2", "HP 7/16", "HP 3/8"])
@pytest.mark.parametrize("port", ["LP1 3/8-24 UNF", "LP1 1/2-20 UNF", "LP1 9/16-18 UNF", "HP1 7/16-20 UNF"])
def test_without_an_adapter_only_the_thread_of_the_port_fits(port: str, end: str) -> None:
    """Whatever the pressure class, which is another rule."""
    threads = {"LP 3/8": "3/8-24", "LP 1/2": "1/2-20", "HP 7/16": "7/16-20", "HP 3/8": "3/8-24"}
    hose = HP if port.startswith("HP") else LP
    assert (not of_item(assessed(screwed_in(port, end)), RULE, hose)) == (threads[end] in port)


@pytest.mark.parametrize("port", ["HP1 7/16-20 UNF", "HP1 1/2-20 UNF"])
def test_no_adapter_is_advised_that_is_not_made_for_the_pressure(port: str) -> None:
    """One would defeat the coding of the threads, the other is an LP part."""
    [finding] = of_item(assessed(screwed_in(port, "HP 3/8")), RULE, HP)
    assert "adapter" not in sentence(finding.do, System.METRIC)


def test_two_wrong_joints_of_an_adapter_are_both_named() -> None:
    """A half-inch hose behind an adapter that fits neither the port nor the hose."""
    text = screwed_in("LP1 9/16-18 UNF", "LP 1/2", "adapter 1/2 to 3/8")
    found = [item.key for item in of_item(assessed(text), RULE, LP)]
    assert found == ["from_adapter", "from_end"]


@pytest.mark.parametrize(
    ("hose", "port", "belongs"),
    [(LP, "first HP2", "Connect the hose to an LP port"), (HP, "first LP4", "Connect the hose to an HP port")],
)
def test_nobody_is_advised_to_make_a_hose_fit_a_port_of_the_other_pressure(hose: str, port: str, belongs: str) -> None:
    """A low-pressure hose with the thread of a high-pressure port would be the accident itself."""
    found = assessed(with_keys(SINGLE, hose, from_=port)).findings
    mine = [finding for finding in found if finding.rule in (RULE, "pressure class")]
    assert {finding.rule for finding in mine} == {RULE, "pressure class"}
    for finding in mine:
        advice = sentence(finding.do, System.METRIC)
        assert "Get a hose" not in advice
        assert "would also do" not in advice
        if finding.rule == RULE:
            assert_holds(advice, ("Do not use an adapter", belongs))


def test_an_lp_hose_behind_the_adapter_that_defeats_the_coding() -> None:
    """Every thread fits, and it bursts: two dangers, and no word of a thread."""
    text = with_keys(SINGLE, LP, from_="first HP2", from_adapter="adapter 7/16 to 3/8")
    found = {finding.rule: finding for finding in assessed(with_keys(text, "first", plugged=["LP1", "LP4"])).findings}
    assert RULE not in found
    assert found["coding defeated"].signal is found["pressure class"].signal is Signal.DANGER
    assert_holds(sentence(found["pressure class"].what, System.METRIC), ("and the thread fits",))


def test_a_thread_that_keeps_the_hose_out_is_not_said_to_let_it_in() -> None:
    """LP 3/8 is too thin for the thread of an HP port."""
    [finding] = of_item(assessed(with_keys(SINGLE, LP, from_="first HP2")), "pressure class", LP)
    assert "lets it in" not in sentence(finding.what, System.METRIC)
