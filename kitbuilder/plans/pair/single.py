"""What there is only once in the pair, or on one diver, and the failures that leave a diver without gas."""

from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.kit.items import Gauge, Item, Other, Transmitter
from kitbuilder.plans.losses import losses_of
from kitbuilder.plans.pair.members import Member


class Need(NamedTuple):
    """Something that a pair uses, and how to tell it among the items."""

    name: str
    presets: tuple[str, ...]
    words: tuple[str, ...]
    """In the tag of an item without a preset."""
    each: bool
    """Whether each diver needs one; otherwise one is enough for the pair, and a second one a reserve."""


NEEDS = (
    Need("light", ("back-up torch", "hand-held torch", "canister torch"), ("torch", "light", "lamp"), each=False),
    Need("cutter", ("knife", "line cutter", "shears"), ("knife", "cutter", "shears"), each=False),
    Need("marker buoy", ("surface marker buoy",), ("buoy", "smb"), each=False),
    Need("spool", ("reel", "reel, large", "finger spool"), ("reel", "spool"), each=False),
    Need("computer", ("wrist computer", "console with computer"), ("computer",), each=True),
    Need("mask", ("mask", "spare mask"), ("mask",), each=True),
    Need("gauge", ("console of 2 or 3", "console with computer"), ("gauge",), each=True),
)
"""What common practice wants in a pair, no source."""
INSTRUMENTS = (Gauge, Transmitter)


class Counted(NamedTuple):
    """How many of something each diver of the pair has."""

    need: Need
    counts: tuple[int, ...]
    """In the order of the divers."""

    @property
    def in_all(self) -> int:
        """How many the pair has."""
        return sum(self.counts)


class LastBreath(NamedTuple):
    """The first stages of a diver after whose failure nothing of the own gas can be breathed."""

    member: Member
    first_stages: tuple[str, ...]


def count_needs(members: Sequence[Member]) -> tuple[Counted, ...]:
    """Count what a pair uses, on each diver."""
    return tuple(
        Counted(need, tuple(sum(_serves(item, need) for item in member.assessment.kit.items) for member in members))
        for need in NEEDS
    )


def last_breath(member: Member) -> LastBreath:
    """Give the first stages after whose failure a diver has no own gas to breathe, as the losses of the kit say."""
    losses = losses_of(member.assessment)
    ends = (loss.stage for loss in losses if loss.stage and _ends_breathing(loss.functions["breathing"]))
    return LastBreath(member, tuple(dict.fromkeys(ends)))


def _ends_breathing(breathing: object) -> bool:
    return not breathing.works  # type: ignore[attr-defined]


def _serves(item: Item, need: Need) -> bool:
    if isinstance(item, INSTRUMENTS) and need.name == "gauge":
        return True
    preset = getattr(item, "preset", None)
    if preset is not None:
        return isinstance(item, (Other, *INSTRUMENTS)) and preset in need.presets
    return isinstance(item, Other) and any(word in item.tag.lower() for word in need.words)
