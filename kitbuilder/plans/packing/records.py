"""What is packed, into which bags, and what the legs of the journey allow.

Nothing here knows a file: what may be packed where is decided before, and comes as rules that each item carries.
One packing counts for all legs, because nobody packs again between two flights.
"""

from typing import NamedTuple

from kitbuilder.assess.figures import Figure

HOLD, CABIN, BODY = "hold", "cabin", "body"
PLACES = (HOLD, CABIN, BODY)
IN_BAGS = frozenset((HOLD, CABIN))
"""Where an item may go by default: nothing is worn through an airport that nobody asked for."""

LEAVE, RENT, WEAR, SWAP = "leave", "rent", "wear", "swap"
VITAL, NEEDED, EXTRA = "vital", "needed", "extra"
NEEDS = (VITAL, NEEDED, EXTRA)
"""How much an item is needed: what nothing there may replace, what the dive takes as well, and all else. Where room is
short, what is needed least has to wait."""
USUAL_LIKELIHOOD = 0.95


class PlacementRule(NamedTuple):
    """A rule that limits where an item may go, as it was decided for this item."""

    rule: str
    """Its id."""
    places: frozenset[str]
    """Where the item may go by this rule; none: it may not fly."""
    why: str
    """The reason, a sentence."""
    needs_approval: bool = False
    """Whether the airline has to agree first."""
    leg: str = ""
    """The leg that it is a rule of; empty for all."""


class Option(NamedTuple):
    """What can be done with an item instead of packing it as it is."""

    kind: str
    """Leave, rent, wear or swap."""
    price: float | None = None
    """What it costs, 0 or above; None when that is not given. Of an item left behind: what it is worth to have it."""
    instead: Figure | None = None
    """The mass of what is packed in its place [kg]; None when nothing is."""
    volume_m3: float | None = None
    """Of what is packed in its place."""
    name: str = ""
    """What is taken in its place."""


class PackItem(NamedTuple):
    """One item to pack."""

    tag: str
    mass: Figure
    """[kg]; items that share a source of uncertainty are heavy or light together."""
    volume_m3: float | None = None
    """None when it is not known: then it takes no room, which the answer says."""
    may_go: frozenset[str] = IN_BAGS
    """Where the traveller would have it; rules narrow this."""
    rules: tuple[PlacementRule, ...] = ()
    pinned: str = ""
    """The bag in which it has to be; empty for any."""
    options: tuple[Option, ...] = ()
    advice: tuple[PlacementRule, ...] = ()
    """Where it had better go: it gives way to every limit."""
    need: str = EXTRA
    """One of `NEEDS`."""

    @property
    def places(self) -> frozenset[str]:
        """Where it may go by all its rules."""
        return self.may_go.intersection(*(rule.places for rule in self.rules))

    @property
    def better(self) -> frozenset[str]:
        """Where it had better go, as far as it may; everywhere where the advice leaves no place."""
        return self.places.intersection(*(rule.places for rule in self.advice)) or self.places

    @property
    def needs_approval(self) -> bool:
        """Whether an airline has to agree."""
        return any(rule.needs_approval for rule in self.rules)


class Bag(NamedTuple):
    """One bag, or the pockets of a jacket that is worn."""

    tag: str
    place: str
    """Hold, cabin or body."""
    mass: Figure
    """Of the empty bag [kg]."""
    volume_m3: float | None = None
    edges_m: tuple[float, float, float] | None = None
    """The three edges when packed; None when they are not known: then its size is not checked."""
    most_kg: float | None = None
    """What it may weigh by itself: what it is built for, or what its owner can lift."""


class Leg(NamedTuple):
    """What one leg of the journey allows; None where it names no limit."""

    tag: str
    hold_piece_kg: float | None = None
    hold_total_kg: float | None = None
    hold_pieces: int | None = None
    hold_edges_m: float | None = None
    """The most that the three edges of a piece may come to together."""
    handling_kg: float | None = None
    """Above this no piece of the hold is taken, whatever is paid."""
    cabin_piece_kg: float | None = None
    cabin_total_kg: float | None = None
    cabin_pieces: int | None = None
    cabin_edges_m: tuple[float, float, float] | None = None
    """The edges of the gauge that a piece has to fit in."""
    total_kg: float | None = None
    """Of hold and cabin together."""
    price_per_kilogram: float | None = None
    """Of each kilogram begun above a limit of the hold, up to the handling limit; None where nothing can be bought."""
    price_per_piece: float | None = None
    """Of each further piece in the hold; None where none can be bought."""


class PackingTask(NamedTuple):
    """All that is to be packed."""

    items: tuple[PackItem, ...]
    bags: tuple[Bag, ...]
    legs: tuple[Leg, ...] = ()
    likelihood: float = USUAL_LIKELIHOOD
    """How likely each limit has to hold [1], from one half."""


class Placement(NamedTuple):
    """Where an item is in a packing: in a bag, or not packed as it is."""

    bag: str = ""
    """Empty when nothing of it is packed."""
    option: Option | None = None
    """What is done instead of packing it as it is."""

    @property
    def is_missing(self) -> bool:
        """Whether the item should come along, and found no place."""
        return not self.bag and self.option is None
