"""A gear file and the kits of its folder: where each item is used, and what each kit still needs."""

from collections import defaultdict
from collections.abc import Iterable
from typing import NamedTuple

from kitbuilder.assess.gas.oxygen_clean import GasContact, gas_contacts
from kitbuilder.assess.gear.shortage import Shortage, allocate_from
from kitbuilder.kit.gear import Gear
from kitbuilder.kit.items import Kit
from kitbuilder.kit.resolved import ResolvedKit, resolve


class Use(NamedTuple):
    """One place in which an item of the gear file is used."""

    file: str
    """The file name of the kit."""
    tag: str
    """Of the item in that kit."""


Uses = dict[str, tuple[Use, ...]]
"""Where the items of a gear file are used, by their tags there; what is used nowhere is missing."""


class Needs(NamedTuple):
    """One kit held against a gear file."""

    name: str
    """What the kit is called."""
    taken: tuple[tuple[str, str], ...]
    """The tags, in the kit and in the gear file, of what is taken."""
    shortages: tuple[Shortage, ...]
    """What has to be bought: single items in the order of the kit, then plugs, adapters and lead."""


def uses_of(gear: Gear, kits: Iterable[tuple[str, Kit]]) -> Uses:
    """Say where the items of a gear file are used.

    Args:
        gear: The gear file.
        kits: The kits that name it, by file name.
    """
    known = {(entry.kind, entry.tag) for entry in gear.items}
    uses: dict[str, list[Use]] = defaultdict(list)
    for file, kit in kits:
        for item in kit.items:
            if item.owned and (item.kind, item.owned) in known:
                uses[item.owned].append(Use(file, item.tag))
    return {tag: tuple(found) for tag, found in uses.items()}


def kits_using(uses: Uses) -> dict[str, tuple[str, ...]]:
    """Give the kits that use an item, each once, by its tag."""
    return {tag: tuple(dict.fromkeys(use.file for use in found)) for tag, found in uses.items()}


def contacts_of(kits: Iterable[tuple[str, ResolvedKit]]) -> dict[str, tuple[tuple[str, GasContact], ...]]:
    """Give the gases that items of the gear file meet, by their tags there: the file name of the kit, and the gas.

    Args:
        kits: The kits that name it, by file name.
    """
    found: dict[str, list[tuple[str, GasContact]]] = defaultdict(list)
    for file, kit in kits:
        contacts = gas_contacts(kit)
        for item in kit.items:
            if item.owned and item.tag in contacts:
                found[item.owned].append((file, contacts[item.tag]))
    return {tag: tuple(pairs) for tag, pairs in found.items()}


def needs_of(kit: ResolvedKit, gear: Gear) -> Needs:
    """Give what a kit needs and a gear file lacks, and what it takes from there.

    Args:
        kit: The kit.
        gear: The gear file, which may be another than the one the kit names.
    """
    allocation = allocate_from(gear, resolve(kit.unresolved, kit.linked._replace(gear=gear), kit.lines))
    taken = tuple((kit.items[number].tag, tag) for number, tag in allocation.taken)
    return Needs(kit.header.name, taken, allocation.shortages)
