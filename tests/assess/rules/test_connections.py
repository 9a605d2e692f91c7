"""Where hoses lead: nothing loose, nothing forgotten, the right item at the end."""

import pytest

from kitbuilder.assess.hoses.ports import service_of_device
from kitbuilder.kit.items import Device, Drysuit, Gauge, Jacket, Other, SecondStage, Transmitter, Wing
from tests.assess.kits import config, hose_text, with_keys, without
from tests.assess.rules.cases import CAUTION, DANGER, WARNING, Case, check

TWINSET = config("twinset")
SECOND_HOSE = TWINSET + hose_text(tag="second hose", from_="right post LP3", to="primary")
TRANSMITTER = '\n[[transmitter]]\ntag = "sender"\npreset = "transmitter"\n'
SENDER_HOSE = hose_text(tag="sender hose", role="transmitter", from_="right post HP1", to="sender")

CASES = [
    Case(
        "comes from nowhere",
        CAUTION,
        "wing hose",
        "from",
        with_keys(TWINSET, "wing hose", from_=None),
        TWINSET,
        says=("the file does not name the port that the hose leaves from",),
        do=('Name the first stage and its port, such as "first LP1"', '"first LP1"'),
    ),
    Case(
        "leads nowhere",
        WARNING,
        "necklace hose",
        "to",
        with_keys(TWINSET, "necklace hose", to=None),
        TWINSET,
        says=("the file does not name the item that the hose feeds",),
        do=("Name the item that the hose feeds, or take the hose off and plug its port", "plug its port"),
    ),
    Case(
        "leads nowhere",
        CAUTION,  # its coupling closes by itself
        "wing hose",
        "to",
        with_keys(TWINSET, "wing hose", to="wings"),
        TWINSET,
        says=('"wings"', "no item has this tag"),
        do=("Name the item that the hose feeds, or take the hose off and plug its port",),
    ),
    Case(
        "leads nowhere",
        WARNING,
        "necklace hose",
        "to",
        with_keys(TWINSET, "necklace hose", to="right post"),
        TWINSET,
        says=('the hose leads to "right post", a first stage, which has no inlet for a hose',),
        do=("Name the item that the hose feeds, or take the hose off and plug its port",),
    ),
    Case(
        "leads nowhere",
        WARNING,  # a built-in swivel stays with the second stage; what is left of the hose is open
        "necklace hose",
        "to",
        with_keys(TWINSET, "necklace hose", to=None, to_end="built-in swivel"),
        with_keys(TWINSET, "necklace hose", to_end="built-in swivel"),
        says=("the file does not name the item that the hose feeds",),
        do=("Name the item that the hose feeds, or take the hose off and plug its port",),
    ),
    Case(
        "leads nowhere",
        WARNING,
        "gauge hose",
        "to",
        without(TWINSET, "gauge"),
        TWINSET,
        says=('"gauge"', "no item has this tag"),
        do=("plug its port",),
    ),
    Case(
        "no hose",
        WARNING,
        "primary",
        None,
        without(TWINSET, "long hose"),
        TWINSET,
        says=("no hose leads to this item",),
        do=('Add a hose with to = "primary"',),
    ),
    Case(
        "no hose",
        WARNING,
        "sender",
        "port",
        TWINSET + TRANSMITTER,
        TWINSET + TRANSMITTER + 'port = "right post HP1"\n',
        says=("no hose leads to this item",),
        do=('Add a hose with to = "sender"',),
    ),
    Case(
        "fed twice",
        WARNING,
        "second hose",
        "to",
        SECOND_HOSE,
        with_keys(SECOND_HOSE, "second hose", to="octopus"),
        says=('the hose leads to "primary", which already has the hose "long hose"',),
        do=("plug its port",),
    ),
    Case(
        "fed twice",
        WARNING,
        "sender hose",
        "to",
        TWINSET + TRANSMITTER + 'port = "left post HP2"\n' + SENDER_HOSE,
        TWINSET + TRANSMITTER + SENDER_HOSE,
        says=('the hose leads to "sender", which already sits in the port left post HP2',),
        do=("take it off",),
    ),
    Case(
        "pressure at the device",
        DANGER,
        "gauge hose",
        "to",
        with_keys(TWINSET, "gauge hose", to="necklace"),
        TWINSET,
        says=('the HP hose leads to "necklace", which takes LP', "takes LP"),
        do=("LP port with an LP hose",),
    ),
    Case(
        "pressure at the device",
        WARNING,
        "necklace hose",
        "to",
        with_keys(TWINSET, "necklace hose", to="gauge"),
        TWINSET,
        says=('the LP hose leads to "gauge", which takes HP', "takes HP"),
        do=("HP port with an HP hose",),
    ),
    Case(
        "role and item",
        CAUTION,
        "necklace hose",
        "role",
        with_keys(TWINSET, "necklace hose", to="wing"),
        with_keys(TWINSET, "necklace hose", to="wing", role="other LP"),
        says=("the role of the hose is necklace, but it leads to a wing", "leads to a wing"),
        do=("Correct `role` or `to`",),
    ),
    Case(
        "nothing vents",
        WARNING,
        "left post",
        None,
        without(TWINSET, "necklace hose"),
        TWINSET,
        says=("feeds no second stage",),
        do=("over-pressure valve", "LP port"),
    ),
    Case(
        "nothing vents",
        WARNING,
        "left post",
        None,
        without(without(TWINSET, "necklace hose"), "drysuit hose"),  # a gauge and plugs: nothing gives way at all
        TWINSET,
        says=("feeds no second stage",),
        do=("over-pressure valve",),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks in one kit and not in the other."""
    check(case)


@pytest.mark.parametrize(
    ("device", "takes"),
    [
        (SecondStage(tag="x"), "LP"),
        (Wing(tag="x"), "LP"),
        (Jacket(tag="x"), "LP"),
        (Drysuit(tag="x"), "LP"),
        (Gauge(tag="x"), "HP"),
        (Transmitter(tag="x"), "HP"),
        (Other(tag="x"), None),
        (Other(tag="x", inlet="standard nipple"), "LP"),
    ],
    ids=lambda value: value.title if isinstance(value, Device) else str(value),
)
def test_what_pressure_a_device_takes(device: Device, takes: str | None) -> None:
    """Without an inlet its kind tells: gauges and transmitters read cylinder pressure, the others take less."""
    assert service_of_device(device) == takes
