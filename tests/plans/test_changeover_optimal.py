"""The least work, against every way there is: hundreds of small cases, each tried by brute force.

The brute force below tries every way to use the parts and counts joints and plugs for itself. Which part may take the
place of which it asks the plan; `test_changeover.py` says what that should be.
"""

import dataclasses
from collections.abc import Collection, Iterator

from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.gear.sameness import serves
from kitbuilder.kit.items import Cylinder, FirstStage, Gauge, Header, Hose, Item, Kit, SecondStage, Wing
from kitbuilder.plans.changeover.build import Assembly, Build, Joint, Part, build_of
from kitbuilder.plans.changeover.cylinders import same_valves
from kitbuilder.plans.changeover.match import match_builds
from kitbuilder.plans.changeover.programme import Programme, weights_for
from tests.laws import tried

PORTS = ("LP1 3/8-24 UNF", "LP2 3/8-24 UNF", "HP1 7/16-20 UNF")
NAMES = ("LP1", "LP2", "HP1")
WINGS = ("twinset wing", "sidemount bladder")
BACK = ("steel 12 L 232", "steel 15 L 232")
DECO = ("aluminium 7 L 207", "aluminium 5.7 L 207")
"""No cylinder of the one list can be taken for one of the other."""


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
        is_coupled = is_lp and draw(st.sampled_from((False, False, True)))
        owned = names[number]
        items.append(
            Hose(
                tag=f"hose {number}",
                role="wing inflator" if is_coupled else "primary" if is_lp else "gauge",
                from_=f"{stage} {name}",
                to=f"device {number}",
                body=draw(st.sampled_from(("rubber", "braided"))),
                length_m=draw(st.sampled_from((0.56, 0.75))),
                owned=owned and f"hose {owned}",
                from_adapter=draw(st.sampled_from((None, "swivel"))) if is_lp else None,
                to_adapter=draw(st.sampled_from((None, "swivel", "elbow 90"))) if is_lp else None,
            )
        )
        if is_coupled:
            items[-1] = dataclasses.replace(items[-1], to_adapter=None)
            if draw(st.booleans()):
                items.append(Wing(tag=f"device {number}", preset=draw(st.sampled_from(WINGS))))
        elif draw(st.booleans()):
            kind = SecondStage if is_lp else Gauge
            preset = draw(st.sampled_from(("plastic body", "metal body"))) if is_lp else "brass gauge"
            items.append(kind(tag=f"device {number}", preset=preset))
    for stage in stages:
        open_ports = [name for name in NAMES if (stage, name) not in taken]
        plugged = tuple(name for name in open_ports if closed or draw(st.booleans()))
        make = draw(st.sampled_from((None, "grey")))
        on = draw(st.sampled_from((None, "back", "deco")))
        items.append(FirstStage(tag=stage, ports=PORTS, plugged=plugged, make=make, on=on))
    sits_on = {item.on for item in items if isinstance(item, FirstStage)}
    if "back" in sits_on:
        items.append(Cylinder(tag="back", preset=draw(st.sampled_from(BACK))))
    if "deco" in sits_on:
        items.append(Cylinder(tag="deco", preset=draw(st.sampled_from(DECO)), carried="stage"))
    return Kit(Header(format=1, name="kit", layout="single"), tuple(items))


@st.composite
def neighbours(draw: st.DrawFn) -> tuple[Kit, Kit]:
    """Two kits of much the same parts, so that what can stay depends on which of two alike becomes which."""
    kit = draw(kits())
    items = [_plainer(item) if draw(st.integers(0, 3)) else item for item in kit.items]
    return Kit(kit.header, tuple(items)), Kit(kit.header, tuple(_altered(draw, items)))


def _plainer(item: Item) -> Item:
    """The same item without what tells it from another of its kind."""
    if isinstance(item, Hose):
        return dataclasses.replace(item, body="rubber", length_m=0.56, owned=None)
    return dataclasses.replace(item, make=None) if isinstance(item, FirstStage) else item


def _altered(draw: st.DrawFn, items: list[Item]) -> Iterator[Item]:
    """The items after a change or two: something left out, a plug more or less, a stage on another cylinder."""
    hoses = [item for item in items if isinstance(item, Hose)]
    ends = draw(st.permutations([(hose.from_, hose.to) for hose in hoses])) if draw(st.booleans()) else None
    left_out = draw(st.sampled_from([None, *(item.tag for item in items)]))
    stages_swap = draw(st.booleans())
    for item in items:
        if item.tag == left_out and not isinstance(item, (FirstStage, Cylinder)):
            continue
        if isinstance(item, Hose) and ends is not None:
            port, to = ends[hoses.index(item)]
            same = [end for end in ends if end[0] and (end[0].split()[-1][:2] == "LP") == ("LP" in (item.from_ or ""))]
            yield item if len(same) < len(ends) else dataclasses.replace(item, from_=port, to=to)
        elif isinstance(item, FirstStage) and not draw(st.integers(0, 2)):
            on = draw(st.sampled_from((item.on, "back", "deco"))) if stages_swap else item.on
            there = {other.tag for other in items if isinstance(other, Cylinder)}
            yield dataclasses.replace(item, plugged=item.plugged[1:], on=on if on in there else item.on)
        elif isinstance(item, Cylinder) and not draw(st.integers(0, 3)):
            presets = BACK if item.tag == "back" else DECO
            yield dataclasses.replace(item, preset=draw(st.sampled_from(presets)))
        else:
            yield item


