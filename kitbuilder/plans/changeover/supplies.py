"""The first steps of a changeover: what is fetched, what is bought, and the plugs to have ready."""

from collections import Counter
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import NamedTuple

from kitbuilder.assess.findings import Tag, Words, words
from kitbuilder.kit.gear import Gear
from kitbuilder.plans.changeover.build import Assembly, named
from kitbuilder.plans.changeover.cleaning import described_clean, why_bought
from kitbuilder.plans.changeover.free import PlugCount
from kitbuilder.plans.changeover.match import Match
from kitbuilder.plans.changeover.step import FETCH, GET, READY, WORK, JointSlot, Step, step
from kitbuilder.plans.changeover.wording import format_caution, listed, name_after, without_joint


class Supplies(NamedTuple):
    """What the gear file says beyond which part becomes which."""

    gear: Gear | None = None
    due: Mapping[str, Words] = MappingProxyType({})
    """What is due on the day of the dive, a sentence, by the tag of the item in the gear file."""
    plugs: tuple[PlugCount, ...] = ()


NO_SUPPLIES = Supplies()


def due_of_kit(match: Match, supplies: Supplies) -> Iterator[tuple[str, Words]]:
    """Give what is due of the items of the target that are not fetched, with their tags."""
    for item in match.target.kit.items:
        key = match.taken.get(item.tag)
        owned = match.source.parts[key].owned if key else item.owned
        if item.tag not in match.fetched and owned is not None and owned in supplies.due:
            yield item.tag, supplies.due[owned]


def have_ready(match: Match, supplies: Supplies) -> Iterator[Step]:
    """Give the steps that come before the kit is touched."""
    yield from (step(READY, WORK, what) for what in without_joint(match.source.kit, match.target.kit))
    complete = {want for assembly, keys in match.assemblies.items() if _is_complete(assembly, keys) for want in keys}
    for assembly, keys in match.assemblies.items():
        if _is_complete(assembly, keys):
            yield _fetch_as_one(assembly, keys, match, supplies)
    for want in match.fetched:
        if want not in complete:
            yield _fetch(want, match, supplies)
    for want in match.bought:
        part = match.target.parts[want]
        what = words("Buy ", *name_after(match, want), " (", *described_clean(part), "). ", *why_bought(part))
        yield step(READY, GET, what, JointSlot("new", want))
    yield from _more_plugs(match, supplies.plugs)


def _is_complete(assembly: Assembly, keys: tuple[str, ...]) -> bool:
    return len(keys) == len(assembly.parts)


def _fetch(want: str, match: Match, supplies: Supplies) -> Step:
    key = match.fetched[want]
    part = match.store[key]
    where = Tag(part.kept_in) if part.kept_in else "your gear"
    what = words("Fetch ", Tag(part.owned or key.strip()), " from ", where, ". It becomes ")
    becomes = words(*named(match.target.parts[want]), ".", *format_caution(part))
    apart = words(" It is part of ", Tag(part.assembly.tag), ": take it off there first.") if part.assembly else ()
    note = supplies.due.get(part.owned or "", ())
    return step(READY, FETCH, (*what, *becomes, *apart), JointSlot("store", key))._replace(note=note)


def _fetch_as_one(assembly: Assembly, keys: tuple[str, ...], match: Match, supplies: Supplies) -> Step:
    """Say what is fetched assembled, what its parts become, and at which joints to compare it with the kit."""
    where = Tag(assembly.kept_in) if assembly.kept_in else "your gear"
    parts = [match.store[match.fetched[want]] for want in keys]
    names = [named(match.target.parts[want]) for want in keys]
    become = [words(Tag(part.owned or ""), " becomes ", *name) for part, name in zip(parts, names, strict=True)]
    built = [joint for joint in match.assembled if {joint.inner, joint.outer} <= set(keys)]
    joints = [words(*_slot(joint.inner, joint.inner_slot), " has ", Tag(joint.outer)) for joint in built]
    what = words("Fetch ", Tag(assembly.tag), " from ", where, " as one: ", *listed(become), ".")
    compare = words(" Compare how it is built: ", *listed(joints), ".") if joints else ()
    apart = words(" Undo what is joined in another way.") if len(built) < len(keys) - 1 else ()
    cautions = [piece for part in parts for piece in format_caution(part)]
    places = [JointSlot("store", match.fetched[want]) for want in keys]
    notes = [supplies.due[part.owned or ""] for part in parts if part.owned in supplies.due]
    fetched = step(READY, FETCH, (*what, *compare, *apart, *cautions), *places)
    return fetched._replace(note=listed(notes, " "))


def _slot(part: str, slot: str) -> Words:
    return words(Tag(part), f" {slot}" if slot[:2] in ("LP", "HP") else "")


def _more_plugs(match: Match, counts: tuple[PlugCount, ...]) -> Iterator[Step]:
    more = Counter((plug.service, plug.thread) for plug in (*match.plugs_in, *match.open_in_store))
    out = (*match.plugs_out, *match.caps_out)
    more.subtract((plug.service, plug.thread) for plug in out)
    others = "; the others come out of this kit" if out else ""
    to_buy = {count.kind: count.to_buy for count in counts}
    for (service, thread), number in more.items():
        pieces = number - to_buy.get(f"{service} {thread}", 0)
        if pieces > 0:
            plugs = f"{_one_or(pieces)} more {service} {_plugs(pieces)}"
            yield step(READY, WORK, words(f"Have {plugs} ({thread}) ready{others}."))
    for count in counts:
        if count.to_buy:
            what = f"Buy {_one_or(count.to_buy)} {_plugs(count.to_buy)}, {count.kind}. {_why_plugs(count)}"
            yield step(READY, WORK, words(what, *_perhaps_plugged(match, count)))


def _why_plugs(count: PlugCount) -> str:
    """Say how many plugs are needed, and how many there are; also where the gear file cannot be right."""
    ends = f"The changeover ends with {count.needed} in ports; "
    if count.in_use <= count.owned:
        return f"{ends}you own {count.owned}, {count.in_use} of them in this kit."
    return (
        f"{ends}this kit has {count.in_use}. Your gear file counts only {count.owned}, so one of the two files is "
        "wrong: count the plugs, and correct it."
    )


def _perhaps_plugged(match: Match, count: PlugCount) -> Words:
    """Name the first stages from the gear file whose ports may be plugged already: nobody has counted those plugs."""
    stages = dict.fromkeys(
        plug.stage for plug in match.target.plugs if plug.kind == count.kind and plug.stage in match.fetched
    )
    if not stages:
        return ()
    named_stages = listed(words(Tag(each)) for each in stages)
    return words(" First see whether the free ports of ", *named_stages, " have plugs already.")


def _one_or(pieces: int) -> str:
    return "one" if pieces == 1 else str(pieces)


def _plugs(pieces: int) -> str:
    return "plug" if pieces == 1 else "plugs"
