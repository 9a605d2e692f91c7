"""The least work, against every way there is: hundreds of small cases, each tried by brute force.

The brute force below tries every way to use the parts and counts joints and plugs for itself. Which part may take the
place of which it asks the plan; `test_changeover.py` says what that should be.
"""

import dataclasses
from collections.abc import Iterator

from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.gear.sameness import serves
from kitbuilder.kit.items import FirstStage, Gauge, Header, Hose, Item, Kit, SecondStage
from kitbuilder.plans.changeover.build import Build, Part, build_of
from kitbuilder.plans.changeover.match import match_builds
from tests.laws import tried

PORTS = ("LP1 3/8-24 UNF", "LP2 3/8-24 UNF", "HP1 7/16-20 UNF")
NAMES = ("LP1", "LP2", "HP1")


@st.composite
def kits(draw: st.DrawFn, *, closed: bool = False) -> Kit:
    """One or two first stages, up to three hoses in their ports, each with or without something at its other end.

    Args:
        draw: As hypothesis gives it.
        closed: Whether every port that is not used has a plug, as it should.
    """
    stages = [f"stage {number}" for number in range(draw(st.integers(1, 2)))]
    free = draw(st.permutations([(stage, name) for stage in stages for name in NAMES]))
    names = draw(st.permutations((None, None, "a", "b")))
    items: list[Item] = []
    taken = set()
    for number, (stage, name) in enumerate(free[: draw(st.integers(0, 3))]):
        taken.add((stage, name))
        is_lp = name.startswith("LP")
        owned = names[number]
        items.append(
            Hose(
                tag=f"hose {number}",
                role="primary" if is_lp else "gauge",
                from_=f"{stage} {name}",
                to=f"device {number}",
                body=draw(st.sampled_from(("rubber", "braided"))),
                length_m=draw(st.sampled_from((0.56, 0.75))),
                owned=owned and f"hose {owned}",
                from_adapter=draw(st.sampled_from((None, "swivel"))) if is_lp else None,
                to_adapter=draw(st.sampled_from((None, "swivel", "elbow 90"))) if is_lp else None,
            )
        )
        if draw(st.booleans()):
            kind = SecondStage if is_lp else Gauge
            preset = draw(st.sampled_from(("plastic body", "metal body"))) if is_lp else "brass gauge"
            items.append(kind(tag=f"device {number}", preset=preset))
    for stage in stages:
        open_ports = [name for name in NAMES if (stage, name) not in taken]
        plugged = tuple(name for name in open_ports if closed or draw(st.booleans()))
        make = draw(st.sampled_from((None, "grey")))
        items.append(FirstStage(tag=stage, ports=PORTS, plugged=plugged, make=make))
    return Kit(Header(format=1, name="kit", layout="single"), tuple(items))


Cost = tuple[int, int, int, int]


def least_cost(source: Build, target: Build, store: tuple[Part, ...]) -> Cost:
    """The least cost of all ways to make the target of what is at hand."""
    return min(cost_of(chosen, source, target) for chosen in choices(source, target, store))


Chosen = dict[str, tuple[str, str]]
"""Where each part of the target comes from: "source" or "store", and its key there."""


def choices(source: Build, target: Build, store: tuple[Part, ...]) -> Iterator[Chosen]:
    """Every way to use each part at hand at most once."""
    at_hand = [("source", part) for part in source.parts.values()] + [("store", part) for part in store]

    def go_on(wanted: list[Part], used: frozenset[tuple[str, str]]) -> Iterator[Chosen]:
        if not wanted:
            yield {}
            return
        first, *others = wanted
        for rest in go_on(others, used):
            yield rest
        for place, part in at_hand:
            if (place, part.key) not in used and serves(part.piece, first.piece):
                for rest in go_on(others, used | {(place, part.key)}):
                    yield rest | {first.key: (place, part.key)}

    yield from go_on(list(target.parts.values()), frozenset())


def cost_of(chosen: Chosen, source: Build, target: Build) -> Cost:
    """What a way costs, counted joint by joint: got, undone, made, fetched."""
    comes_from = {want: key for want, (place, key) in chosen.items() if place == "source"}
    fetched = sum(place == "store" for place, _ in chosen.values())
    used = set(comes_from.values())

    def there(joint) -> bool:
        """Whether a joint of the target is there already."""
        return any(
            comes_from.get(joint.inner) == old.inner
            and comes_from.get(joint.outer) == old.outer
            and (joint.inner_slot, joint.outer_slot) == (old.inner_slot, old.outer_slot)
            for old in source.joints
        )

    made = sum(not there(joint) for joint in target.joints)
    kept = len(target.joints) - made
    idle = sum(joint.inner not in used and joint.outer not in used for joint in source.joints)
    undone = len(source.joints) - kept - idle
    stays = {(comes_from.get(plug.stage), plug.port) for plug in target.plugs}
    before = {(plug.stage, plug.port) for plug in source.plugs}
    out = sum(plug[0] in used and plug not in stays for plug in before)
    into = sum(plug.stage in comes_from and (comes_from[plug.stage], plug.port) not in before for plug in target.plugs)
    # A first stage from elsewhere has all its ports closed: those that are used are opened, the others stay.
    new = {part.key for part in target.parts.values() if part.kind == "first_stage" and part.key not in comes_from}
    out += sum(joint.inner in new for joint in target.joints)
    return len(target.parts) - len(chosen), undone + out, made + into, fetched


@tried(150)
@given(kits(), kits())
def test_no_way_is_less_work(first: Kit, second: Kit) -> None:
    source, target = build_of(first), build_of(second)
    found = match_builds(source, target)
    assert found.is_proved
    assert found.cost == least_cost(source, target, ())


@tried(75)
@given(kits(), kits(), kits())
def test_nor_with_parts_at_hand_besides(first: Kit, second: Kit, third: Kit) -> None:
    source, target = build_of(first), build_of(second)
    store = tuple(part for part in build_of(third).parts.values() if part.kind != "adapter")[:3]
    found = match_builds(source, target, store)
    assert found.cost == least_cost(source, target, store)


@tried(75)
@given(kits(), kits())
def test_there_and_back_as_many_parts_are_taken_over(first: Kit, second: Kit) -> None:
    """What is taken from one for the other can be taken back; named items of the gear file go one way only."""
    unnamed = [Kit(kit.header, tuple(_without_name(item) for item in kit.items)) for kit in (first, second)]
    source, target = (build_of(kit) for kit in unnamed)
    forth, back = match_builds(source, target), match_builds(target, source)
    assert len(forth.taken) == len(back.taken)


def _without_name(item: Item) -> Item:
    return dataclasses.replace(item, owned=None, make=None) if isinstance(item, (Hose, FirstStage)) else item


@tried(50)
@given(kits())
def test_a_kit_is_itself_already(kit: Kit) -> None:
    build = build_of(kit)
    assert match_builds(build, build).cost == (0, 0, 0, 0)