Cost = tuple[int, int, int, int]


def least_cost(source: Build, target: Build, store: tuple[Part, ...]) -> Cost:
    """The least cost of all ways to make the target of what is available."""
    together = {part.key for part in store if part.assembly}
    return min(cost_of(chosen, source, target, together) for chosen in choices(source, target, store))


Chosen = dict[str, tuple[str, str]]
"""Where each part of the target comes from: "source" or "store", and its key there."""


def choices(source: Build, target: Build, store: tuple[Part, ...]) -> Iterator[Chosen]:
    """Every way to use each available part at most once."""
    available = [("source", part) for part in source.parts.values()] + [("store", part) for part in store]

    def go_on(wanted: list[Part], used: frozenset[tuple[str, str]]) -> Iterator[Chosen]:
        if not wanted:
            yield {}
            return
        first, *others = wanted
        for rest in go_on(others, used):
            yield rest
        for place, part in available:
            if (place, part.key) not in used and serves(part.piece, first.piece):
                for rest in go_on(others, used | {(place, part.key)}):
                    yield rest | {first.key: (place, part.key)}

    yield from go_on(list(target.parts.values()), frozenset())


def cost_of(chosen: Chosen, source: Build, target: Build, together: Collection[str] = ()) -> Cost:
    """What a way costs, counted joint by joint, couplings and first stages too: got, undone, made, fetched.

    Args:
        chosen: The way.
        source: What is built.
        target: What is to be built.
        together: The keys of the available parts that are kept screwed together.
    """
    out_of_it = {want for want, (place, key) in chosen.items() if place == "store" and key in together}
    assembled = [j for j in target.joints if not j.is_coupling and {j.inner, j.outer} <= out_of_it]
    comes_from = {want: key for want, (place, key) in chosen.items() if place == "source"}
    fetched = sum(place == "store" for place, _ in chosen.values())
    used = set(comes_from.values())

    def was(joint: Joint) -> Joint | None:
        """The joint of the source that is this one of the target already."""
        return next(
            (
                old
                for old in source.joints
                if comes_from.get(joint.inner) == old.inner
                and comes_from.get(joint.outer) == old.outer
                and (joint.inner_slot, joint.outer_slot) == (old.inner_slot, old.outer_slot)
                and joint.thread == old.thread
            ),
            None,
        )

    def is_opened(joint: Joint) -> bool:
        """Whether a joint at a port of the source has to be undone."""
        is_kept = any(was(other) == joint for other in target.joints)
        return not (is_kept or (joint.inner not in used and joint.outer not in used))

    def stays(want: str) -> bool:
        """Whether the first stage that becomes this one never comes off its valve."""
        have = comes_from.get(want)
        if have is None or cylinder_under(have, source) != cylinder_under(want, target):
            return False
        ports = {plug.port for plug in source.plugs if plug.stage == have}
        if ports != {plug.port for plug in target.plugs if plug.stage == want}:
            return False
        all_kept = not any(is_opened(joint) for joint in near(have, source))
        return all_kept and all(was(joint) is not None for joint in near(want, target))

    def leaves(have: str) -> bool:
        """Whether a first stage goes with the stage cylinder that it sits on."""
        under = cylinder_under(have, source)
        gone = (
            under is not None
            and under[0] == "deco"
            and under not in [cylinder_under(k, target) for k in stages(target)]
        )
        return gone and have not in used and not any(is_opened(joint) for joint in near(have, source))

    resting = {want for want in stages(target) if stays(want)}
    at_rest = {comes_from[want] for want in resting}

    def is_still_on(joint: Joint) -> bool:
        """Whether a coupling of the target was on before, and never comes off."""
        old = was(joint)
        if old is None:
            return False
        before, after = first_on(old.inner, source), first_on(joint.inner, target)
        return (before in at_rest or before not in stages(source)) and (after in resting or after not in stages(target))

    screwed, clicked = [j for j in target.joints if not j.is_coupling], [j for j in target.joints if j.is_coupling]
    made = sum(was(joint) is None for joint in screwed if joint not in assembled) + sum(
        not is_still_on(joint) for joint in clicked
    )
    undone = sum(is_opened(joint) for joint in source.joints if not joint.is_coupling)
    undone += sum(joint.is_coupling for joint in source.joints) - sum(map(is_still_on, clicked))
    plugs_stay = {(comes_from.get(plug.stage), plug.port) for plug in target.plugs}
    before = {(plug.stage, plug.port) for plug in source.plugs}
    undone += sum(plug[0] in used and plug not in plugs_stay for plug in before)
    made += sum(plug.stage in comes_from and (comes_from[plug.stage], plug.port) not in before for plug in target.plugs)
    # A first stage from elsewhere has all its ports closed: those that are used are opened, the others stay.
    new = [joint for joint in target.joints if joint.inner in stages(target) and joint.inner not in comes_from]
    undone += sum(joint not in assembled for joint in new)
    # What comes out of an assembly comes off the rest of it, piece by piece; taken whole, only its pieces part.
    if out_of_it:
        undone += len(out_of_it) - len(assembled) - (len(out_of_it) == len(together))
    undone += sum(have not in at_rest and not leaves(have) for have in stages(source))
    made += sum(want not in resting for want in stages(target))
    return len(target.parts) - len(chosen), undone, made, fetched


