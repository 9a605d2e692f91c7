"""The steps of a changeover, in an order in which nothing is loosened twice.

Every step tells what it does to the model of the kit, so that the steps alone, carried out one after the other, turn
the one build into the other. What order there is has its reason: the ends far from the cylinder come off first, while
the first stage still holds the hose against the spanner; everything is set by hand and turned the way it leads before
anything is tightened; a coupling goes on under pressure, when the joints have been seen to hold.
"""

from collections import Counter
from collections.abc import Iterator
from itertools import count

from kitbuilder.assess.findings import Amount, Words, words
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.gas.feeds import fed_from, joined_cylinders
from kitbuilder.assess.gas.oxygen import cylinder_of
from kitbuilder.catalogue.bench_work import (
    ALWAYS,
    CLOSED,
    COUPLED,
    DEVICE,
    HOSE,
    IF_DRYSUIT,
    IF_GAUGES,
    IF_TWO,
    IF_WING,
    OPEN,
    PORT,
    WET,
    Check,
    JointWork,
    bench_work,
)
from kitbuilder.kit.items import Drysuit, FirstStage, Gauge, Jacket, Wing
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.plans.changeover.build import ADAPTER, Build, Joint, Part, called, described, hose_and_end
from kitbuilder.plans.changeover.match import Match
from kitbuilder.plans.changeover.material import rest_of, rings_of
from kitbuilder.plans.changeover.step import (
    APART,
    AT_HAND,
    AWAY,
    CHECK,
    CLICK,
    CLOSE,
    FETCH,
    GET,
    LOOK,
    MAKE,
    MOUNTED,
    OFF_VALVE,
    ON_VALVE,
    PLUG_IN,
    REST,
    SAFE,
    STORE,
    TOGETHER,
    TURNED,
    UNCLICK,
    UNDO,
    UNPLUG,
    WORK,
    WORN,
    JointSlot,
    Step,
)

WORN_KINDS = ("wing", "jacket", "drysuit")
"""Parts that are worn, or that carry the cylinders: they come off after these, and go on before them."""
COMES_OFF, GOES_ON = "Comes off: ", "Goes on: "


def steps_of(match: Match, hoses: tuple[HoseFigures, ...]) -> tuple[Step, ...]:
    """Give the steps that turn the source into the target.

    Args:
        match: Which part becomes which.
        hoses: The hoses of the target, laid over the body that wears them; for the checks on it.
    """
    writer = _Writer(match, hoses)
    numbers = count(1)
    return tuple(step._replace(number=next(numbers)) for step in writer.all_steps())


