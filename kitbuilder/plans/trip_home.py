"""The way home: the same bags with the water in the gear, and what to dry or move where a limit then may not hold."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import inf
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, total
from kitbuilder.assess.findings import About, Amount, Finding, Signal, Tag, Word, words
from kitbuilder.kit.resolved_trip import ResolvedTrip
from kitbuilder.plans.packing.chance import ROOM, reached_at_most
from kitbuilder.plans.packing.charges import raised
from kitbuilder.plans.packing.limits import CABIN_TOTAL, HOLD_TOTAL, limit_of, places_of, totals_of
from kitbuilder.plans.packing.packing import PackedBag, Packing, Use
from kitbuilder.plans.packing.records import Bag, Leg, PackItem
from kitbuilder.plans.trip_weights import TripItem

RULE = "way home"


class Limited(NamedTuple):
    """What a limit is of: a bag may be called like a limit of several."""

    bag: str
    """Empty for several bags."""
    what: str
    """Which bags it counts; empty for one bag."""


class BagHome(NamedTuple):
    """A bag on the way home, with what it held on the way out."""

    bag: Bag
    mass: Figure
    """With the water in the gear [kg]."""
    use: Use | None
    """Of the strictest limit of the legs home; None where there is none."""


class HomeItem(NamedTuple):
    """An item that is brought, and where it is."""

    item: TripItem
    packed: PackItem
    bag: str
    """Empty for none."""

    @property
    def masses(self) -> Iterator[Figure]:
        """What it adds to its bag on the way home [kg]."""
        assert self.item.mass is not None, "what is packed has a mass"
        yield self.item.mass
        if self.item.water:
            yield self.item.water


class WayHome(NamedTuple):
    """The bags on the way home."""

    packing: Packing
    legs: tuple[Leg, ...]
    """Of the way home."""
    items: tuple[HomeItem, ...]

    @property
    def bags(self) -> tuple[BagHome, ...]:
        """The bags that come along, in their order."""
        return tuple(self._bag(packed) for packed in self.packing.bags if packed.items)

    def _bag(self, packed: PackedBag) -> BagHome:
        """Weigh a bag with the water in it; what a leg sold on the way out is taken to be bought again."""
        mass = self.mass_of([packed.bag.tag])
        limit = limit_of(packed.bag, (raised(leg, self.packing.bought, packed.bag.tag) for leg in self.legs))
        return BagHome(packed.bag, mass, Use(limit, mass, self.packing.task.likelihood) if limit else None)

    @property
    def sums(self) -> tuple[Use, ...]:
        """The uses of the limits that count several bags."""
        found = list[Use]()
        for what, limit in totals_of(raised(leg, self.packing.bought, "") for leg in self.legs).items():
            if tags := self.tags_in(places_of(what)):
                found.append(Use(limit, self.mass_of(tags), self.packing.task.likelihood))
        return tuple(found)

    def tags_in(self, places: Iterable[str]) -> list[str]:
        """List the bags of places that come along."""
        among = set(places)
        return [packed.bag.tag for packed in self.packing.bags if packed.items and packed.bag.place in among]

    def mass_of(self, tags: Sequence[str]) -> Figure:
        """Give the mass of bags with all that is in them, as wet as it is [kg]."""
        own = [packed.bag.mass for packed in self.packing.bags if packed.bag.tag in tags]
        inside = [mass for each in self.items if each.bag in tags for mass in each.masses]
        return total((*own, *inside), "sum, and water")

    @property
    def too_much(self) -> Mapping[Limited, Use]:
        """The limits that hold less likely than asked."""
        of_bags = ((Limited(each.bag.tag, ""), each.use) for each in self.bags if each.use)
        of_sums = ((Limited("", use.limit.what), use) for use in self.sums)
        return {limited: use for limited, use in (*of_bags, *of_sums) if use.room_kg < -ROOM}

    def dried(self, tags: Iterable[str]) -> "WayHome":
        """Give the bags with the water of some items gone."""
        gone = set(tags)
        return self._replace(items=tuple(_dry(each) if each.packed.tag in gone else each for each in self.items))

    def moved(self, tag: str, bag: str) -> "WayHome":
        """Give the bags with one item in another one."""
        items = (each._replace(bag=bag) if each.packed.tag == tag else each for each in self.items)
        return self._replace(items=tuple(items))


def _dry(each: HomeItem) -> HomeItem:
    return each._replace(item=each.item._replace(water=None))


def way_home(packing: Packing, where: Iterable[tuple[TripItem, PackItem, str]], legs: Iterable[Leg]) -> WayHome:
    """Give the bags of a packing on the way home.

    Args:
        packing: Of the way out.
        where: Each item that is brought, as it is packed, and its bag.
        legs: Of the way home.
    """
    return WayHome(packing, tuple(legs), tuple(HomeItem(*each) for each in where))


# ---- what to do where a limit may not hold ----


def findings_of_way_home(home: WayHome, trip: ResolvedTrip) -> tuple[Finding, ...]:
    """Name each limit that may not hold on the way home, and what to dry or move so that it does."""
    number_of = {entry.tag: number for number, entry in enumerate(trip.items) if entry in trip.bags}
    return tuple(_finding(home, limited, use, number_of) for limited, use in home.too_much.items())


def _finding(home: WayHome, limited: Limited, use: Use, number_of: Mapping[str, int]) -> Finding:
    who = "the bag" if limited.bag else SUM_WORDS.get(limited.what, "hold and cabin together")
    below, above = use.mass.sides
    mass = About(use.mass.value, use.mass.value - below, use.mass.value + above, "mass")
    limit = Amount(use.limit.most_kg, "mass")
    what = words(f"{who} may be too heavy on the way home: ", mass, "; the limit is ", limit)
    why = words("The same bags come home with the water in the gear.")
    inside = [limited.bag] if limited.bag else home.tags_in(places_of(limited.what))
    do = words(*_do(_wettest(home, limited, inside), _move(home, limited, use, inside)))
    return Finding(Signal.WARNING, number_of.get(limited.bag), None, what, why, do, RULE)


SUM_WORDS = {HOLD_TOTAL: "all bags in the hold together", CABIN_TOTAL: "all bags in the cabin together"}


def _do(dry: tuple[str, ...], move: tuple[str, str] | None) -> Iterator[Word]:
    if dry:
        yield "Dry "
        for number, tag in enumerate(dry):
            yield from (", " if number else "", Tag(tag))
        yield " well before you pack"
    if move:
        yield from (", or move " if dry else "Move ", Tag(move[0]), " into ", Tag(move[1]), " on the way home")
    if not dry and move is None:
        yield "No drying and no single move is enough: leave something there, or buy a higher limit for the way home"
    yield "."


def _wettest(home: WayHome, limited: Limited, inside: Sequence[str]) -> tuple[str, ...]:
    """List the wettest items that have to be dry so that a limit holds; none where all of them are not enough."""
    wet = [(each.item.water.value, each.packed.tag) for each in home.items if each.bag in inside and each.item.water]
    tags = [tag for _, tag in sorted(wet, reverse=True)]
    for count in range(1, len(tags) + 1):
        if limited not in home.dried(tags[:count]).too_much:
            return tuple(tags[:count])
    return ()


def _move(home: WayHome, limited: Limited, use: Use, inside: Sequence[str]) -> tuple[str, str] | None:
    """Find the lightest item that makes a limit hold in another bag, and that bag; None where no single move does.

    What had better be where it is comes last.
    """
    before, room_kg = set(home.too_much), {each.bag.tag: each.use.room_kg for each in home.bags if each.use}
    moves = [
        (packed.bag.place not in each.packed.better, _mass_kg(each), each.packed.tag, packed.bag.tag)
        for each in home.items
        if each.bag in inside and not each.packed.pinned
        # What is lighter than the excess, with its margin, changes too little.
        if reached_at_most(total(each.masses, ""), use.likelihood) >= -use.room_kg
        for packed in home.packing.bags
        if packed.items and packed.bag.tag not in inside and packed.has_room_for(each.packed)
        if _mass_kg(each) <= room_kg.get(packed.bag.tag, inf)
    ]
    for _, _, tag, there in sorted(moves):
        after = home.moved(tag, there).too_much
        if limited not in after and set(after) <= before:
            return tag, there
    return None


def _mass_kg(each: HomeItem) -> float:
    return sum(mass.value for mass in each.masses)
