"""Whether parts can be joined: at the port, at the device, and between them. The one place where this is decided.

Rules, fitting, fewest hoses, gear and changeover ask here. An end that a file leaves out is taken as one that joins its
port or its device: the hose has been in use there, or is still to be bought.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from enum import StrEnum
from functools import lru_cache
from itertools import product
from typing import NamedTuple

from kitbuilder.assess.hoses.hose_weight import service_of
from kitbuilder.assess.hoses.ports import Port, inlet_of, port_at, service_of_device
from kitbuilder.assess.hoses.threads import meeting
from kitbuilder.catalogue import Adapter, Fitting, Inlet, catalogue
from kitbuilder.kit.items import Device, Gauge, Hose, Item, Transmitter
from kitbuilder.physics.threads import Mating

AT_PORT, AT_DEVICE = "first stage", "device"
"""The two ends of a hose, in the words of the catalogue."""
NO_ITEMS: Mapping[str, Item] = {}
"""For a hose by itself: nothing is known of its port and its device."""


class Side(NamedTuple):
    """One half of a joint."""

    called: str
    joint: str
    """A thread or a coupling."""
    gender: str
    key: str
    """The key of the hose or the instrument that says so."""


class Outcome(StrEnum):
    """What happens when two sides are joined."""

    JOINS = "joins"
    SAME_GENDER = "same gender"
    OTHER_THREAD = "other thread"
    OTHER_KIND = "other kind of joint"
    OTHER_FAMILY = "other family of coupling"
    OWN_HOSE_ONLY = "built-in swivel"


class Meeting(NamedTuple):
    """Two sides that are to be joined; the one nearer to port or device first."""

    near: Side
    far: Side
    outcome: Outcome
    mating: Mating | None = None
    """What the threads do, where they differ."""

    @property
    def joins(self) -> bool:
        """Whether the two can be joined, and hold."""
        return self.outcome is Outcome.JOINS

    @property
    def reason(self) -> str:
        """Why they do not join: "the hose end LP 3/8 (male 3/8-24 UNF) on the port LP1 (female 1/2-20 UNF)"."""
        sides = (f"{side.called} ({side.gender} {side.joint})" for side in (self.far, self.near))
        return f"{' on '.join(sides)}: {self.outcome}"


class PressureFault(StrEnum):
    """Parts of two pressure classes that are joined."""

    LOW_IN_HIGH = "a low-pressure part in a high-pressure port"
    HIGH_IN_LOW = "a high-pressure hose in a low-pressure port"
    WRONG_DEVICE = "a hose of one pressure class on a device of the other"


class HoseJoints(NamedTuple):
    """A hose between its port and its device, and every joint on the way."""

    hose: Hose
    """With both ends, those that its file leaves out taken as those that join."""
    port: Port | None
    """None when it is not named, or not known."""
    inlet: Inlet | None
    """None when the hose leads to no device, or its inlet is not known."""
    takes: str | None
    """The pressure class that the device takes; None when it is not known."""
    at_port: tuple[Meeting, ...]
    """From the port to the hose end; empty without a port."""
    at_device: tuple[Meeting, ...]
    """From the inlet to the hose end; empty without an inlet."""
    weak: tuple[Fitting | Adapter, ...]
    """The low-pressure parts at the end at the first stage."""
    device: Device | None
    """None when the hose leads to no device of its kit."""

    @property
    def is_of_two_makes(self) -> bool | None:
        """Whether coupling and nipple go together but are of two makes; None when a make is not given."""
        if not any(each.joins and is_quick_disconnect(each.near.joint) for each in self.at_device):
            return False
        makes = self.hose.make, self.device.make if self.device else None
        return makes[0] != makes[1] if all(makes) else None

    @property
    def service(self) -> str:
        """The pressure class of the hose, "LP" or "HP"."""
        return service_of(self.hose)

    @property
    def pressure_faults(self) -> tuple[PressureFault, ...]:
        """Where its pressure class is not that of port or device."""
        return tuple(self._pressure_faults())

    def _pressure_faults(self) -> Iterator[PressureFault]:
        if self.port is not None and self.port.service == "HP" and (self.service == "LP" or self.weak):
            yield PressureFault.LOW_IN_HIGH
        if self.port is not None and self.port.service == "LP" and self.service == "HP":
            yield PressureFault.HIGH_IN_LOW
        if self.takes is not None and self.takes != self.service:
            yield PressureFault.WRONG_DEVICE

    @property
    def defeating(self) -> tuple[tuple[str, str], ...]:
        """The adapters that join the threads of two pressure classes, each with its key."""
        hose = self.hose
        named = (("from_adapter", hose.from_adapter), ("to_adapter", hose.to_adapter))
        return tuple((key, name) for key, name in named if name and catalogue().adapters[name].defeats_coding)

    @property
    def wrong(self) -> tuple[Meeting, ...]:
        """The joints that cannot be made, from the port to the device."""
        return tuple(each for each in (*self.at_port, *self.at_device) if not each.joins)

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why it cannot be joined, or must not be, each in a few words; empty where nothing speaks against it."""
        adapters = (f"the {name} joins the threads of two pressure classes" for _, name in self.defeating)
        return (*(each.reason for each in self.wrong), *self.pressure_faults, *adapters)

    @property
    def missing(self) -> tuple[str, ...]:
        """What is not known: "port", "inlet"."""
        return tuple(name for name, part in (("port", self.port), ("inlet", self.inlet)) if part is None)

    @property
    def joins(self) -> bool | None:
        """Whether every joint can be made and no pressure class is mixed; None when too little is known to say so."""
        if self.wrong or self.pressure_faults or self.defeating:
            return False
        return None if self.missing else True


