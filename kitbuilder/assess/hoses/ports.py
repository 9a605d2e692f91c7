"""What connects to what: the ports of first stages, the inlets of devices, and what is in which."""

from collections.abc import Callable
from functools import lru_cache
from typing import NamedTuple

from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Device, FirstStage, Gauge, Hose, Item, Other, Transmitter, split_port


class Port(NamedTuple):
    """A port of a first stage."""

    name: str
    service: str
    """"LP" or "HP"."""
    thread: str


@lru_cache(maxsize=1024)
def ports_of(stage: FirstStage) -> dict[str, Port]:
    """Give the ports of a first stage, its own or its preset's, by name; empty when neither is given."""
    rows = stage.ports
    if not rows and stage.preset:
        rows = catalogue().presets[stage.kind, stage.preset].ports
    ports = (row.split(" ", 1) for row in rows)
    return {name: Port(name, name[:2], thread.strip()) for name, thread in ports}


def port_at(reference: str | None, find: Callable[[str], Item | None]) -> Port | None:
    """Give the port that a reference names, as "first LP1"; None when there is no such port or it is not known.

    Args:
        reference: The tag of the first stage, then the port.
        find: Gives an item of the kit by its tag.
    """
    tag, name = split_port(reference or "")
    stage = find(tag)
    return ports_of(stage).get(name) if isinstance(stage, FirstStage) else None


def port_reference(item: Item) -> str | None:
    """Give the port a hose leaves from, or an instrument is screwed into."""
    if isinstance(item, Hose):
        return item.from_
    return item.port if isinstance(item, (Gauge, Transmitter, Other)) else None


def inlet_of(device: Device) -> str | None:
    """Give the name of a device's inlet, its own or its preset's; None when neither is given."""
    if device.inlet:
        return device.inlet
    preset = catalogue().presets.get((device.kind, device.preset or ""))
    return preset.inlet if preset else None


def service_of_device(device: Device) -> str | None:
    """Give the pressure a device takes, "LP" or "HP"; None for an item no hose feeds."""
    inlet = inlet_of(device)
    if inlet:
        return catalogue().inlets[inlet].service
    return {
        "second_stage": "LP",
        "wing": "LP",
        "jacket": "LP",
        "drysuit": "LP",
        "gauge": "HP",
        "transmitter": "HP",
    }.get(device.kind)
