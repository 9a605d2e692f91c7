"""The steps of a changeover, in an order in which nothing is loosened twice.

Every step tells what it does to the model of the kit, so that the steps alone, carried out one after the other, turn
the one build into the other. What order there is has its reason: the ends far from the cylinder come off first, while
the first stage still holds the hose against the spanner; everything is set by hand and turned the way it leads before
anything is tightened; a coupling goes on under pressure, when the joints have been seen to hold.
"""

from collections.abc import Iterator
from itertools import count

from kitbuilder.assess.findings import Amount, Tag, Word, Words, words
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.catalogue.bench_work import CLOSED, COUPLED, DEVICE, HOSE, OPEN, PORT, WET
from kitbuilder.kit.items import FirstStage, Gauge
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.plans.changeover.build import ADAPTER, Build, Joint, hose_and_end
from kitbuilder.plans.changeover.checks import checks_of
from kitbuilder.plans.changeover.cleaning import cleaning_of
from kitbuilder.plans.changeover.match import Match
from kitbuilder.plans.changeover.material import rest_of, rings_of
from kitbuilder.plans.changeover.step import (
    APART,
    AWAY,
    CHECK,
    CLICK,
    CLOSE,
    INSPECT,
    MAKE,
    MOUNTED,
    OFF_VALVE,
    ON_VALVE,
    PLUG_IN,
    REST,
    SAFE,
    TOGETHER,
    TURNED,
    UNCLICK,
    UNDO,
    UNPLUG,
    WORK,
    WORN,
    JointSlot,
    Step,
    step,
)
from kitbuilder.plans.changeover.stored import WORN_KINDS, gone_as_one, put_away, unclip_stages
from kitbuilder.plans.changeover.supplies import NO_SUPPLIES, Supplies, due_of_kit, have_ready
from kitbuilder.plans.changeover.wording import (
    format_makes,
    format_plug,
    format_port,
    format_valve,
    listed,
    name_after,
    name_before,
    place_of,
)

COMES_OFF, GOES_ON = "Comes off: ", "Goes on: "
INSPECT_HOSES = (
    "Slide the protectors back, inspect both crimps and the date, and squeeze the hose every few centimetres. "
    "Do not use a "
    "hose with a crack, a bulge, rust, or a stiff or soft spot."
)


def steps_of(match: Match, hoses: tuple[HoseFigures, ...], supplies: Supplies = NO_SUPPLIES) -> tuple[Step, ...]:
    """Give the steps that turn the source into the target.

    Args:
        match: Which part becomes which.
        hoses: The hoses of the target, laid over the body that wears them; for the checks on it.
        supplies: What the gear file says beyond that.
    """
    writer = _Writer(match, hoses, supplies)
    numbers = count(1)
    return tuple(each._replace(number=next(numbers)) for each in writer.all_steps())


