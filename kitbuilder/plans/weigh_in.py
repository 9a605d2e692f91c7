"""The weigh-in: every item with its mass, its buoyancy and its share in the uncertainty of the lead, in an order."""

from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.buoyancy.lead_shares import LeadShares, share_lead
from kitbuilder.assess.figures import Figure, Weight, total
from kitbuilder.kit.fields import Field, fields_of
from kitbuilder.kit.items import Item, Lead
from kitbuilder.kit.spare import in_hand

READINGS = ("mass", "buoyancy")
"""The keys of an item that take the reading of a scale: dry, and in fresh water."""


class WeighedItem(NamedTuple):
    """One row of the table."""

    number: int
    """Of the item in the kit."""
    item: Item
    mass: Figure | None
    """Dry, a cylinder filled [kg]; None when it is not known."""
    buoyancy: Figure | None
    """In the water of the kit, at the surface [kgf]; None when it is not known."""
    share: float | None
    """Its part of the variance of the lead, from 0 to 1; None of lead, and where the lead is not known."""


class WeighIn(NamedTuple):
    """All items of a kit, and what they are together."""

    assessment: Assessment
    order: str
    """A key of `ORDERS`."""
    rows: tuple[WeighedItem, ...]
    shares: LeadShares | None
    """None where the lead is not known."""
    bring: Weight
    """What is neither rented nor lead."""
    rented: Weight
    """What is rented, without lead."""
    lead: Weight
    """All lead of the kit, rented or not."""

    @property
    def has_rented(self) -> bool:
        """Whether anything but lead is rented."""
        return any(map(_is_rented, self.assessment.kit.items))

    @property
    def has_lead(self) -> bool:
        """Whether the kit has lead."""
        return any(map(_is_lead, self.assessment.kit.items))


def plan_weigh_in(assessment: Assessment, order: str = "file", kept: Sequence[int] = ()) -> WeighIn:
    """Make the table of all items.

    Args:
        assessment: The kit.
        order: A key of `ORDERS`; what is not known comes last.
        kept: Numbers of items in the order to keep instead, while readings are typed; items that are not among them
            come last.
    """
    shares = share_lead(assessment.balance) if assessment.balance else None
    rows = [_row(assessment, number, shares) for number in range(len(assessment.kit.items))]
    places = {number: place for place, number in enumerate(kept)}
    rows.sort(key=lambda row: places.get(row.number, len(places)) if kept else ORDERS[order](row))
    return WeighIn(
        assessment,
        order,
        tuple(rows),
        shares,
        _together(assessment, "what is brought along", lambda item: not _is_lead(item) and not _is_rented(item)),
        _together(assessment, "what is rented", _is_rented),
        _together(assessment, "lead of the kit", _is_lead),
    )


def reading_field(item: Item, reading: str) -> Field | None:
    """Give the key of an item that takes a reading of `READINGS`; None for an item that is not weighed so."""
    return next((field for field in fields_of(type(item)) if field.key == reading), None)


def _row(assessment: Assessment, number: int, shares: LeadShares | None) -> WeighedItem:
    weight = assessment.weights[number]
    return WeighedItem(
        number,
        in_hand(assessment.kit.items[number]),
        assessment.masses[number],
        weight.buoyancy if weight else None,
        shares.items.get(number) if shares else None,
    )


def _together(assessment: Assessment, origin: str, is_meant: Callable[[Item], bool]) -> Weight:
    numbers = [number for number, item in enumerate(assessment.kit.items) if is_meant(item)]
    masses = (assessment.masses[number] for number in numbers)
    weights = (assessment.weights[number] for number in numbers)
    return Weight(_known(masses, origin), _known((weight.buoyancy for weight in weights if weight), origin))


def _known(figures: Iterable[Figure | None], origin: str) -> Figure:
    return total((figure for figure in figures if figure), origin)


def _is_lead(item: Item) -> bool:
    return isinstance(item, Lead)


def _is_rented(item: Item) -> bool:
    return bool(item.rented) and not _is_lead(item)


Rank = tuple[bool, float | str]


def _largest_first(value: float | None) -> Rank:
    return (True, 0.0) if value is None else (False, -value)


def _by_origin(*figures: Figure | None) -> Rank:
    origins = [figure.origin for figure in figures if figure]
    return not origins, "; ".join(origins)


def _by_value(figure: Figure | None) -> Rank:
    return _largest_first(figure.value if figure else None)


def _by_spread(figure: Figure | None) -> Rank:
    return _largest_first(figure.spread if figure else None)


ORDERS: dict[str, Callable[[WeighedItem], Rank]] = {
    "file": lambda row: (False, row.number),
    "item": lambda row: (False, row.item.tag.casefold()),
    "mass": lambda row: _by_value(row.mass),
    "mass-uncertainty": lambda row: _by_spread(row.mass),
    "buoyancy": lambda row: _by_value(row.buoyancy),
    "buoyancy-uncertainty": lambda row: _by_spread(row.buoyancy),
    "from": lambda row: _by_origin(row.mass, row.buoyancy),
    "share": lambda row: _largest_first(row.share),
}
"""What the table can be sorted by: as in the file, or a column; numbers with the largest first, words by alphabet."""
