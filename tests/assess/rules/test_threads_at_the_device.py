"""What a hose is screwed to at its other end, and instruments that sit in a port."""

import pytest

from tests.assess.kits import assessed, config, hose_text, with_keys, without
from tests.assess.rules.cases import DANGER, WARNING, Case, check, of_item

SINGLE = config("warm-single")
RULE = "thread at the device"
INSTRUMENT = "instrument in a port"
PLUGGED = with_keys(SINGLE, "first", plugged=["LP4"])
SENDER = PLUGGED + '\n[[transmitter]]\ntag = "sender"\npreset = "transmitter"\n'
OLD = with_keys(SENDER, "first", preset="old brass, yoke, 3 LP 1 HP 3/8", plugged=[])


def fastened(inlet: str, end: str, adapter: str | None = None) -> str:
    """The reef kit whose primary has such an inlet, and its hose such an end."""
    text = with_keys(SINGLE, "primary", inlet=inlet)
    return with_keys(text, "primary hose", to_end=end, **({"to_adapter": adapter} if adapter else {}))


def on_a_hose(to: str, end: str) -> str:
    """The reef kit with a transmitter, and an HP hose with such an end to it or to the gauge."""
    text = SENDER + hose_text(tag="sender hose", role="transmitter", from_="first HP2", to="sender")
    return with_keys(text, {"sender": "sender hose", "gauge": "gauge hose"}[to], to_end=end)


def second_stage(
    key: str, wrong: str, right: str, *, says: tuple[str, ...], do: tuple[str, ...], signal: object = WARNING
) -> Case:
    return Case(RULE, signal, "primary hose", key, wrong, right, says, do)