# ---- a joint ----


def meet(near: Side, far: Side) -> Meeting:
    """Say whether two sides can be joined."""
    if near.gender == far.gender:
        return Meeting(near, far, Outcome.SAME_GENDER)
    if near.joint == far.joint:
        return Meeting(near, far, Outcome.JOINS)
    joints = near.joint, far.joint
    if "built-in swivel" in joints:
        return Meeting(near, far, Outcome.OWN_HOSE_ONLY)
    threads = catalogue().threads
    if near.joint not in threads or far.joint not in threads:
        is_family = any(is_quick_disconnect(joint) for joint in joints)
        return Meeting(near, far, Outcome.OTHER_FAMILY if is_family else Outcome.OTHER_KIND)
    male, female = (near, far) if near.gender == "male" else (far, near)
    happens = meeting(male.joint, female.joint)
    return Meeting(near, far, Outcome.JOINS if happens is Mating.MATES else Outcome.OTHER_THREAD, happens)


def is_quick_disconnect(joint: str) -> bool:
    """Say whether a joint clicks on by hand."""
    coupling = catalogue().couplings.get(joint)
    return coupling is not None and coupling.kind == "quick-disconnect"


def side_of_port(port: Port) -> Side:
    """Give the side that a port offers."""
    return Side(f"the port {port.name}", port.thread, "female", "from")


def side_of_inlet(inlet: Inlet, key: str = "to") -> Side:
    """Give the side that a device offers."""
    return Side(f"the inlet {inlet.name}", inlet.joint, inlet.gender, key)


def side_of_end(fitting: Fitting) -> Side:
    """Give the side of a hose end."""
    key = "from_end" if fitting.place == AT_PORT else "to_end"
    return Side(f"the hose end {fitting.name}", fitting.joint, fitting.gender, key)


def _meetings(near: Side | None, adapter: str | None, end: Fitting) -> tuple[Meeting, ...]:
    """Give the joints from a port or an inlet to the hose end, with the adapter between them."""
    hose_end = side_of_end(end)
    if near is None:
        return ()
    if adapter is None:
        return (meet(near, hose_end),)
    key = hose_end.key.replace("end", "adapter")
    far, by_hose = (Side(f"the {adapter}", *side, key) for side in _sides_of(adapter))
    return meet(near, far), meet(by_hose, hose_end)


