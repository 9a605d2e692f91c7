"""A model of the bench: parts, joints and plugs that are undone and made, and that refuse what cannot be done."""

from collections import Counter
from collections.abc import Iterable

from kitbuilder.assess.gear.sameness import HoseRecord, PartRecord
from kitbuilder.plans.changeover.build import Build, Joint, Part
from kitbuilder.plans.changeover.match import Match
from kitbuilder.plans.changeover.step import (
    CHECK,
    CLICK,
    CLOSE,
    FETCH,
    GET,
    MAKE,
    OFF_VALVE,
    ON_VALVE,
    PLUG_IN,
    STORE,
    UNCLICK,
    UNDO,
    UNPLUG,
    WORK,
    JointSlot,
    Step,
)

Sides = tuple[JointSlot, JointSlot]
Held = tuple[str, str]
"""A part that can be held in the hand: where it came from, and its key there."""


class Bench:
    """What lies on the bench, and what is screwed to what. Asserts that each step can be done as items are."""

    def __init__(
        self, build: Build, store: dict[str, Part], to_get: dict[str, Part], assembled: Iterable[Sides] = ()
    ) -> None:
        """The kit as it is built, its first stages on their valves, everything else out of reach.

        Args:
            build: The kit.
            store: What is available beside it.
            to_get: What is bought.
            assembled: The joints between parts of the store that are kept screwed together.
        """
        self.parts: dict[Held, Part] = {("source", key): part for key, part in build.parts.items()}
        self.parts |= {("store", key): part for key, part in store.items()}
        self.parts |= {("new", key): part for key, part in to_get.items()}
        self.available = {("source", key) for key in build.parts}
        self.joints = {_sides(joint) for joint in build.joints} | set(assembled)
        self.plugs = {JointSlot("source", plug.stage, plug.port) for plug in build.plugs}
        self.on_valve = {held for held in self.available if self.parts[held].kind == "first_stage"}
        self.loosened = Counter[object]()
        self.clicked = {_sides(joint) for joint in build.couplings}

    def carry_out(self, steps: Iterable[Step]) -> "Bench":
        """Do one step after the other."""
        for step in steps:
            self._do(step)
        return self

    def _do(self, step: Step) -> None:
        held = [(place.origin, place.part) for place in step.places]
        match step.verb:
            case "fetch" | "get":
                assert step.verb in (FETCH, GET)
                for part in held:
                    assert part not in self.available
                    self.available.add(part)
                    self._close_all_ports(part)
            case "off the valve":
                assert step.verb == OFF_VALVE
                assert held[0] not in self._roots(self.clicked), "a coupling still holds it to the diver"
                self.on_valve.remove(held[0])
            case "on the valve":
                assert step.verb == ON_VALVE
                assert held[0] in self.available
                self.on_valve.add(held[0])
            case "undo" | "coupling off":
                self._undo(step)
            case "make" | "coupling on":
                self._make(step)
            case "plug out":
                assert step.verb == UNPLUG
                assert held[0] not in self.on_valve
                self.plugs.remove(step.places[0])
                self.loosened[step.places[0]] += 1
            case "plug in" | "close":
                assert step.verb in (PLUG_IN, CLOSE)
                self._assert_free(step.places[0])
                self.plugs.add(step.places[0])
            case "put away":
                raise AssertionError("a phase, not a verb")
            case _:
                self._put_away_or_look(step, held)

    def _close_all_ports(self, held: Held) -> None:
        """A first stage comes from the gear file, or new, with every port closed."""
        part = self.parts[held]
        if part.kind == "first_stage":
            assert isinstance(part.record, PartRecord)
            ports = {JointSlot(*held, port.split(" ")[0]) for port in part.record.fits}
            self.plugs |= {port for port in ports if not any(port in joint for joint in self.joints)}

    def _put_away_or_look(self, step: Step, held: list[Held]) -> None:
        assert step.verb in (STORE, WORK, CHECK)
        if step.verb != STORE:
            return
        together = set(held)
        for inner, outer in self.joints:
            sides = {(inner.origin, inner.part), (outer.origin, outer.part)}
            assert sides <= together or not sides & together, f"{step.what} would take a joint along"
        for place in self._loosened_slots():
            if (place.origin, place.part) in together and self.parts[place.origin, place.part].kind == "first_stage":
                assert self._is_closed(place), f"{place} is put away open"
        for held_on in together & self.on_valve:
            assert not {held for held in self._roots(self.clicked) if held == held_on}, "a coupling still holds it"
        self.on_valve -= together  # a stage leaves with its first stage on it
        self.available -= together

    def _loosened_slots(self) -> Iterable[JointSlot]:
        for key in self.loosened:
            yield from (key,) if isinstance(key, JointSlot) else key  # type: ignore[misc]

    def _undo(self, step: Step) -> None:
        joint = (step.places[0], step.places[1])
        if step.verb == UNCLICK:
            self.clicked.remove(joint)
        else:
            assert step.verb == UNDO
            # A port is opened off the cylinder; the far end of a hose that is without pressure is not.
            assert self._is_far_end(joint) or self._root(joint[0]) not in self.on_valve, "it is on a cylinder"
        self.joints.remove(joint)
        self.loosened[joint] += 1

    def _make(self, step: Step) -> None:
        assert step.verb in (MAKE, CLICK)
        for place in step.places:
            self._assert_free(place)
        joint = (step.places[0], step.places[1])
        if step.verb == MAKE:
            assert self._is_far_end(joint) or self._root(joint[0]) not in self.on_valve, "it is on a cylinder"
        self.joints.add(joint)
        if step.verb == CLICK:
            root = self._root(joint[0])
            is_stage = self.parts[root].kind == "first_stage"
            assert not is_stage or root in self.on_valve, "a coupling goes on when the joints have been seen to hold"
            self.clicked.add((step.places[0], step.places[1]))

    def _is_far_end(self, joint: Sides) -> bool:
        """Whether a joint is at the end of a hose that is far from the first stage."""
        inner, outer = ((self.parts[place.origin, place.part].kind, place.slot) for place in joint)
        return inner == ("hose", "to") or (inner[0] == "adapter" and outer[0] not in ("hose",))

    def _root(self, place: JointSlot) -> Held:
        """The part nearest to the cylinder that this one hangs on."""
        nearer = {(outer.origin, outer.part): (inner.origin, inner.part) for inner, outer in self.joints}
        held = (place.origin, place.part)
        while held in nearer:
            held = nearer[held]
        return held

    def _roots(self, joints: Iterable[Sides]) -> set[Held]:
        return {self._root(inner) for inner, _ in joints}

    def _assert_free(self, place: JointSlot) -> None:
        assert (place.origin, place.part) in self.available, f"{place} is not available"
        assert not self._is_closed(place), f"{place} is taken"

    def _is_closed(self, place: JointSlot) -> bool:
        return place in self.plugs or any(place in joint for joint in self.joints)

    def taken_up_as(self, match: Match) -> "Bench":
        """What was built, by the names of the kit it has become; parts that kit cannot give lie ready as new ones."""
        names = {("source", have): want for want, have in match.taken.items()}
        names |= {("store", have): want for want, have in match.fetched.items()}
        names |= {("new", want): want for want in match.bought}

        def renamed(place: JointSlot) -> JointSlot:
            return JointSlot("source", names[place.origin, place.part], place.slot)

        to_get = dict(match.source.parts)
        bench = Bench(match.target, {}, to_get)
        used = [joint for joint in self.joints if all((place.origin, place.part) in names for place in joint)]
        bench.joints = {(renamed(inner), renamed(outer)) for inner, outer in used}
        bench.plugs = {renamed(plug) for plug in self.plugs if (plug.origin, plug.part) in names}
        bench.on_valve = {("source", names[held]) for held in self.on_valve}
        bench.clicked = {(renamed(inner), renamed(outer)) for inner, outer in self.clicked}
        return bench

    # ---- what it has become ----

    def what_is_built(self) -> Counter[object]:
        """Every joint and plug of what is available, given by what its parts are, not by what they are called."""
        found = Counter[object]()
        for inner, outer in self.joints:
            if (inner.origin, inner.part) in self.available:
                found[self._what(inner), self._what(outer)] += 1
        for plug in self.plugs:
            if (plug.origin, plug.part) in self.available:
                found[self._what(plug)] += 1
        found.update(what_a_part_is(self.parts[held]) for held in self.available)
        return found

    def _what(self, place: JointSlot) -> object:
        return what_a_part_is(self.parts[place.origin, place.part]), place.slot


def what_is_wanted(build: Build) -> Counter[object]:
    """The same of a kit as its file tells it."""
    parts = build.parts
    found = Counter[object](
        ((what_a_part_is(parts[j.inner]), j.inner_slot), (what_a_part_is(parts[j.outer]), j.outer_slot))
        for j in build.joints
    )
    found.update((what_a_part_is(parts[plug.stage]), plug.port) for plug in build.plugs)
    found.update(what_a_part_is(part) for part in parts.values())
    return found


def what_a_part_is(part: Part) -> object:
    """A part by what it is: its kind, what must be equal, and for a hose its length to five centimetres."""
    record = part.record
    if isinstance(record, HoseRecord):
        return record.service, record.body, record.from_end, record.to_end, round(record.length_m / 0.05)
    return record.kind, record.fits


def _sides(joint: Joint) -> Sides:
    return JointSlot("source", joint.inner, joint.inner_slot), JointSlot("source", joint.outer, joint.outer_slot)