class _Writer:
    """One pass over a match. A part of the source goes by its name there until it is put together again."""

    def __init__(self, match: Match, hoses: tuple[HoseFigures, ...], supplies: Supplies) -> None:
        self.match, self.hoses, self.supplies = match, hoses, supplies
        self.source, self.target = match.source, match.target
        self.rest = rest_of(match.source, match.target, gone_as_one(match))

    def all_steps(self) -> Iterator[Step]:
        yield from have_ready(self.match, self.supplies)
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
        for joint in self.match.couplings_on:
            makes = format_makes(joint.inner, self.hoses)
            what = words("Click ", *self._after(joint.inner), " onto ", *self._after(joint.outer), f".{makes}")
            yield self._joint(COUPLED, CLICK, joint, what)
        yield from self._checks(COUPLED)
        yield from self._worn()
        yield from self._checks(WET)

    # ---- before ----

    def _make_safe(self) -> Iterator[Step]:
        if not self.match.is_worked_on or not self.source.parts:
            return
        yield step(SAFE, WORK, words("Photograph the kit. Label each hose with what it is and what it becomes."))
        yield step(
            SAFE,
            WORK,
            words("Close every valve. Purge every second stage and press every inflator until no gas comes."),
        )
        if any(isinstance(item, Gauge) for item in self.source.kit.items):
            yield step(SAFE, WORK, words("Check that every gauge reads zero. If one does not, loosen nothing."))
        for joint in self.match.couplings_off:
            what = words("Pull ", *self._before(joint.inner), " off ", *self._before(joint.outer), ".")
            yield self._source_joint(SAFE, UNCLICK, joint, what)
        for stage in _stages(self.source.kit):
            if stage.tag in self.match.off_valves:
                what = words(
                    "Take ", Tag(stage.tag), " off ", *format_valve(stage, self.source.kit),
                    " by hand. Dry its cap and close its inlet with it.",
                )  # fmt: skip
                yield step(SAFE, OFF_VALVE, what, JointSlot("source", stage.tag))

    def _take_apart(self) -> Iterator[Step]:
        undone = self.match.undone
        for at in (DEVICE, PORT):
            # Hose by hose; an adapter stays with what is nearer to the cylinder until its far side is open.
            for joint in sorted(undone, key=lambda joint: _along_hose(joint, self.source, outward=False)):
                if joint.at == at:
                    yield self._source_joint(APART, UNDO, joint, self._format_undo(joint))
        for plug in self.match.plugs_out:
            what = words("Take the plug out of ", *format_port(plug), ".")
            yield step(APART, UNPLUG, what, JointSlot("source", plug.stage, plug.port), work=plug.work)

    def _format_undo(self, joint: Joint) -> Words:
        is_stage = self.source.parts[joint.inner].kind == FirstStage.kind
        port = f" {joint.inner_slot}" if is_stage else ""
        return words(
            "Unscrew ",
            *self._before(joint.outer),
            " from ",
            *self._before(joint.inner),
            f"{port}.",
        )

    def _put_away(self) -> Iterator[Step]:
        for plug in self.match.open_in_store:
            what = words("Close ", *format_port(plug), f" with {format_plug(plug)} or a cap, to keep dirt out.")
            yield step(AWAY, CLOSE, what, JointSlot("source", plug.stage, plug.port), work=plug.work)
        yield from unclip_stages(self.match)
        yield from put_away(self.match, AWAY, self.supplies.gear)

    def _inspect(self) -> Iterator[Step]:
        worked_on = self.match.worked_on_hoses
        hoses = [self._after(key) for key in self.target.parts if key in worked_on]
        if hoses:
            yield step(INSPECT, WORK, words("Inspect ", *listed(hoses), f". {INSPECT_HOSES}"))
        for key, due in due_of_kit(self.match, self.supplies):
            yield step(INSPECT, WORK, words("Before the dive, take care of ", Tag(key), ". ", *due))
        if rings := rings_of(self.match):
            sizes = ", ".join(f"{pieces} × {size}" for size, pieces in sorted(rings.items()))
            yield step(INSPECT, WORK, words(f"Lay out an O-ring for each joint, new or undamaged: {sizes}."))
        for what in cleaning_of(self.match, self._after):
            yield step(INSPECT, WORK, what)
        if self.match.is_worked_on:
            grease = "Use no grease, or a trace of oxygen-compatible grease. Never mix the two kinds."
            yield step(INSPECT, WORK, words(grease))

    # ---- after ----

    def _put_together(self) -> Iterator[Step]:
        renamed = [
            words(Tag(have), " is now ", Tag(want))
            for want, have in self.match.taken.items()
            if self._is_renamed(want, have)
        ]
        if renamed:
            yield step(TOGETHER, WORK, words("From here on, parts have their new names: ", *listed(renamed), "."))
        for plug in self.match.caps_out:
            what = words("Take the plug or the cap out of ", *format_port(plug), ".")
            yield step(TOGETHER, UNPLUG, what, self._place(plug.stage, plug.port), work=plug.work)
        for plug in self.match.plugs_in:
            what = words(f"Screw {format_plug(plug)} into ", *format_port(plug), " and tighten it.")
            yield step(TOGETHER, PLUG_IN, what, self._place(plug.stage, plug.port), work=plug.work)
        for joint in sorted(self._made(PORT), key=lambda joint: _along_hose(joint, self.target, outward=True)):
            is_adapter = self._is_adapter(joint.inner)
            inner = self._after(joint.inner) if is_adapter else (Tag(joint.inner), f" {joint.inner_slot}")
            what = words("Screw ", *self._after(joint.outer), " into ", *inner, ", by hand for now.")
            yield self._joint(TOGETHER, MAKE, joint, what)

    def _is_renamed(self, want: str, have: str) -> bool:
        return want != have and self.target.parts[want].kind != ADAPTER

    def _turn_and_tighten(self) -> Iterator[Step]:
        for stage in _stages(self.target.kit):
            made = [joint for joint in self._made(PORT) if self._stage_of(joint) == stage.tag]
            if made:
                yield step(TURNED, WORK, self._format_tighten(stage, made))
        for joint in sorted(self._made(DEVICE), key=lambda joint: _along_hose(joint, self.target, outward=True)):
            what = words(
                "Screw ",
                *self._after(joint.inner),
                " onto ",
                *self._after(joint.outer),
                " and tighten it.",
            )
            yield self._joint(TURNED, MAKE, joint, what)

    def _format_tighten(self, stage: FirstStage, made: list[Joint]) -> Words:
        works = {(work.turn_with, work.torque): joint.service for joint in made if (work := joint.work)}
        tightened = dict.fromkeys(self._after(joint.outer) for joint in made)
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
            if stage.tag not in self.match.on_valves:
                continue
            what = words(
                "Take the cap off ", Tag(stage.tag), " and inspect the O-ring of its face. Then put it on ",
                *format_valve(stage, self.target.kit), " by hand.",
            )  # fmt: skip
            yield step(MOUNTED, ON_VALVE, what, self._place(stage.tag))

    def _checks(self, phase: str) -> Iterator[Step]:
        for what in checks_of(phase, self.match):
            yield step(phase, CHECK, what)

    def _rest(self) -> Iterator[Step]:
        off, on = self.rest
        worn = tuple(
            self._after(key)
            for key, part in self.target.parts.items()
            if part.kind in WORN_KINDS and key not in self.match.taken
        )
        for text, items in ((COMES_OFF, off), (GOES_ON, (*on, *worn))):
            if items:
                yield step(REST, WORK, words(text, *listed(items, "; "), "."))
            if text == COMES_OFF:
                yield from put_away(self.match, REST, self.supplies.gear)

    def _worn(self) -> Iterator[Step]:
        """Check the hoses on the body: those that were worked on, and all of them when what is worn has changed."""
        every = {hose.tag for hose in self.target.kit.hoses}
        hoses = every if any(self.rest) else self.match.worked_on_hoses
        if not hoses:
            return
        last = [hose.tag for hose in self.target.kit.hoses if hose.role == "long hose"]
        long_hose = (" ", Tag(last[0]), " goes on last, over everything.") if last else ()
        yield step(WORN, WORK, words("Put on the complete kit, with the suit.", *long_hose))
        for figures in self.hoses:
            for need in figures.routed.needs[1:] if figures.routed and figures.hose.tag in hoses else ():
                if need.is_asked:
                    yield step(WORN, CHECK, words(Tag(figures.hose.tag), f": {need.pose}. {need.how}"))

    # ---- names and places ----

    def _after(self, key: str) -> Words:
        return name_after(self.match, key)

    def _before(self, key: str) -> Words:
        return name_before(self.match, key)

    def _place(self, key: str, slot: str = "") -> JointSlot:
        return place_of(self.match, key, slot)

    def _made(self, at: str) -> list[Joint]:
        return [joint for joint in self.match.made if joint.at == at]

    def _is_adapter(self, key: str) -> bool:
        return self.target.parts[key].kind == ADAPTER

    def _joint(self, phase: str, verb: str, joint: Joint, what: Words) -> Step:
        places = (
            self._place(joint.inner, joint.inner_slot),
            self._place(joint.outer, joint.outer_slot),
        )
        return step(phase, verb, what, *places, work=joint.work)

    def _source_joint(self, phase: str, verb: str, joint: Joint, what: Words) -> Step:
        places = JointSlot("source", joint.inner, joint.inner_slot), JointSlot("source", joint.outer, joint.outer_slot)
        return step(phase, verb, what, *places, work=joint.work)


def _along_hose(joint: Joint, build: Build, *, outward: bool) -> tuple[int, bool]:
    """Give the place of a joint when the work goes hose by hose, along each from the cylinder or towards it."""
    places = {key: number for number, key in enumerate(build.parts)}
    kinds = {key: build.parts[key].kind for key in (joint.inner, joint.outer)}
    hoses = [key for key, kind in kinds.items() if kind == HOSE]
    hoses += [hose_and_end(key)[0] for key, kind in kinds.items() if kind == ADAPTER]
    return places[hoses[0] if hoses else joint.outer], (kinds[joint.inner] == ADAPTER) == outward


def _stages(kit: ResolvedKit) -> list[FirstStage]:
    return [item for item in kit.items if isinstance(item, FirstStage)]