CASES = [
    second_stage(
        "to_end",
        fastened("1/2", "second stage 9/16"),
        fastened("1/2", "second stage 1/2"),
        signal=DANGER,  # the nut slides over the inlet
        says=(
            "the hose end second stage 9/16 has the thread 9/16-18 UNF, the inlet 1/2 has 1/2-20 UNF",
            "One slides over the other and no thread holds it",
        ),
        do=("Buy a hose with a 1/2-20 UNF end", "The inlet adapter 1/2 to 9/16 would also fit"),
    ),
    second_stage(
        "to_end",
        fastened("9/16", "second stage 1/2"),
        fastened("9/16", "second stage 9/16"),
        says=(
            "the hose end second stage 1/2 has the thread 1/2-20 UNF, the inlet 9/16 has 9/16-18 UNF",
            "does not screw in",
        ),
        do=("Buy a hose with a 9/16-18 UNF end",),
    ),
    second_stage(
        "to_adapter",
        fastened("1/2", "second stage 9/16", "elbow 90"),
        fastened("1/2", "second stage 9/16", "inlet adapter 1/2 to 9/16"),
        signal=DANGER,
        says=("the elbow 90 has the thread 9/16-18 UNF, the inlet 1/2 has 1/2-20 UNF",),
        do=("Choose an adapter that fits 1/2-20 UNF",),
    ),
    second_stage(
        "to_adapter",
        fastened("9/16", "second stage 9/16", "inlet adapter 1/2 to 9/16"),
        fastened("9/16", "second stage 9/16", "swivel"),
        says=("the inlet adapter 1/2 to 9/16 has the thread 1/2-20 UNF, the inlet 9/16 has 9/16-18 UNF",),
        do=("Remove the inlet adapter 1/2 to 9/16",),
    ),
    second_stage(
        "to_adapter",
        fastened("9/16", "second stage 9/16", "adapter 1/2 to 3/8"),
        fastened("9/16", "second stage 9/16", "elbow 70"),
        says=("the adapter 1/2 to 3/8 (male) does not fit the inlet 9/16 (male)",),
        do=("Remove the adapter 1/2 to 3/8",),
    ),
    second_stage(
        "to_end",
        fastened("built-in swivel", "second stage 9/16"),
        fastened("built-in swivel", "built-in swivel"),
        says=("a built-in swivel takes only its own replacement hose",),
        do=("Order the replacement hose",),
    ),
    second_stage(
        "to_end",
        fastened("9/16", "built-in swivel"),
        fastened("9/16", "second stage 9/16"),
        says=("the hose end built-in swivel does not fit the inlet 9/16",),
        do=("Buy a hose with a 9/16-18 UNF end",),
    ),
    second_stage(
        "to_end",
        fastened("9/16", "gauge swivel"),
        fastened("9/16", "second stage 9/16"),
        says=(
            "the hose end gauge swivel",
            "the hose end gauge swivel (gauge swivel) does not fit the inlet 9/16 (9/16-18 UNF)",
        ),
        do=("Choose a hose end that fits",),
    ),
    Case(
        RULE,
        WARNING,
        "inflator hose",
        "to_adapter",
        with_keys(SINGLE, "inflator hose", to_adapter="elbow 90"),
        SINGLE,
        says=("the elbow 90 (9/16-18 UNF) does not fit the inlet standard nipple (standard nipple)",),
        do=("Remove the elbow 90",),
    ),
    Case(
        RULE,
        WARNING,
        "gauge hose",
        "to_end",
        on_a_hose("gauge", "HP 7/16 port"),
        on_a_hose("gauge", "gauge swivel"),
        says=("the hose end HP 7/16 port (7/16-20 UNF) does not fit the inlet gauge swivel (gauge swivel)",),
        do=("Choose a hose end that fits",),
    ),
    Case(
        RULE,
        WARNING,
        "sender hose",
        "to_end",
        on_a_hose("sender", "gauge swivel"),
        on_a_hose("sender", "HP 7/16 port"),
        says=(
            "the hose end gauge swivel",
            "the hose end gauge swivel (gauge swivel) does not fit the inlet transmitter 7/16 (7/16-20 UNF)",
        ),
        do=("Choose a hose end that fits",),
    ),
    Case(
        RULE,
        WARNING,
        "gauge hose",
        "to_end",
        with_keys(SINGLE, "gauge hose", to="octopus"),
        SINGLE,
        says=(
            "the hose end gauge swivel",
            "the hose end gauge swivel (gauge swivel) does not fit the inlet 9/16 (9/16-18 UNF)",
        ),
        do=("Use an LP hose",),
    ),
    Case(
        RULE,
        None,
        "octopus",
        "inlet",
        with_keys(SINGLE, "octopus", preset=None),
        with_keys(SINGLE, "octopus", preset=None, inlet="9/16"),
        says=('the inlet of "octopus" is not known',),
    ),
    Case(
        RULE,
        None,
        "octopus hose",
        "to_end",
        with_keys(SINGLE, "octopus hose", to_end=None),
        SINGLE,
        says=("assumed to be second stage 9/16",),
    ),
    Case(
        INSTRUMENT,
        WARNING,
        "sender",
        "port",
        OLD + 'port = "first HP1"\n',
        SENDER + 'port = "first HP2"\n',
        says=(
            "the inlet transmitter 7/16 has the thread 7/16-20 UNF, the port HP1 has 3/8-24 UNF",
            "does not screw in",
        ),
        do=("Connect it with an HP hose that fits both",),
    ),
    Case(
        INSTRUMENT,
        WARNING,
        "gauge",
        "port",
        with_keys(without(PLUGGED, "gauge hose"), "gauge", port="first HP1"),
        PLUGGED,
        says=(
            "the inlet gauge swivel",
            "the inlet gauge swivel (gauge swivel) does not fit the port HP1 (7/16-20 UNF)",
        ),
        do=("Connect it with an HP hose that fits both",),
    ),
    Case(
        INSTRUMENT,
        None,
        "sender",
        "inlet",
        with_keys(SENDER, "sender", preset=None, port="first HP2"),
        with_keys(SENDER, "sender", preset=None, port="first HP2", inlet="transmitter 7/16"),
        says=("its thread is not known",),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks in one kit and not in the other."""
    check(case)


@pytest.mark.parametrize(
    ("inlet", "end", "adapter"),
    [
        ("9/16", "second stage 9/16", None),
        ("9/16", "second stage 9/16", "elbow 90"),
        ("9/16", "second stage 9/16", "elbow 70"),
        ("9/16", "second stage 9/16", "swivel"),
        ("1/2", "second stage 1/2", None),
        ("1/2", "second stage 9/16", "inlet adapter 1/2 to 9/16"),
        ("built-in swivel", "built-in swivel", None),
    ],
)
def test_what_belongs_together_goes_together(inlet: str, end: str, adapter: str | None) -> None:
    """The hose end, or the far side of its adapter, has the thread of the inlet."""
    assert not of_item(assessed(fastened(inlet, end, adapter)), RULE, "primary hose")


def test_a_transmitter_in_an_lp_port_is_wrong_twice() -> None:
    """Its thread does not enter, and the pressure there would tell it nothing; nobody is advised to make it fit."""
    text = with_keys(with_keys(SENDER, "first", plugged=["HP2"]), "sender", port="first LP4")
    found = of_item(assessed(text), INSTRUMENT, "sender")
    assert [finding.signal for finding in found] == [WARNING, WARNING]
    assert {"".join(map(str, finding.do)) for finding in found} == {"Move the transmitter to an HP port."}


def test_an_elbow_is_looked_at_whatever_the_coupling() -> None:
    """With an adapter in between, only one rule speaks of a nipple that does not suit."""
    text = with_keys(SINGLE, "inflator hose", to_end="second stage 9/16", to_adapter="elbow 90")
    assessment = assessed(text)
    assert not of_item(assessment, "coupling family", "inflator hose")
    [finding] = of_item(assessment, RULE, "inflator hose")
    assert finding.key == "to_adapter"
