"""The steps that put away what is left over: stages as one, and whatever stays screwed together as one."""

from collections.abc import Iterator

from kitbuilder.assess.assembly import goes_with
from kitbuilder.assess.findings import Tag, Words, words
from kitbuilder.kit.gear import Gear, OwnedAssembly
from kitbuilder.plans.changeover.build import Build
from kitbuilder.plans.changeover.match import Match
from kitbuilder.plans.changeover.step import AWAY, REST, STORE, JointSlot, Step, step
from kitbuilder.plans.changeover.wording import listed, name_before

WORN_KINDS = ("wing", "jacket", "drysuit")
"""Parts that are worn, or that carry the cylinders: they come off after these, and go on before them."""


def unclip_stages(match: Match) -> Iterator[Step]:
    """Give a step for each stage that leaves the kit with all that is on it."""
    for stage in match.left_on_stages:
        cylinder = match.source.valves[stage]
        parts = hanging_on(match.source, cylinder)
        others = [words(Tag(tag)) for tag in parts if tag != cylinder]
        what = words(
            "Close the valve of ", Tag(cylinder), " and let the gas out of its hoses. Unclip ", Tag(cylinder),
            " with all that is on it, and put it away as one: ", *listed(others), ".",
        )  # fmt: skip
        places = (JointSlot("source", key) for key in match.left_over if match.source.root(key) == stage)
        yield step(AWAY, STORE, what, *places)


def hanging_on(build: Build, cylinder: str) -> tuple[str, ...]:
    """Give the tags of a cylinder and of all that goes with it."""
    kit = build.kit
    number = next(number for number, item in enumerate(kit.items) if item.tag == cylinder)
    return tuple(kit.items[each].tag for each in goes_with(kit, number))


def gone_as_one(match: Match) -> frozenset[str]:
    """Give the tags of what leaves the kit with its stage."""
    return frozenset(
        tag for stage in match.left_on_stages for tag in hanging_on(match.source, match.source.valves[stage])
    )


def put_away(match: Match, wanted: str, gear: Gear | None) -> Iterator[Step]:
    """Say what is left over, put away; what is worn is put away when the cylinders are off it."""
    for group in _groups(match):
        places = (JointSlot("source", key) for key in group)
        phase = REST if match.source.parts[group[0]].kind in WORN_KINDS else AWAY
        if phase == wanted:
            yield step(phase, STORE, _format_put_away(group, match, gear), *places)


def _format_put_away(group: list[str], match: Match, gear: Gear | None) -> Words:
    parts = [match.source.parts[key] for key in group]
    is_hose = any(part.kind == "hose" for part in parts)
    end = ", dry. Lay hoses in wide loops." if is_hose else ", dry."
    names = [name_before(match, key) for key in group]
    assembly = _assembly_of(frozenset(part.owned or "" for part in parts), gear)
    if assembly is not None:
        where = words(" into ", Tag(assembly.kept_in)) if assembly.kept_in else words(" away")
        return words("Put ", Tag(assembly.tag), *where, " as one: ", *listed(names), end)
    first, *others = names
    still_on = (" with ", *listed(others), " still on it") if others else ()
    kept_in = parts[0].kept_in
    where = (" into ", Tag(kept_in)) if kept_in else (" away",)
    return words("Put ", *first, *still_on, *where, end)


def _assembly_of(tags: frozenset[str], gear: Gear | None) -> OwnedAssembly | None:
    return next((each for each in gear.assemblies if frozenset(each.parts) == tags), None) if gear else None


def _groups(match: Match) -> Iterator[list[str]]:
    """Give the parts left over, those that stay joined together, but for those that leave on their stage."""
    joined: dict[str, set[str]] = {key: {key} for key in match.left_over}
    for joint in match.stored_together:
        both = joined[joint.inner] | joined[joint.outer]
        joined.update(dict.fromkeys(both, both))
    seen = {key for stage in match.left_on_stages for key in joined[stage]}
    for key in match.left_over:
        if key not in seen:
            seen |= joined[key]
            yield sorted(joined[key], key=match.left_over.index)