def _sides_of(adapter: str) -> tuple[tuple[str, str], tuple[str, str]]:
    """Give the two sides of an adapter, the one away from the hose first."""
    known = catalogue().adapters[adapter]
    return known.far_side, known.hose_side


# ---- a hose ----


def joints_of(hose: Hose, items: Mapping[str, Item] = NO_ITEMS) -> HoseJoints:
    """Say of every joint of a hose whether it can be made.

    Args:
        hose: The hose; ends that are left out are taken as those that join.
        items: What is in its kit, by tag.
    """
    port, device = port_at(hose.from_, items.get), items.get(hose.to or "")
    if not isinstance(device, Device):
        return _judge(_with_ends(hose, port, None), port, None)
    return _judge(_with_ends(hose, port, _inlet(device)), port, device)


def _inlet(device: Device) -> Inlet | None:
    return catalogue().inlets.get(inlet_of(device) or "")


def with_ends(hose: Hose, items: Mapping[str, Item]) -> Hose:
    """Give a hose with both ends, those that are left out taken as those that join its port and its device."""
    return joints_of(hose, items).hose


def items_with_ends(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Give the items of a kit, every hose with both ends."""
    by_tag = {item.tag: item for item in items}
    return tuple(with_ends(item, by_tag) if isinstance(item, Hose) else item for item in items)


@lru_cache(maxsize=4096)
def _judge(hose: Hose, port: Port | None, device: Device | None) -> HoseJoints:
    trade = catalogue()
    inlet = _inlet(device) if device else None
    takes = service_of_device(device) if device else None
    ends = trade.fittings[hose.from_end or ""], trade.fittings[hose.to_end or ""]
    at_port = _meetings(side_of_port(port) if port else None, hose.from_adapter, ends[0])
    at_device = _meetings(side_of_inlet(inlet) if inlet else None, hose.to_adapter, ends[1])
    adapter = trade.adapters.get(hose.from_adapter or "")
    weak = tuple(part for part in (ends[0], adapter) if part and part.service == "LP")
    return HoseJoints(hose, port, inlet, takes, at_port, at_device, weak, device)


def _with_ends(hose: Hose, port: Port | None, inlet: Inlet | None) -> Hose:
    if hose.from_end and hose.to_end:
        return hose
    near, far = side_of_port(port) if port else None, side_of_inlet(inlet) if inlet else None
    return replace(
        hose,
        from_end=hose.from_end or _taken_end(hose.role, AT_PORT, near, hose.from_adapter),
        to_end=hose.to_end or _taken_end(hose.role, AT_DEVICE, far, hose.to_adapter),
    )


@lru_cache(maxsize=1024)
def _taken_end(role: str, place: str, near: Side | None, adapter: str | None) -> str:
    """Name the end that joins port, inlet or adapter; the usual one where none does, or nothing is known."""
    ends = _ends_for(role, place)
    if adapter is not None:
        near = Side("", *_sides_of(adapter)[1], "")
    found = (end for end in ends if near is not None and meet(near, side_of_end(end)).joins)
    return next(found, ends[0]).name


def _ends_for(role: str, place: str) -> list[Fitting]:
    """Give the ends that a hose of a role may have, the usual one first."""
    trade, known = catalogue(), catalogue().roles[role]
    usual = known.from_end if place == AT_PORT else known.to_end
    ends = [end for end in trade.fittings.values() if (end.service, end.place) == (known.service, place)]
    return sorted(ends, key=lambda end: end.name != usual)


# ---- the right part ----


def right_hoses(joints: HoseJoints) -> Iterator[Hose]:
    """Give the hoses that join this port and this device, the nearest to the present one first.

    First with the present end and adapter, where they join; then with another end; then without the adapter; last with
    an adapter of the catalogue. An adapter that joins two pressure classes is never among them. None where port, hose
    and device are not of one pressure class: then the hose has to leave another port, or lead elsewhere.
    """
    classes = {joints.service, joints.port.service if joints.port else joints.service, joints.takes or joints.service}
    if len(classes) > 1:
        return
    hose, port, inlet = joints.hose, joints.port, joints.inlet
    at_port = _choices(hose.role, AT_PORT, side_of_port(port) if port else None, (hose.from_end, hose.from_adapter))
    at_device = _choices(hose.role, AT_DEVICE, side_of_inlet(inlet) if inlet else None, (hose.to_end, hose.to_adapter))
    for near, far in product(at_port, at_device):
        yield replace(hose, from_end=near[0], from_adapter=near[1], to_end=far[0], to_adapter=far[1])


def right_hose(joints: HoseJoints) -> Hose | None:
    """Give the hose that joins this port and this device: the present one if it does; None when none can."""
    return next(right_hoses(joints), None)


End = tuple[str | None, str | None]
"""The names of a hose end and of its adapter."""


@lru_cache(maxsize=1024)
def _choices(role: str, place: str, near: Side | None, present: End) -> tuple[End, ...]:
    """Give the ends with their adapters that join a port or an inlet, in the order of `right_hoses`."""
    trade, service = catalogue(), catalogue().roles[role].service
    own = present[1] if present[1] and _is_allowed(present[1], service) else None
    if near is None:  # nothing speaks for another end
        defeats = present[1] is not None and trade.adapters[present[1]].defeats_coding
        return ((present[0], None if defeats else present[1]),)
    ends = dict.fromkeys((present[0], *(end.name for end in _ends_for(role, place))))
    fit_for = [name for name in trade.adapters if _is_allowed(name, service)]
    wanted: list[End] = [present] if present[1] in (None, own) else []
    wanted += [(end, own) for end in ends]
    wanted += [(end, None) for end in ends]
    wanted += [(end, name) for end in ends for name in fit_for]
    return tuple(dict.fromkeys(end for end in wanted if _joins(near, end, service)))


def _joins(near: Side, end: End, service: str) -> bool:
    """Say whether an end with its adapter joins a port or an inlet; an LP end is never right for an HP hose."""
    fitting = catalogue().fittings[end[0] or ""]
    if service == "HP" and fitting.service == "LP":
        return False
    return all(each.joins for each in _meetings(near, end[1], fitting))


def _is_allowed(adapter: str, service: str) -> bool:
    known = catalogue().adapters[adapter]
    return known.service == service and not known.defeats_coding


def adapters_between(near: Side, far: Side, service: str) -> tuple[str, ...]:
    """Name the adapters that join two sides which do not go together; never one that joins two pressure classes."""
    return tuple(
        adapter.name
        for adapter in catalogue().adapters.values()
        if _is_allowed(adapter.name, service)
        and meet(near, Side("", *adapter.far_side, "")).joins
        and meet(Side("", *adapter.hose_side, ""), far).joins
    )


def usual_by_adapter(joints: HoseJoints, hose: Hose) -> tuple[str, ...]:
    """Name the adapters with which a hose with the usual ends of its role does for one with these; empty if none do.

    Args:
        joints: The port and the device.
        hose: A hose that joins them.
    """
    usual = catalogue().roles[hose.role]
    if (hose.from_end, hose.to_end) == (usual.from_end, usual.to_end):
        return ()
    for other in right_hoses(joints):
        if (other.from_end, other.to_end) == (usual.from_end, usual.to_end):
            return tuple(name for name in (other.from_adapter, other.to_adapter) if name)
    return ()


def is_only_from_maker(hose: Hose) -> bool:
    """Say whether no stock has such a hose: an end of it is made for one device only, by the maker of that."""
    fittings = catalogue().fittings
    return any(name is not None and fittings[name].only_from_maker for name in (hose.from_end, hose.to_end))


# ---- an instrument ----


def meet_in_port(instrument: Gauge | Transmitter, port: Port) -> Meeting | None:
    """Say whether an instrument can be screwed straight into a port; None when its inlet is not known."""
    inlet = _inlet(instrument)
    return None if inlet is None else meet(side_of_port(port), side_of_inlet(inlet, "port"))
