"""What the rules read: the kit, and what connects to what in it."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.figures import Weight
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.fit.measures import Wearer
from kitbuilder.assess.gas.breathing import GasUse, gas_uses
from kitbuilder.assess.gas.feeds import cylinders_behind_each
from kitbuilder.assess.gas.oxygen_clean import GasContact, gas_contacts
from kitbuilder.assess.gas.seating import Seat, seat_of
from kitbuilder.assess.hoses.ports import Port, port_at, port_reference, ports_of
from kitbuilder.assess.water import Water
from kitbuilder.kit.items import Cylinder, FirstStage, Item, split_port
from kitbuilder.kit.resolved import ResolvedKit


class Context(NamedTuple):
    """One kit, with everything a rule needs to know about it."""

    kit: ResolvedKit
    water: Water
    wearer: Wearer
    hoses: tuple[HoseFigures, ...]
    if_all: dict[str, Weight]
    """The weight of all hoses, were all of one body."""
    numbers: dict[str, int]
    """The number of each item, by tag."""
    ports: dict[str, dict[str, Port]]
    """The ports of each first stage, by tag and name; a first stage whose ports are not known is missing."""
    users: dict[tuple[str, str], tuple[int, ...]]
    """The numbers of the items in each port, by tag and name."""
    weights: tuple[Weight | None, ...]
    """Of each item, in the order of the kit; None where it is not known."""
    balance: Balance | None
    behind: dict[str, tuple[Cylinder, ...]]
    """The cylinders whose gas reaches each first stage, by tag; empty where they are not known."""
    gas_uses: tuple[GasUse, ...]
    """The gas of each cylinder that is breathed from."""
    gas_contacts: dict[str, GasContact]
    """What gas each part meets, by tag; a part that no gas is known to reach is missing."""
    seats: dict[int, Seat]
    """How each first stage sits on its valve, by number; one whose connection is not known is missing."""

    def item(self, tag: str | None) -> Item | None:
        """Give the item with a tag; None when there is none."""
        number = self.numbers.get(tag or "")
        return None if number is None else self.kit.items[number]

    def port_of(self, reference: str | None) -> Port | None:
        """Give the port a reference names; None when there is no such port or it is not known."""
        return port_at(reference, self.item)


def make_context(  # noqa: PLR0913 - what each step before the rules gave
    kit: ResolvedKit,
    water: Water,
    wearer: Wearer,
    hoses: tuple[HoseFigures, ...],
    if_all: dict[str, Weight],
    weights: tuple[Weight | None, ...],
    balance: Balance | None,
) -> Context:
    """Make the context of a kit."""
    first_stages = [item for item in kit.items if isinstance(item, FirstStage)]
    ports = {stage.tag: known for stage in first_stages if (known := ports_of(stage))}
    users: dict[tuple[str, str], list[int]] = defaultdict(list)
    for number, item in enumerate(kit.items):
        if reference := port_reference(item):
            users[split_port(reference)].append(number)
    behind = cylinders_behind_each(kit)
    seats = {
        number: seat
        for number, item in enumerate(kit.items)
        if isinstance(item, FirstStage) and (seat := seat_of(item, kit, behind[item.tag]))
    }
    return Context(
        kit=kit,
        water=water,
        wearer=wearer,
        hoses=hoses,
        if_all=if_all,
        numbers={item.tag: number for number, item in enumerate(kit.items)},
        ports=ports,
        users={place: tuple(found) for place, found in users.items()},
        weights=weights,
        balance=balance,
        behind=behind,
        gas_uses=gas_uses(kit, water),
        gas_contacts=gas_contacts(kit),
        seats=seats,
    )


TAKEN, PLUGGED, FREE = "taken", "plugged", "free"
"""What may be said of a port."""


class PortState(NamedTuple):
    """A port of a kit, and what is in it."""

    reference: str
    """As a hose names it: "right post LP1"."""
    port: Port
    taken_by: tuple[str, ...]
    """The tags of what is in it, in the order of the file: several where a file fills a port twice; empty when nothing
    is, or a plug."""
    is_plugged: bool
    """Whether the file says so, of a port that is taken as well."""

    @property
    def state(self) -> str:
        """`TAKEN`, `PLUGGED` or `FREE`: what is screwed in counts before a plug that the file says is there."""
        if self.taken_by:
            return TAKEN
        return PLUGGED if self.is_plugged else FREE


def port_states(items: Sequence[Item]) -> Iterator[PortState]:
    """List every known port of the first stages, in the order of the file, with what is in it."""
    for stage in items:
        if isinstance(stage, FirstStage):
            yield from port_states_of(stage, items)


def port_states_of(stage: FirstStage, items: Sequence[Item]) -> Iterator[PortState]:
    """List the ports of one first stage with what is in each; none when they are not known."""
    taken: dict[str, tuple[str, ...]] = {}
    for item in items:
        if reference := port_reference(item):
            taken[reference] = (*taken.get(reference, ()), item.tag)
    for name, port in ports_of(stage).items():
        reference = f"{stage.tag} {name}"
        yield PortState(reference, port, taken.get(reference, ()), name in stage.plugged)
