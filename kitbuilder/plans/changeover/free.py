"""What is free: small parts of the gear file that are not in use in the kit that is rebuilt."""

from collections import Counter
from typing import NamedTuple

from kitbuilder.assess.gear.sameness import Piece, adapter_record, allot
from kitbuilder.assess.gear.shortage import pieces_in, plugs_in
from kitbuilder.kit.gear import Gear, OwnedAdapter
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.plans.changeover.build import PluggedPort
from kitbuilder.plans.changeover.match import Match


class PlugCount(NamedTuple):
    """The plugs of one pressure and thread: how many there are, and how many the changeover ends with."""

    kind: str
    """Pressure and thread: "LP 3/8-24 UNF"."""
    owned: int
    """By the gear file."""
    in_use: int
    """In the kit that is rebuilt; they are among those owned."""
    needed: int
    """In the kit to be built, and in first stages that are put away with their plugs."""

    @property
    def to_buy(self) -> int:
        """How many are missing. A kit that has more plugs than its gear file counts has them all the same."""
        return max(0, self.needed - max(self.owned, self.in_use))


def count_plugs(match: Match, gear: Gear | None) -> tuple[PlugCount, ...]:
    """Count the plugs of a changeover by pressure and thread; none where no gear file counts any.

    A first stage that is bought brings its plugs along. A port that loses its hose in a first stage which is put away
    may be closed with a cap, and needs no plug.
    """
    owned = plugs_in(gear) if gear else Counter[str]()
    if not owned:
        return ()
    in_use = Counter(plug.kind for plug in match.source.plugs)
    needed = Counter(plug.kind for plug in _at_the_end(match))
    kinds = dict.fromkeys((*owned, *in_use, *needed))
    return tuple(PlugCount(kind, owned[kind], in_use[kind], needed[kind]) for kind in kinds)


def _at_the_end(match: Match) -> tuple[PluggedPort, ...]:
    built = (plug for plug in match.target.plugs if plug.stage not in match.bought)
    put_away = (plug for plug in match.source.plugs if plug.stage in match.left_over)
    return (*built, *put_away)


def adapters_in_use(gear: Gear, kit: ResolvedKit, rich: frozenset[str]) -> frozenset[tuple[str, int]]:
    """Give the pieces of adapters in a gear file that a kit has already: the tag of the entry, and which piece of it.

    Args:
        gear: The gear file of the kit.
        kit: The kit as it is built.
        rich: The tags of its items that have to be clean for oxygen; their adapters are the clean ones.
    """
    every = [stored for stored in pieces_in(gear) if isinstance(stored.entry, OwnedAdapter)]
    # Those that are not clean come first, so that the clean ones are left for whoever has to have them.
    stored = sorted(every, key=lambda stored: stored.piece.is_clean)
    wanted = [
        Piece(adapter_record(name), must_be_clean=hose.tag in rich)
        for hose in kit.hoses
        for name in (hose.from_adapter, hose.to_adapter)
        if name
    ]
    found = allot([each.piece for each in stored], wanted)
    return frozenset((stored[number].entry.tag, stored[number].number) for number in found.values())