def stages(build: Build) -> list[str]:
    return [key for key, part in build.parts.items() if part.kind == "first_stage"]


def cylinder_under(stage: str, build: Build) -> tuple[str, str | None] | None:
    """The cylinder of a first stage by its name and preset; by the stage where there is none in the file."""
    items = {item.tag: item for item in build.kit.items}
    on = items[stage].on or ("back" if "back" in items else None)
    return (on, items[on].preset) if on else (stage, None)


def first_on(key: str, build: Build) -> str:
    """What a part hangs on in the end."""
    nearer = {joint.outer: joint.inner for joint in build.joints}
    while key in nearer:
        key = nearer[key]
    return key


def near(stage: str, build: Build) -> list[Joint]:
    """The joints at the ports of a first stage, and those of adapters in them."""
    return [j for j in build.joints if not j.is_coupling and j.at == "port" and first_on(j.inner, build) == stage]


@tried(150)
@given(kits(), kits())
def test_no_way_is_less_work(first: Kit, second: Kit) -> None:
    source, target = build_of(first), build_of(second)
    found = match_builds(source, target)
    assert found.is_proved
    assert found.cost == least_cost(source, target, ())


@tried(100)
@given(neighbours(), st.integers(0, 4), st.booleans())
def test_the_programme_gains_what_the_match_saves(both: tuple[Kit, Kit], spares: int, from_nothing: bool) -> None:
    """A constraint that is missing would promise work saved that nobody saves."""
    first, second = (build_of(kit) for kit in both)
    assert_gain_is_saved(build_of(Kit(both[0].header, ())) if from_nothing else first, second, spares)
    assert_gain_is_saved(second, first, spares)


def assert_gain_is_saved(source: Build, target: Build, spares: int) -> None:
    """Against building all of the target of new parts.

    Each is bought, its ports are opened, each joint is made, and the source is taken apart joint by joint.
    """
    keys = [f"spare {number}" for number in range(spares)]
    assembly = Assembly("assembly", frozenset(keys))
    store = tuple(
        part._replace(key=key, owned=part.owned or key, assembly=assembly)
        for key, part in zip(keys, reversed(target.parts.values()), strict=False)
    )
    worth = weights_for(source, target)
    gain = Programme(source, target, store, same_valves(source, target)).solve(10.0).gain
    bought, undone, made, fetched = match_builds(source, target, store).cost
    ports = sum(joint.inner in stages(target) for joint in target.joints)
    undone_before = len(source.joints) + len(stages(source)) + ports
    made_before = len(target.joints) + len(stages(target))
    saved = worth.get * (len(target.parts) - bought) + worth.undo * (undone_before - undone)
    saved += worth.make * (made_before - made) + worth.near * (len(target.parts) - bought - fetched)
    assert gain == saved


@tried(60)
@given(neighbours())
def test_nor_between_kits_that_are_much_alike(both: tuple[Kit, Kit]) -> None:
    source, target = build_of(both[0]), build_of(both[1])
    assert match_builds(source, target).cost == least_cost(source, target, ())
    assert match_builds(target, source).cost == least_cost(target, source, ())


@tried(75)
@given(kits(), kits(), kits())
def test_nor_with_parts_that_are_available(first: Kit, second: Kit, third: Kit) -> None:
    source, target = build_of(first), build_of(second)
    store = tuple(part for part in build_of(third).parts.values() if part.kind != "adapter")[:3]
    found = match_builds(source, target, store)
    assert found.cost == least_cost(source, target, store)


@tried(100)
@given(kits(), kits(), kits(), st.data())
def test_nor_with_parts_that_are_kept_screwed_together(
    first: Kit, second: Kit, third: Kit, data: st.DataObject
) -> None:
    """Parts for the target, out of another kit and out of the target itself, some of them kept as an assembly."""
    source, target = build_of(first), build_of(second)
    spare = [*build_of(third).parts.values(), *target.parts.values()]
    parts = data.draw(st.lists(st.sampled_from(spare), max_size=3, unique_by=id))
    chosen = data.draw(st.integers(0, len(parts)))
    keys = [f"spare {number}" for number in range(len(parts))]
    assembly = Assembly("assembly", frozenset(keys[:chosen]))
    store = tuple(
        part._replace(key=key, owned=part.owned or key, assembly=assembly if key in assembly.parts else None)
        for key, part in zip(keys, parts, strict=True)
    )
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
