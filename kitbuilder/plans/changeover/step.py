"""One step of a changeover, and the words for what it does to the model of the kit."""

from typing import NamedTuple

from kitbuilder.assess.findings import Words
from kitbuilder.catalogue.bench_work import JointWork

FETCH, GET, STORE = "fetch", "get", "store"
OFF_VALVE, ON_VALVE = "off the valve", "on the valve"
UNCLICK, CLICK = "coupling off", "coupling on"
UNDO, MAKE = "undo", "make"
UNPLUG, PLUG_IN, CLOSE = "plug out", "plug in", "close"
WORK, CHECK = "work", "check"

READY, SAFE, APART, AWAY, INSPECT, TOGETHER, TURNED, MOUNTED, REST, WORN = (
    "have ready",
    "depressurise",
    "take apart",
    "put away",
    "inspect",
    "put together by hand",
    "turn and tighten",
    "on the cylinders",
    "the rest of the kit",
    "with the kit on",
)


class JointSlot(NamedTuple):
    """A slot of a part that can be held in the hand."""

    origin: str
    """ "source", "store" or "new": where the part came from."""
    part: str
    """Its key there; of a new one, the key of the target's part that it is bought for."""
    slot: str = ""


class Step(NamedTuple):
    """One step."""

    number: int
    """From 1."""
    phase: str
    verb: str
    """What it does to the model of the kit; one of the words above."""
    what: Words
    """The sentence to read."""
    places: tuple[JointSlot, ...] = ()
    """The part it is done to; of a joint both sides, the one nearer to the cylinder first."""
    work: JointWork | None = None
    """What the joint takes."""
    note: Words = ()
    """What depends on the day, such as upkeep that is due; apart, so that a ticked step stays ticked."""


def step(phase: str, verb: str, what: Words, *places: JointSlot, work: JointWork | None = None) -> Step:
    """Give a step whose number is not known yet."""
    return Step(0, phase, verb, what, places, work)