class _Writer:
    """One pass over a match. A part of the source goes by its name there until it is put together anew."""

    def __init__(self, match: Match, hoses: tuple[HoseFigures, ...]) -> None:
        self.match, self.hoses = match, hoses
        self.source, self.target = match.source, match.target

    def all_steps(self) -> Iterator[Step]:
        yield from self._have_at_hand()
        yield from self._make_safe()
        yield from self._take_apart()
        yield from self._put_away()
        yield from self._look()
        yield from self._put_together()
        yield from self._turn_and_tighten()
        yield from self._checks(CLOSED)
        yield from self._rest()
        yield from self._mount()
        yield from self._checks(OPEN)
        for joint in self.target.couplings:
            text = f"Click {self._name(joint.inner)} onto {self._name(joint.outer)}."
            yield self._joint(COUPLED, CLICK, joint, text)
        yield from self._checks(COUPLED)
        yield from self._worn()
        yield from self._checks(WET)

    # ---- before ----

    def _have_at_hand(self) -> Iterator[Step]:
        for want, key in self.match.fetched.items():
            part = self.match.store[key]
            mind = f" Mind, {part.mind}." if part.mind else ""
            becomes = called(self.target.parts[want])
            text = f"Fetch {part.owned} from {part.kept_in or 'your gear'}: it becomes {becomes}.{mind}"
            yield _step(AT_HAND, FETCH, text, JointSlot("store", key))
        for want in self.match.bought:
            what = words(f"Get {self._name(want)} (", *described(self.target.parts[want]), "): nothing at hand does.")
            yield Step(0, AT_HAND, GET, what, (JointSlot("new", want),))
        more = Counter(plug.kind for plug in (*self.match.plugs_in, *self.match.open_in_store))
        more.subtract(plug.kind for plug in (*self.match.plugs_out, *self.match.caps_out))
        for kind, pieces in more.items():
            if pieces > 0:
                plugs = f"{pieces} {'plug' if pieces == 1 else 'plugs'} {kind}"
                yield _step(AT_HAND, WORK, f"Have {plugs} at hand, besides those that come out.")

    def _make_safe(self) -> Iterator[Step]:
        yield _step(SAFE, WORK, "Photograph the kit as it is. Tie a label to each hose: what it is, what it becomes.")
        yield _step(
            SAFE, WORK, "Close every valve. Purge every second stage, press every inflator, until nothing comes."
        )
        if any(isinstance(item, Gauge) for item in self.source.kit.items):
            yield _step(SAFE, WORK, "Look at every gauge: it reads nought, or nothing is loosened.")
        for joint in self.source.couplings:
            text = f"Pull {self._source_name(joint.inner)} off {self._source_name(joint.outer)}."
            yield self._source_joint(SAFE, UNCLICK, joint, text)
        for stage in _stages(self.source.kit):
            words_on = _format_valve(stage, self.source.kit)
            text = f"Take {stage.tag} off {words_on}, by hand. Dry its cap and close its inlet with it."
            yield _step(SAFE, OFF_VALVE, text, JointSlot("source", stage.tag))

    def _take_apart(self) -> Iterator[Step]:
        undone = self.match.undone
        for at in (DEVICE, PORT):
            # Hose by hose; an adapter stays with what is nearer to the cylinder until its far side is open.
            for joint in sorted(undone, key=lambda joint: _along_hose(joint, self.source, outward=False)):
                if joint.at == at:
                    yield self._source_joint(APART, UNDO, joint, self._format_undo(joint))
        for plug in self.match.plugs_out:
            text = f"Take the plug out of {plug.stage} {plug.port}."
            yield _step(APART, UNPLUG, text, JointSlot("source", plug.stage, plug.port), work=plug.work)

    def _format_undo(self, joint: Joint) -> str:
        inner, outer = self._source_name(joint.inner), self._source_name(joint.outer)
        if self.source.parts[joint.inner].kind == FirstStage.kind:
            inner = f"{inner} {joint.inner_slot}"
        return f"Unscrew {outer} from {inner}."

    def _put_away(self) -> Iterator[Step]:
        for plug in self.match.open_in_store:
            text = f"Close {plug.stage} {plug.port} with a plug {plug.kind} or a cap, so that nothing gets in."
            yield _step(AWAY, CLOSE, text, JointSlot("source", plug.stage, plug.port), work=plug.work)
        yield from self._stored(AWAY)

    def _stored(self, wanted: str) -> Iterator[Step]:
        """Say what is left over, put away; what is worn is put away when the cylinders are off it."""
        for group in _groups(self.match):
            first, *others = (self._source_name(key) for key in group)
            still_on = f" with {', '.join(others)} still on it" if others else ""
            kept_in = self.source.parts[group[0]].kept_in
            where = f"into {kept_in}" if kept_in else "away"
            places = (JointSlot("source", key) for key in group)
            bows = "; hoses lie in wide bows" if any(self.source.parts[key].kind == "hose" for key in group) else ""
            phase = REST if self.source.parts[group[0]].kind in WORN_KINDS else AWAY
            if phase == wanted:
                yield _step(phase, STORE, f"Put {first}{still_on} {where}, dry{bows}.", *places)

    def _look(self) -> Iterator[Step]:
        hoses = [key for key, part in self.target.parts.items() if part.kind == "hose"]
        yield _step(
            LOOK,
            WORK,
            f"Look at {', '.join(map(self._name, hoses))}: protectors back, both crimps, the date; squeeze every few "
            "centimetres. A crack, a bulge, rust, a stiff or a soft spot: not this hose.",
        )
        if rings := rings_of(self.match):
            listed = ", ".join(f"{pieces} × {size}" for size, pieces in sorted(rings.items()))
            yield _step(LOOK, WORK, f"Lay out a ring for each joint, new or without a mark: {listed}.")
        yield _step(LOOK, WORK, "No grease, or a trace made for oxygen; the two kinds never meet.")

    # ---- after ----

    def _put_together(self) -> Iterator[Step]:
        renamed = [f"{have} is {want}" for want, have in self.match.taken.items() if self._is_renamed(want, have)]
        if renamed:
            yield _step(TOGETHER, WORK, f"From here on by its new name: {', '.join(renamed)}.")
        for plug in self.match.caps_out:
            text = f"Take the plug or the cap out of {plug.stage} {plug.port}."
            yield _step(TOGETHER, UNPLUG, text, self._place(plug.stage, plug.port), work=plug.work)
        for plug in self.match.plugs_in:
            text = f"Screw a plug {plug.kind} into {plug.stage} {plug.port} and tighten."
            yield _step(TOGETHER, PLUG_IN, text, self._place(plug.stage, plug.port), work=plug.work)
        for joint in sorted(self._made(PORT), key=lambda joint: _along_hose(joint, self.target, outward=True)):
            inner = (
                f"{joint.inner} {joint.inner_slot}" if not self._is_adapter(joint.inner) else self._name(joint.inner)
            )
            yield self._joint(TOGETHER, MAKE, joint, f"Screw {self._name(joint.outer)} into {inner}, by hand for now.")

    def _is_renamed(self, want: str, have: str) -> bool:
        return want != have and self.target.parts[want].kind != ADAPTER

    def _turn_and_tighten(self) -> Iterator[Step]:
        for stage in _stages(self.target.kit):
            made = [joint for joint in self._made(PORT) if self._stage_of(joint) == stage.tag]
            if made:
                yield Step(0, TURNED, WORK, self._format_tighten(stage, made))
        for joint in sorted(self._made(DEVICE), key=lambda joint: _along_hose(joint, self.target, outward=True)):
            yield self._joint(
                TURNED, MAKE, joint, f"Screw {self._name(joint.inner)} onto {self._name(joint.outer)} and tighten."
            )

    def _format_tighten(self, stage: FirstStage, made: list[Joint]) -> Words:
        works = {(work.turn_with, work.torque): joint.service for joint in made if (work := joint.work)}
        pieces: list[str | Amount] = [
            f"Hold {stage.tag} as it will sit on its valve, turn every hose the way it leads, then tighten "
            f"{', '.join(dict.fromkeys(self._name(joint.outer) for joint in made))}"
        ]
        for (spanner, torque), service in works.items():
            pieces.append(f"; {service} with {spanner}")
            if torque:
                pieces += [", ", Amount(torque.low, "torque"), " to ", Amount(torque.high, "torque")]
        return (*pieces, ".")

    def _stage_of(self, joint: Joint) -> str:
        """Give the first stage at the inner end of a joint, past an adapter."""
        if not self._is_adapter(joint.inner):
            return joint.inner
        return next(
            (other.inner for other in self.target.screwed if other.outer == joint.inner and other.at == PORT), ""
        )

    def _mount(self) -> Iterator[Step]:
        for stage in _stages(self.target.kit):
            words_on = _format_valve(stage, self.target.kit)
            text = f"Take its cap off, look at the ring of its face, then put {stage.tag} on {words_on}, by hand."
            yield _step(MOUNTED, ON_VALVE, text, self._place(stage.tag))

    def _checks(self, phase: str) -> Iterator[Step]:
        for check in bench_work().checks:
            if check.phase == phase and _is_asked(check, self.target.kit):
                yield _step(phase, CHECK, f"{check.name[:1].upper()}{check.name[1:]}: {check.how}")
                if check.when == IF_TWO:
                    yield from self._each_valve(phase)

    def _each_valve(self, phase: str) -> Iterator[Step]:
        feeds = fed_from(self.target.kit)
        fed = [item.tag for item in self.target.kit.items if item.tag in feeds]
        for stage in _stages(self.target.kit):
            alive = [tag for tag in fed if feeds[tag] != {stage.tag}]
            dead = [tag for tag in fed if feeds[tag] == {stage.tag}]
            yield _step(phase, CHECK, f"Valve of {stage.tag} closed. Alive: {_listed(alive)}. Dead: {_listed(dead)}.")

    def _rest(self) -> Iterator[Step]:
        off, on = rest_of(self.source, self.target)
        worn = tuple(
            words(self._name(key))
            for key, part in self.target.parts.items()
            if part.kind in WORN_KINDS and key not in self.match.taken
        )
        for text, items in ((COMES_OFF, off), (GOES_ON, (*on, *worn))):
            if items:
                pieces = (piece for number, item in enumerate(items) for piece in ("; " if number else "", *item))
                yield Step(0, REST, WORK, words(text, *pieces, "."))
            if text == COMES_OFF:
                yield from self._stored(REST)

    def _worn(self) -> Iterator[Step]:
        last = [hose.tag for hose in self.target.kit.hoses if hose.role == "long hose"]
        long_hose = f" The {last[0]} goes on last, over everything." if last else ""
        yield _step(WORN, WORK, f"Put on all of it, with the suit.{long_hose}")
        for figures in self.hoses:
            for need in figures.routed.needs[1:] if figures.routed else ():
                if need.is_asked:
                    yield _step(WORN, CHECK, f"{figures.hose.tag}: {need.pose}. {need.how}")

    # ---- names and places ----

    def _made(self, at: str) -> list[Joint]:
        return [joint for joint in self.match.made if joint.at == at]

    def _is_adapter(self, key: str) -> bool:
        return self.target.parts[key].kind == ADAPTER

    def _name(self, key: str) -> str:
        part = self.target.parts[key]
        if key in self.match.taken:
            owned = self.source.parts[self.match.taken[key]].owned
        else:
            owned = self.match.store[self.match.fetched[key]].owned if key in self.match.fetched else None
        return _with_owned(part, owned)

    def _source_name(self, key: str) -> str:
        part = self.source.parts[key]
        return _with_owned(part, part.owned)

    def _place(self, key: str, slot: str = "") -> JointSlot:
        """Say where a part of the target comes from."""
        if key in self.match.taken:
            return JointSlot("source", self.match.taken[key], slot)
        if key in self.match.fetched:
            return JointSlot("store", self.match.fetched[key], slot)
        return JointSlot("new", key, slot)

    def _joint(self, phase: str, verb: str, joint: Joint, text: str) -> Step:
        places = self._place(joint.inner, joint.inner_slot), self._place(joint.outer, joint.outer_slot)
        return _step(phase, verb, text, *places, work=joint.work)

    def _source_joint(self, phase: str, verb: str, joint: Joint, text: str) -> Step:
        places = JointSlot("source", joint.inner, joint.inner_slot), JointSlot("source", joint.outer, joint.outer_slot)
        return _step(phase, verb, text, *places, work=joint.work)


