"""From one built kit to another: the least work, and the steps to do it by."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Signal, Tag, Words, words
from kitbuilder.assess.gas.oxygen_clean import needs_clean
from kitbuilder.assess.gear.due import Due, dues_of
from kitbuilder.assess.gear.gear import format_due
from kitbuilder.assess.gear.owners import Owners, owners_of
from kitbuilder.assess.gear.shortage import built_of
from kitbuilder.assess.rules.joints import JOINT_RULES
from kitbuilder.assess.rules.seatings import SEATING
from kitbuilder.catalogue.bench_work import HOSE
from kitbuilder.kit.gear import Gear, ORing, pieces_of
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.plans.changeover.build import ADAPTER, Build, Joint, Part, Unbuildable, build_of, called, store_parts
from kitbuilder.plans.changeover.free import PlugCount, adapters_in_use, count_plugs
from kitbuilder.plans.changeover.match import Match, match_builds
from kitbuilder.plans.changeover.material import PlugMove, plug_moves_of, rings_of, tools_of
from kitbuilder.plans.changeover.step import Step
from kitbuilder.plans.changeover.steps import steps_of
from kitbuilder.plans.changeover.supplies import Supplies
from kitbuilder.plans.changeover.wording import listed

__all__ = ["Changeover", "Joint", "Match", "PartOutcome", "Step", "Unbuildable", "plan_changeover"]

RULES_OF_JOINTS = (*JOINT_RULES, SEATING)
"""Their dangers and warnings keep a kit from being planned with."""

STAYS, MOVES, FETCHED, BOUGHT, STORED = "stays", "moves", "from your gear", "to buy", "put away"


class PartOutcome(NamedTuple):
    """What happens to a part."""

    kind: str
    """A table of the kit file, or "adapter"."""
    becomes: str
    """What it is called in the target; empty for one that is put away."""
    is_now: str
    """What it is called in the source or in the gear file; empty for one that has to be bought."""
    before: str
    """Where it sits now: a port, a hose, a cylinder; empty when it sits nowhere."""
    after: str
    """Where it will sit."""
    what: str
    """One of the words above."""
    instead_of: str
    """The hose of the source that leaves this port for it; empty when none does."""


class Changeover(NamedTuple):
    """How one kit is rebuilt as another."""

    source: Assessment
    target: Assessment
    match: Match
    steps: tuple[Step, ...]
    outcomes: tuple[PartOutcome, ...]
    """Of all parts: those of the target, kind by kind and in its order, then those that are put away."""

    supplies: Supplies
    """What the gear file says beyond which part becomes which."""
    owners: Owners
    """Whose the two kits are."""
    moves_parts: bool
    """Whether parts of the first kit are used; not when it belongs to another diver and nobody asked for that."""

    @property
    def gear(self) -> Gear | None:
        """What else the diver owns; None when that is not given."""
        return self.supplies.gear

    @property
    def plugs(self) -> tuple[PlugCount, ...]:
        """The plugs by pressure and thread: owned, in use, needed; none when the gear file counts none."""
        return self.supplies.plugs

    @property
    def plugs_to_buy(self) -> int:
        """How many plugs are missing."""
        return sum(count.to_buy for count in self.plugs)

    @property
    def is_all_owned(self) -> bool:
        """Whether nothing has to be bought."""
        return not self.match.bought and not self.plugs_to_buy

    @property
    def plug_moves(self) -> tuple[PlugMove, ...]:
        """The plugs that come out and go in, those of one thread together."""
        return tuple(plug_moves_of(self.match))

    @property
    def tools(self) -> tuple[str, ...]:
        """The spanners and keys it takes."""
        return tools_of(self.match)

    @property
    def rings(self) -> dict[str, int]:
        """How many O-rings of each size the joints to be made have."""
        return dict(sorted(rings_of(self.match).items()))

    @property
    def spare_rings(self) -> dict[str, int] | None:
        """How many O-rings of each size the gear file has; None when nothing is given of any."""
        entries = [entry for entry in self.gear.in_use if isinstance(entry, ORing)] if self.gear else []
        spare = Counter[str]()
        for entry in entries:
            spare[entry.size] += pieces_of(entry)
        return dict(spare) if entries else None


def plan_changeover(
    source: Assessment,
    target: Assessment,
    gear: Gear | None = None,
    *,
    day: date | None = None,
    both_divers: bool = False,
) -> Changeover:
    """Find the least work that rebuilds one kit as another, and its steps.

    Args:
        source: The kit that is built.
        target: The kit that is to be built.
        gear: What else the diver owns; by default what the target names, else what the source names.
        day: On which day items have to be in order; by default the day of the target's dive.
        both_divers: Whether parts of a kit that belongs to another diver may be used.

    Raises:
        Unbuildable: A kit contradicts itself, or the target has a joint that could hurt or cannot be made.
    """
    owners = owners_of((source.kit, target.kit))
    moves_parts = both_divers or not owners.are_apart
    gear = gear or target.kit.linked.gear or (source.kit.linked.gear if moves_parts else None)
    if reasons := tuple(_wrong_joints(target)):
        raise Unbuildable(target.kit, reasons)
    known = _known_items(source, gear)
    before, after = build_of(source.kit, gear, known), build_of(target.kit, gear)
    store = tuple(_store(source.kit, before, known, gear)) if gear else ()
    if not moves_parts:
        before = build_of(replace(source.kit, items=()))
    match = match_builds(before, after, store)
    on = day or target.kit.header.day
    supplies = Supplies(gear, dict(_due(gear, on)) if gear and on else {}, count_plugs(match, gear))
    steps = steps_of(match, target.hoses, supplies)
    return Changeover(source, target, match, steps, tuple(_outcomes(match)), supplies, owners, moves_parts)


def _store(kit: ResolvedKit, before: Build, known: dict[int, str], gear: Gear) -> Iterator[Part]:
    """Give the parts of the gear file that are not in the kit that is built."""
    if kit.linked.gear not in (None, gear):  # tags of another gear file mean nothing in this one
        return store_parts(gear, frozenset())
    built = frozenset((*known.values(), *(part.owned for part in before.parts.values() if part.owned)))
    return store_parts(gear, built, adapters_in_use(gear, kit, needs_clean(kit)))


def _due(gear: Gear, day: date) -> Iterator[tuple[str, Words]]:
    """Say what is due on a day, a sentence for each item, by its tag."""
    for entry in gear.in_use:
        dues = [due for due in dues_of(entry, gear.header.region) if due.is_due(day)]
        if dues:
            yield entry.tag, listed((_sentence_of(due, day) for due in dues), " ")


def _sentence_of(due: Due, day: date) -> Words:
    first, *others = format_due(due, day)
    return words(f"{str(first)[:1].upper()}{str(first)[1:]}", *others, ".")


def _known_items(source: Assessment, gear: Gear | None) -> dict[int, str]:
    """Say which items of the gear file the kit is built of, by number in the kit: of its own gear also those alike."""
    if gear is None or source.kit.linked.gear != gear:
        return {}
    return built_of(gear, source.kit)


def _wrong_joints(assessment: Assessment) -> Iterator[Words]:
    """Give what keeps a kit from being planned with: the steps would build what lets go, or cannot be joined at all."""
    for finding in assessment.findings:
        if finding.signal >= Signal.WARNING and finding.rule in RULES_OF_JOINTS:
            tag = "the kit" if finding.item is None else Tag(assessment.kit.items[finding.item].tag)
            stop = "" if str(finding.what[-1]).endswith(".") else "."
            yield words(tag, ": ", *finding.what, f"{stop} ", *finding.do)


KINDS_IN_ORDER = ("first_stage", "hose", ADAPTER)
"""The kinds listed first, and in which order."""


def _outcomes(match: Match) -> Iterator[PartOutcome]:
    before, after = _positions(match.source), _positions(match.target)
    for key in sorted(match.target.parts, key=lambda key: _rank(match.target.parts[key])):
        yield _outcome(match, key, before, after)
    for key in sorted(match.left_over, key=lambda key: _rank(match.source.parts[key])):
        part = match.source.parts[key]
        yield PartOutcome(part.kind, "", called(part), before.get(key, NOWHERE).words(match.source), "", STORED, "")


def _rank(part: Part) -> int:
    return KINDS_IN_ORDER.index(part.kind) if part.kind in KINDS_IN_ORDER else len(KINDS_IN_ORDER)


def _outcome(match: Match, key: str, before: dict[str, "Position"], after: dict[str, "Position"]) -> PartOutcome:
    part, position, now = match.target.parts[key], after.get(key, NOWHERE), match.taken.get(key)
    there = before.get(now or "", NOWHERE)
    got = FETCHED if key in match.fetched else BOUGHT
    left = next((other for other, old in before.items() if position.on and _carried(match, old) == position), "")
    return PartOutcome(
        kind=part.kind,
        becomes=called(part),
        is_now=called(match.source.parts[now]) if now else match.fetched.get(key, "").strip(),
        before=there.words(match.source),
        after=position.words(match.target),
        what=got if now is None else STAYS if _carried(match, there) == position else MOVES,
        instead_of=left if left != now and part.kind == HOSE else "",
    )


class Position(NamedTuple):
    """Where a part sits: on which other one, and in which slot of that."""

    on: str
    slot: str

    def words(self, build: Build) -> str:
        """Name the position as it is shown; a slot that is no port needs no name."""
        name = called(build.parts[self.on]) if self.on in build.parts else self.on
        if self.slot == VALVE and self.on not in {item.tag for item in build.kit.items}:
            return ""  # on a cylinder that is not known
        return f"{name} {self.slot}" if self.slot[:2] in ("LP", "HP") else name


NOWHERE = Position("", "")
GONE = Position("", "gone")
"""On what the target does not have."""


def _carried(match: Match, position: Position) -> Position:
    """Give a position of the source by the names of the target; `GONE` where the target has no such position."""
    if position == NOWHERE:
        return NOWHERE
    on = (match.valves if position.slot == VALVE else match.becomes).get(position.on, "")
    return Position(on, position.slot) if on else GONE


VALVE = "valve"


def _positions(build: Build) -> dict[str, Position]:
    """Say where each part sits: a first stage on its cylinder, any other on what is nearer to the cylinder."""
    positions = {joint.outer: Position(joint.inner, joint.inner_slot) for joint in build.joints}
    positions |= {stage: Position(valve, VALVE) for stage, valve in build.valves.items()}
    return positions
