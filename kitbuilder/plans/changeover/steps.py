"""The steps of a changeover, in an order in which nothing is loosened twice.

Every step tells what it does to the model of the kit, so that the steps alone, carried out one after the other, turn
the one build into the other. What order there is has its reason: the ends far from the cylinder come off first, while
the first stage still holds the hose against the spanner; everything is set by hand and turned the way it leads before
anything is tightened; a coupling goes on under pressure, when the joints have been seen to hold.
"""

from collections import Counter
from collections.abc import Iterator
from itertools import count

from kitbuilder.assess.findings import Amount, Tag, Word, Words, words
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.gas.feeds import fed_from, joined_cylinders
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
from kitbuilder.plans.changeover.build import ADAPTER, Build, Joint, hose_and_end, named
from kitbuilder.plans.changeover.cleaning import cleaning_of, described_clean, why_bought
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
    INSPECT,
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
from kitbuilder.plans.changeover.wording import (
    format_caution,
    format_makes,
    format_plug,
    format_port,
    format_valve,
    listed,
    with_owned,
    without_joint,
)

WORN_KINDS = ("wing", "jacket", "drysuit")
"""Parts that are worn, or that carry the cylinders: they come off after these, and go on before them."""
COMES_OFF, GOES_ON = "Comes off: ", "Goes on: "
INSPECT_HOSES = (
    "Slide the protectors back, look at both crimps and at the date, and squeeze every few centimetres. Do not use a "
    "hose with a crack, a bulge, rust, or a stiff or soft spot."
)


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
        yield from self._inspect()
        yield from self._put_together()
        yield from self._turn_and_tighten()
        yield from self._checks(CLOSED)
        yield from self._rest()
        yield from self._mount()
        yield from self._checks(OPEN)
        for joint in self.target.couplings:
            makes = format_makes(joint.inner, self.hoses)
            what = words("Click ", *self._name(joint.inner), " onto ", *self._name(joint.outer), f".{makes}")
            yield self._joint(COUPLED, CLICK, joint, what)
        yield from self._checks(COUPLED)
        yield from self._worn()
        yield from self._checks(WET)

    # ---- before ----

    def _have_at_hand(self) -> Iterator[Step]:
        yield from (_step(AT_HAND, WORK, what) for what in without_joint(self.source.kit, self.target.kit))
        for want, key in self.match.fetched.items():
            part = self.match.store[key]
            where = Tag(part.kept_in) if part.kept_in else "your gear"
            what = words("Fetch ", Tag(part.owned or key.strip()), " from ", where, ". It becomes ")
            becomes = words(*named(self.target.parts[want]), ".", *format_caution(part))
            yield _step(AT_HAND, FETCH, (*what, *becomes), JointSlot("store", key))
        for want in self.match.bought:
            part = self.target.parts[want]
            what = words("Buy ", *self._name(want), " (", *described_clean(part), "). ", *why_bought(part))
            yield _step(AT_HAND, GET, what, JointSlot("new", want))
        more = Counter((plug.service, plug.thread) for plug in (*self.match.plugs_in, *self.match.open_in_store))
        out = (*self.match.plugs_out, *self.match.caps_out)
        more.subtract((plug.service, plug.thread) for plug in out)
        others = "; the others come out of this kit" if out else ""
        for (service, thread), pieces in more.items():
            if pieces > 0:
                plugs = f"{'one' if pieces == 1 else pieces} more {service} {'plug' if pieces == 1 else 'plugs'}"
                yield _step(AT_HAND, WORK, words(f"Have {plugs} ({thread}) ready{others}."))

    def _make_safe(self) -> Iterator[Step]:
        yield _step(SAFE, WORK, words("Photograph the kit. Label each hose with what it is and what it becomes."))
        yield _step(
            SAFE,
            WORK,
            words("Close every valve. Purge every second stage and press every inflator until no gas comes."),
        )
        if any(isinstance(item, Gauge) for item in self.source.kit.items):
            yield _step(SAFE, WORK, words("Check that every gauge reads zero. If one does not, loosen nothing."))
        for joint in self.source.couplings:
            what = words("Pull ", *self._source_name(joint.inner), " off ", *self._source_name(joint.outer), ".")
            yield self._source_joint(SAFE, UNCLICK, joint, what)
        for stage in _stages(self.source.kit):
            what = words(
                "Take ", Tag(stage.tag), " off ", *format_valve(stage, self.source.kit),
                " by hand. Dry its cap and close its inlet with it.",
            )  # fmt: skip
            yield _step(SAFE, OFF_VALVE, what, JointSlot("source", stage.tag))

    def _take_apart(self) -> Iterator[Step]:
        undone = self.match.undone
        for at in (DEVICE, PORT):
            # Hose by hose; an adapter stays with what is nearer to the cylinder until its far side is open.
            for joint in sorted(undone, key=lambda joint: _along_hose(joint, self.source, outward=False)):
                if joint.at == at:
                    yield self._source_joint(APART, UNDO, joint, self._format_undo(joint))
        for plug in self.match.plugs_out:
            what = words("Take the plug out of ", *format_port(plug), ".")
            yield _step(APART, UNPLUG, what, JointSlot("source", plug.stage, plug.port), work=plug.work)

    def _format_undo(self, joint: Joint) -> Words:
        is_stage = self.source.parts[joint.inner].kind == FirstStage.kind
        port = f" {joint.inner_slot}" if is_stage else ""
        return words("Unscrew ", *self._source_name(joint.outer), " from ", *self._source_name(joint.inner), f"{port}.")

    def _put_away(self) -> Iterator[Step]:
        for plug in self.match.open_in_store:
            what = words("Close ", *format_port(plug), f" with {format_plug(plug)} or a cap, to keep dirt out.")
            yield _step(AWAY, CLOSE, what, JointSlot("source", plug.stage, plug.port), work=plug.work)
        yield from self._stored(AWAY)

    def _stored(self, wanted: str) -> Iterator[Step]:
        """Say what is left over, put away; what is worn is put away when the cylinders are off it."""
        for group in _groups(self.match):
            first, *others = (self._source_name(key) for key in group)
            still_on = (" with ", *listed(others), " still on it") if others else ()
            kept_in = self.source.parts[group[0]].kept_in
            where = (" into ", Tag(kept_in)) if kept_in else (" away",)
            places = (JointSlot("source", key) for key in group)
            is_hose = any(self.source.parts[key].kind == "hose" for key in group)
            end = ", dry. Lay hoses in wide loops." if is_hose else ", dry."
            phase = REST if self.source.parts[group[0]].kind in WORN_KINDS else AWAY
            if phase == wanted:
                yield _step(phase, STORE, words("Put ", *first, *still_on, *where, end), *places)

    def _inspect(self) -> Iterator[Step]:
        hoses = [self._name(key) for key, part in self.target.parts.items() if part.kind == "hose"]
        if hoses:
            yield _step(INSPECT, WORK, words("Inspect ", *listed(hoses), f". {INSPECT_HOSES}"))
        if rings := rings_of(self.match):
            sizes = ", ".join(f"{pieces} × {size}" for size, pieces in sorted(rings.items()))
            yield _step(INSPECT, WORK, words(f"Lay out an O-ring for each joint, new or undamaged: {sizes}."))
        for what in cleaning_of(self.match, self._name):
            yield _step(INSPECT, WORK, what)
        grease = "Use no grease, or a trace of oxygen-compatible grease. Never mix the two kinds."
        yield _step(INSPECT, WORK, words(grease))

    # ---- after ----

    def _put_together(self) -> Iterator[Step]:
        renamed = [
            words(Tag(have), " is now ", Tag(want))
            for want, have in self.match.taken.items()
            if self._is_renamed(want, have)
        ]
        if renamed:
            yield _step(TOGETHER, WORK, words("From here on, parts have their new names: ", *listed(renamed), "."))
        for plug in self.match.caps_out:
            what = words("Take the plug or the cap out of ", *format_port(plug), ".")
            yield _step(TOGETHER, UNPLUG, what, self._place(plug.stage, plug.port), work=plug.work)
        for plug in self.match.plugs_in:
            what = words(f"Screw {format_plug(plug)} into ", *format_port(plug), " and tighten it.")
            yield _step(TOGETHER, PLUG_IN, what, self._place(plug.stage, plug.port), work=plug.work)
        for joint in sorted(self._made(PORT), key=lambda joint: _along_hose(joint, self.target, outward=True)):
            is_adapter = self._is_adapter(joint.inner)
            inner = self._name(joint.inner) if is_adapter else (Tag(joint.inner), f" {joint.inner_slot}")
            what = words("Screw ", *self._name(joint.outer), " into ", *inner, ", by hand for now.")
            yield self._joint(TOGETHER, MAKE, joint, what)

    def _is_renamed(self, want: str, have: str) -> bool:
        return want != have and self.target.parts[want].kind != ADAPTER

    def _turn_and_tighten(self) -> Iterator[Step]:
        for stage in _stages(self.target.kit):
            made = [joint for joint in self._made(PORT) if self._stage_of(joint) == stage.tag]
            if made:
                yield _step(TURNED, WORK, self._format_tighten(stage, made))
        for joint in sorted(self._made(DEVICE), key=lambda joint: _along_hose(joint, self.target, outward=True)):
            what = words("Screw ", *self._name(joint.inner), " onto ", *self._name(joint.outer), " and tighten it.")
            yield self._joint(TURNED, MAKE, joint, what)

    def _format_tighten(self, stage: FirstStage, made: list[Joint]) -> Words:
        works = {(work.turn_with, work.torque): joint.service for joint in made if (work := joint.work)}
        tightened = dict.fromkeys(self._name(joint.outer) for joint in made)
        pieces: list[Word] = [
            "Hold ", Tag(stage.tag), " as it will sit on its valve and turn every hose the way it leads. Then tighten ",
            *listed(tightened), ".",
        ]  # fmt: skip
        for (spanner, torque), service in works.items():
            pieces.append(f" {service} with {spanner}")
            if torque:
                pieces += [": ", Amount(torque.low, "torque"), " to ", Amount(torque.high, "torque")]
            pieces.append(".")
        if works:
            pieces.append(" Spanners and torques have no source; the maker's sheet comes first.")
        return tuple(pieces)

    def _stage_of(self, joint: Joint) -> str:
        """Give the first stage at the inner end of a joint, past an adapter."""
        if not self._is_adapter(joint.inner):
            return joint.inner
        return next(
            (other.inner for other in self.target.screwed if other.outer == joint.inner and other.at == PORT), ""
        )

    def _mount(self) -> Iterator[Step]:
        for stage in _stages(self.target.kit):
            what = words(
                "Take the cap off ", Tag(stage.tag), " and inspect the O-ring of its face. Then put it on ",
                *format_valve(stage, self.target.kit), " by hand.",
            )  # fmt: skip
            yield _step(MOUNTED, ON_VALVE, what, self._place(stage.tag))

    def _checks(self, phase: str) -> Iterator[Step]:
        for check in bench_work().checks:
            if check.phase == phase and _is_asked(check, self.target.kit):
                yield _step(phase, CHECK, words(f"{check.name[:1].upper()}{check.name[1:]}: {check.how}"))
                if check.when == IF_TWO:
                    yield from self._each_valve(phase)

    def _each_valve(self, phase: str) -> Iterator[Step]:
        feeds = fed_from(self.target.kit)
        fed = [item.tag for item in self.target.kit.items if item.tag in feeds]
        for stage in _stages(self.target.kit):
            alive = [words(Tag(tag)) for tag in fed if feeds[tag] != {stage.tag}]
            dead = [words(Tag(tag)) for tag in fed if feeds[tag] == {stage.tag}]
            still, no_more = listed(alive) or ("nothing",), listed(dead) or ("nothing",)
            what = words(
                "Valve of ", Tag(stage.tag), " closed. Gas still reaches: ", *still, ". No gas: ", *no_more, "."
            )
            yield _step(phase, CHECK, what)

    def _rest(self) -> Iterator[Step]:
        off, on = rest_of(self.source, self.target)
        worn = tuple(
            self._name(key)
            for key, part in self.target.parts.items()
            if part.kind in WORN_KINDS and key not in self.match.taken
        )
        for text, items in ((COMES_OFF, off), (GOES_ON, (*on, *worn))):
            if items:
                yield _step(REST, WORK, words(text, *listed(items, "; "), "."))
            if text == COMES_OFF:
                yield from self._stored(REST)

    def _worn(self) -> Iterator[Step]:
        last = [hose.tag for hose in self.target.kit.hoses if hose.role == "long hose"]
        long_hose = (" ", Tag(last[0]), " goes on last, over everything.") if last else ()
        yield _step(WORN, WORK, words("Put on the complete kit, with the suit.", *long_hose))
        for figures in self.hoses:
            for need in figures.routed.needs[1:] if figures.routed else ():
                if need.is_asked:
                    yield _step(WORN, CHECK, words(Tag(figures.hose.tag), f": {need.pose}. {need.how}"))

    # ---- names and places ----

    def _made(self, at: str) -> list[Joint]:
        return [joint for joint in self.match.made if joint.at == at]

    def _is_adapter(self, key: str) -> bool:
        return self.target.parts[key].kind == ADAPTER

    def _name(self, key: str) -> Words:
        part = self.target.parts[key]
        if key in self.match.taken:
            owned = self.source.parts[self.match.taken[key]].owned
        else:
            owned = self.match.store[self.match.fetched[key]].owned if key in self.match.fetched else None
        return with_owned(part, owned)

    def _source_name(self, key: str) -> Words:
        part = self.source.parts[key]
        return with_owned(part, part.owned)

    def _place(self, key: str, slot: str = "") -> JointSlot:
        """Say where a part of the target comes from."""
        if key in self.match.taken:
            return JointSlot("source", self.match.taken[key], slot)
        if key in self.match.fetched:
            return JointSlot("store", self.match.fetched[key], slot)
        return JointSlot("new", key, slot)

    def _joint(self, phase: str, verb: str, joint: Joint, what: Words) -> Step:
        places = self._place(joint.inner, joint.inner_slot), self._place(joint.outer, joint.outer_slot)
        return _step(phase, verb, what, *places, work=joint.work)

    def _source_joint(self, phase: str, verb: str, joint: Joint, what: Words) -> Step:
        places = JointSlot("source", joint.inner, joint.inner_slot), JointSlot("source", joint.outer, joint.outer_slot)
        return _step(phase, verb, what, *places, work=joint.work)


def _along_hose(joint: Joint, build: Build, *, outward: bool) -> tuple[int, bool]:
    """Give the place of a joint when the work goes hose by hose, along each from the cylinder or towards it."""
    places = {key: number for number, key in enumerate(build.parts)}
    kinds = {key: build.parts[key].kind for key in (joint.inner, joint.outer)}
    hoses = [key for key, kind in kinds.items() if kind == HOSE]
    hoses += [hose_and_end(key)[0] for key, kind in kinds.items() if kind == ADAPTER]
    return places[hoses[0] if hoses else joint.outer], (kinds[joint.inner] == ADAPTER) == outward


def _step(phase: str, verb: str, what: Words, *places: JointSlot, work: JointWork | None = None) -> Step:
    return Step(0, phase, verb, what, places, work)


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