def _along_hose(joint: Joint, build: Build, *, outward: bool) -> tuple[int, bool]:
    """Give the place of a joint when the work goes hose by hose, along each from the cylinder or towards it."""
    places = {key: number for number, key in enumerate(build.parts)}
    kinds = {key: build.parts[key].kind for key in (joint.inner, joint.outer)}
    hoses = [key for key, kind in kinds.items() if kind == HOSE]
    hoses += [hose_and_end(key)[0] for key, kind in kinds.items() if kind == ADAPTER]
    return places[hoses[0] if hoses else joint.outer], (kinds[joint.inner] == ADAPTER) == outward


def _with_owned(part: Part, owned: str | None) -> str:
    """Say what a part is called, with its tag in the gear where that is another; a first stage goes by its place."""
    name = called(part)
    return f"{name} ({owned})" if owned and owned != name and part.kind not in (ADAPTER, FirstStage.kind) else name


def _step(phase: str, verb: str, text: str, *places: JointSlot, work: JointWork | None = None) -> Step:
    return Step(0, phase, verb, words(text), places, work)


def _groups(match: Match) -> Iterator[list[str]]:
    """Give the parts left over, those that stay joined together."""
    joined: dict[str, set[str]] = {key: {key} for key in match.left_over}
    for joint in match.stored_together:
        both = joined[joint.inner] | joined[joint.outer]
        joined.update(dict.fromkeys(both, both))
    seen = set[str]()
    for key in match.left_over:
        if key not in seen:
            seen |= joined[key]
            yield sorted(joined[key], key=match.left_over.index)


def _is_asked(check: Check, kit: ResolvedKit) -> bool:
    kinds = Counter(type(item) for item in kit.items)
    return {
        ALWAYS: True,
        IF_WING: bool(kinds[Wing] or kinds[Jacket]),
        IF_DRYSUIT: bool(kinds[Drysuit]),
        IF_GAUGES: kinds[Gauge] > 1 and bool(joined_cylinders(kit)),
        IF_TWO: kinds[FirstStage] > 1,
    }[check.when]


def _stages(kit: ResolvedKit) -> list[FirstStage]:
    return [item for item in kit.items if isinstance(item, FirstStage)]


def _format_valve(stage: FirstStage, kit: ResolvedKit) -> str:
    cylinder = cylinder_of(stage, kit)
    return f"the valve of {cylinder.tag}" if cylinder else "its valve"


def _listed(tags: list[str]) -> str:
    return ", ".join(tags) if tags else "nothing"
