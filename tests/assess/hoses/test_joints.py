"""What joins: every end and adapter at every port and every inlet, held against the rows of the catalogue file.

Two sides join when they are of one designation and of opposite gender: of the threads that hoses meet, no other pair
holds, see the table of pairs beside the tests of threads.
"""

import tomllib
from itertools import product
from pathlib import Path
from typing import Any

import pytest

import kitbuilder.catalogue
from kitbuilder.assess.hoses.joints import HoseJoints, joints_of, right_hose, right_hoses
from kitbuilder.kit.items import FirstStage, Gauge, Hose, Item, SecondStage, Wing

FILE = tomllib.loads((Path(kitbuilder.catalogue.__file__).parent / "fittings.toml").read_text("utf-8"))
ENDS, INLETS, ADAPTERS = ({row["name"]: row for row in FILE[table]} for table in ("fitting", "inlet", "adapter"))
THREADS = ("3/8-24 UNF", "7/16-20 UNF", "1/2-20 UNF", "9/16-18 UNF")
ROLES = {"LP": "wing inflator", "HP": "gauge"}
USUAL = {"LP": ("LP 3/8", "standard nipple coupling"), "HP": ("HP 7/16", "gauge swivel")}
NO_ADAPTER: list[str | None] = [None]


def hose(service: str, **keys: Any) -> Hose:
    """A hose from port 1 of its pressure class to the device, by default."""
    known = {"from_": f"first {service}1", "to": "device"} | keys
    return Hose(tag="hose", role=ROLES[service], body="rubber", length_m=0.75, **known)


def judged(one: Hose, thread: str, inlet: str | None) -> HoseJoints:
    """The hose between a first stage with a port of that thread in both classes, and a device with that inlet."""
    kind = Gauge if inlet and INLETS[inlet]["service"] == "HP" else Wing
    items: list[Item] = [
        FirstStage(tag="first", ports=(f"LP1 {thread}", f"HP1 {thread}")),
        kind(tag="device", inlet=inlet),
    ]
    return joints_of(one, {item.tag: item for item in items})


def pair(one: dict[str, str], other: dict[str, str]) -> bool:
    return one["joint"] == other["joint"] and one["gender"] != other["gender"]


def chain(near: dict[str, str], adapter: str | None, end: str) -> bool:
    """Whether an end joins, through its adapter, which must be of no pressure class but its own."""
    if adapter is None:
        return pair(near, ENDS[end])
    between = ADAPTERS[adapter]
    is_safe = not between.get("defeats_coding")
    return is_safe and pair(near, between["far_side"]) and pair(between["hose_side"], ENDS[end])


def at(place: str, *services: str) -> list[str]:
    return [name for name, row in ENDS.items() if row["place"] == place and row["service"] in services]


def weak(*parts: dict[str, Any] | None) -> bool:
    return any(part is not None and part["service"] == "LP" for part in parts)


@pytest.mark.parametrize("service", ["LP", "HP"])
def test_every_end_in_every_port(service: str) -> None:
    """Given or left out, with each adapter. An LP part in an HP port never joins; of the right hose no part is LP."""
    inlet = "standard nipple" if service == "LP" else "gauge swivel"
    for thread, adapter, end in product(THREADS, (None, *ADAPTERS), (None, *at("first stage", "LP", "HP"))):
        found = judged(hose(service, from_end=end, from_adapter=adapter), thread, inlet)
        port = {"joint": thread, "gender": "female"}
        ends = [end] if end else at("first stage", service)
        # What is left out is of its own class: only a part that is given can be weak.
        is_weak = service == "HP" and weak(ENDS.get(end or ""), ADAPTERS.get(adapter or ""))
        joins = any(chain(port, adapter, each) for each in ends) and not is_weak
        assert found.joins is joins, (thread, adapter, end)
        usable = [None, *(name for name, row in ADAPTERS.items() if row["service"] == service)]
        fit = [each for each in {*at("first stage", service), *ends} if not (service == "HP" and weak(ENDS[each]))]
        can = any(chain(port, name, each) for name in usable for each in fit)
        right = right_hose(found)
        assert (right is not None) == can
        if right is not None:
            assert chain(port, right.from_adapter, right.from_end or "")
            assert not (service == "HP" and weak(ENDS[right.from_end or ""]))
            assert (right == found.hose) == joins


@pytest.mark.parametrize("service", ["LP", "HP"])
def test_every_end_on_every_inlet(service: str) -> None:
    """Given or left out, with each adapter."""
    thread = "3/8-24 UNF" if service == "LP" else "7/16-20 UNF"
    inlets = [name for name, row in INLETS.items() if row["service"] == service]
    for inlet, adapter, end in product(inlets, (None, *ADAPTERS), (None, *at("device", service))):
        found = judged(hose(service, to_end=end, to_adapter=adapter), thread, inlet)
        joins = any(chain(INLETS[inlet], adapter, each) for each in ([end] if end else at("device", service)))
        assert found.joins is joins, (inlet, adapter, end)
        right = right_hose(found)
        assert right is not None, "every inlet of the catalogue has an end that joins it"
        assert chain(INLETS[inlet], right.to_adapter, right.to_end or "")
        assert (right == found.hose) == joins


@pytest.mark.parametrize("service", ["LP", "HP"])
def test_ends_are_the_usual_ones_where_nothing_is_known(service: str) -> None:
    """Of a hose from nowhere to nowhere; and nothing speaks for another."""
    found = joints_of(hose(service, from_=None, to=None))
    assert (found.hose.from_end, found.hose.to_end) == USUAL[service]
    assert (found.joins, found.missing) == (None, ("port", "inlet"))
    assert list(right_hoses(found)) == [found.hose]


def test_an_adapter_that_fits_is_kept() -> None:
    """A wrong end behind an elbow: the right hose has an end that fits the elbow. A wrong elbow is left off."""
    second: dict[str, Item] = {"device": SecondStage(tag="device", inlet="9/16")}
    wrong_end = joints_of(hose("LP", to_end="second stage 1/2", to_adapter="elbow 90"), second)
    right = right_hose(wrong_end)
    assert right is not None
    assert (wrong_end.joins, right.to_end, right.to_adapter) == (False, "second stage 9/16", "elbow 90")
    odd: dict[str, Item] = {"device": SecondStage(tag="device", inlet="1/2")}
    right = right_hose(joints_of(hose("LP", to_end="second stage 9/16", to_adapter="elbow 90"), odd))
    assert right is not None
    assert (right.to_end, right.to_adapter) == ("second stage 1/2", None)


def test_an_adapter_without_its_port_still_tells_the_end() -> None:
    """Behind an adapter of 3/8 the end is one of 3/8, whatever it is screwed into; but this adapter is never right."""
    found = joints_of(hose("HP", from_=None, from_adapter="adapter 7/16 to 3/8"))
    assert found.hose.from_end == "HP 3/8"
    right = right_hose(found)
    assert right is not None
    assert (found.joins, right.from_adapter) == (False, None)
