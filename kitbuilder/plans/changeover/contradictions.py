"""What keeps a kit from being put together: a port used twice or not there, an item fed twice or in two places."""

from collections.abc import Iterator

from kitbuilder.assess.findings import Tag, Words, words
from kitbuilder.assess.hoses.ports import port_reference, ports_of
from kitbuilder.kit.items import Device, FirstStage, Hose, Item, Lead, split_port
from kitbuilder.kit.resolved import ResolvedKit


def contradictions_in(kit: ResolvedKit) -> tuple[Words, ...]:
    """Give the reasons why a kit cannot be put together, a sentence each."""
    return (*_contradictions(kit), *_in_two_places(kit))


def _contradictions(kit: ResolvedKit) -> Iterator[Words]:
    items = {item.tag: item for item in kit.items}
    taken: dict[str, str] = {}
    fed: dict[str, str] = {}
    for item in kit.items:
        reference = port_reference(item)
        if reference:
            yield from _port_contradictions(item.tag, reference, items, taken)
        if isinstance(item, Hose) and isinstance(items.get(item.to or ""), Device):
            yield from _fed_twice(item, items, fed)


def _port_contradictions(tag: str, reference: str, items: dict[str, Item], taken: dict[str, str]) -> Iterator[Words]:
    stage_tag, name = split_port(reference)
    stage = items.get(stage_tag)
    place = f"{stage_tag} {name}"
    if not isinstance(stage, FirstStage):
        yield words(Tag(tag), " leaves from ", Tag(reference), ", but there is no first stage ", Tag(stage_tag), ".")
    elif name not in ports_of(stage):
        known = ", ".join(ports_of(stage)) or "not known"
        yield words(
            Tag(tag),
            " leaves from ",
            Tag(reference),
            ", but ",
            Tag(stage_tag),
            " has no port ",
            Tag(name),
            f". Its ports are: {known}.",
        )
    elif place in taken:
        yield words(Tag(reference), " is used twice: by ", Tag(taken[place]), " and by ", Tag(tag), ".")
    taken.setdefault(place, tag)


def _in_two_places(kit: ResolvedKit) -> Iterator[Words]:
    """Give items of the kit that are said to be one item of the gear file."""
    first: dict[tuple[str, str], str] = {}
    for item in kit.items:
        if item.owned and not isinstance(item, Lead):
            other = first.setdefault((item.kind, item.owned), item.tag)
            if other != item.tag:
                both = Tag(other), " and ", Tag(item.tag)
                yield words(*both, " are both ", Tag(item.owned), " of the gear file, which is one item.")


def _fed_twice(hose: Hose, items: dict[str, Item], fed: dict[str, str]) -> Iterator[Words]:
    assert hose.to is not None
    if hose.to in fed:
        yield words(Tag(hose.to), " is fed twice: by ", Tag(fed[hose.to]), " and by ", Tag(hose.tag), ".")
    elif port_reference(items[hose.to]):
        yield words(Tag(hose.to), " sits in a port, and ", Tag(hose.tag), " feeds it as well.")
    fed.setdefault(hose.to, hose.tag)
