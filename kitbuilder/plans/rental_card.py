"""What to ask for where gear is rented: lead for the likely cylinders, suits and waters, inlets and couplings."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.lead_pieces import Pieces, pieces_for
from kitbuilder.assess.figures import Figure, difference
from kitbuilder.assess.gas.seating import connection_of
from kitbuilder.assess.hoses.joints import is_quick_disconnect
from kitbuilder.assess.water import USUAL_WATER
from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.rental import HireCylinder, rental
from kitbuilder.catalogue.swaps import swap_facts
from kitbuilder.kit.item_edit import ItemEdit, of_another_specimen, with_edits
from kitbuilder.kit.items import Cylinder, FirstStage, Suit
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.resolved_trip import ResolvedTrip
from kitbuilder.plans.ballast import ask_ballast, swappable
from kitbuilder.plans.kept_checks import with_checks_of
from kitbuilder.plans.rented_there import kit_there

WATERS = ("ocean", "salty sea", "fresh")
"""Waters that a card tells apart, beside the one that is there."""
MAIN_CUTS = ("full suit", "two-piece", "shorty")
"""Cuts of the suit that another thickness is asked of; what is worn beside it stays."""


class PiecesToTake(NamedTuple):
    """Pieces of lead out of those that are likely there."""

    cast_in: str
    """ "kilograms" or "pounds"."""
    take: Pieces
    """For the lead that is needed, less what a breath makes up for."""
    ready: Pieces | None
    """For what holds the stop with a certainty of 95 %; None where the pieces to take do."""


class CylinderLead(NamedTuple):
    """The lead with one kind of cylinder."""

    cylinder: str
    """A preset of the catalogue."""
    is_of_trip: bool
    """Whether the trip names it as what is rented."""
    balance: Balance
    pieces: tuple[PiecesToTake, ...]
    """For each kind of pieces."""


class LeadChange(NamedTuple):
    """What another suit or water does to the lead."""

    what: str
    brief: str
    """The same where there is little room."""
    change: Figure
    """[kg]"""


class InletAnswer(NamedTuple):
    """Whether first stages go on an outlet that is likely there."""

    connection: str
    tags: tuple[str, ...]
    outlet: str
    fits: str
    """ "yes", "no", "adapter" or "unknown"; empty where the catalogue does not list the pair."""
    note: str


class Coupling(NamedTuple):
    """What a hose that is rented has to have."""

    tag: str
    """Of what it feeds."""
    inlet: str
    end: str
    """The end of the hose that joins it now."""


class RentalCard(NamedTuple):
    """The card of one kit."""

    kit: ResolvedKit
    file: str
    """Of the kit in a trip; empty for a kit by itself."""
    water: str
    cylinders: int
    """How many cylinders of a kind the lead is for."""
    leads: tuple[CylinderLead, ...]
    """None when the balance cannot be worked out."""
    suits: tuple[LeadChange, ...]
    """Suits of other thickness, with the first cylinder."""
    waters: tuple[LeadChange, ...]
    """Other waters, with the first cylinder."""
    inlets: tuple[InletAnswer, ...]
    without_connection: tuple[str, ...]
    """The tags of first stages whose connection is not known."""
    couplings: tuple[Coupling, ...]


def make_card(kit: ResolvedKit, rented: Sequence[str] = (), file: str = "") -> RentalCard:
    """Make the card of a kit in its own water.

    Args:
        kit: The kit, in the water that is there.
        rented: Presets of cylinders that are there for certain; they come first.
        file: The file of the kit in a trip.
    """
    assessment = assess(kit)
    known = {each.name for each in rental().cylinders}
    hired = (*(HireCylinder(name, (), "the trip") for name in rented if name not in known), *rental().cylinders)
    ordered = sorted(hired, key=lambda each: each.name not in rented)
    names = [each.name for each in ordered]
    water = kit.header.water or USUAL_WATER
    leads = tuple(_leads(kit, water, names, rented)) if swappable(kit) else ()
    return RentalCard(
        kit=kit,
        file=file,
        water=water,
        cylinders=sum(isinstance(item, Cylinder) and item.carried != "stage" for item in kit.items),
        leads=leads,
        suits=tuple(_other_suits(kit, water, names[0])) if leads else (),
        waters=tuple(_other_waters(kit, water, names[0])) if leads else (),
        inlets=tuple(_inlets(kit, ordered)),
        without_connection=tuple(stage.tag for stage in _own_stages(kit) if connection_of(stage) is None),
        couplings=tuple(_couplings(assessment)),
    )


def make_trip_cards(trip: ResolvedTrip) -> tuple[RentalCard, ...]:
    """Make a card for each kit of a trip that can be read: in its water, with what the trip rents and leaves."""
    rented = [entry.preset for entry in trip.rents if entry.preset in catalogue().cylinders]
    names = tuple(dict.fromkeys(name for name in rented if name))
    return tuple(make_card(kit_there(trip, each), names, each.file) for each in trip.kits if each.kit)


# ---- lead ----


def _leads(kit: ResolvedKit, water: str, names: Sequence[str], rented: Sequence[str]) -> Iterator[CylinderLead]:
    for answer in ask_ballast(kit, [water], names).answers:
        if answer.cylinder is not None:
            pieces = tuple(_pieces(answer.balance, each.name, each.sizes_kg) for each in rental().lead)
            yield CylinderLead(answer.cylinder, answer.cylinder in rented, answer.balance, pieces)


def _pieces(balance: Balance, cast_in: str, sizes_kg: tuple[float, ...]) -> PiecesToTake:
    breath = catalogue().limits["breath_makes_up"].value
    take = pieces_for(balance.lead.value - breath, sizes_kg)
    ready = pieces_for(balance.certain_kg, sizes_kg)
    return PiecesToTake(cast_in, take, ready if ready.mass_kg > take.mass_kg else None)


def _other_suits(kit: ResolvedKit, water: str, cylinder: str) -> Iterator[LeadChange]:
    """Give the change of the lead for the suit in the other thicknesses that are sold."""
    number = next((n for n, item in enumerate(kit.items) if isinstance(item, Suit) and item.cut in MAIN_CUTS), None)
    if number is None:
        return
    suit = kit.items[number]
    assert isinstance(suit, Suit)
    now = _lead(kit, water, cylinder)
    for size in sorted(swap_facts().foam.thickness_m):
        if abs(size - suit.thickness_m) > 1e-6:
            own = kit.unresolved.items[number]
            edit = ItemEdit(number, of_another_specimen(own) | {"thickness_m": size, "owned": None})
            other = with_edits(kit, [edit], with_checks_of(kit))
            yield LeadChange(
                f"{suit.cut}, {size * 1e3:g} mm", f"{size * 1e3:g} mm", _change(_lead(other, water, cylinder), now)
            )


def _other_waters(kit: ResolvedKit, water: str, cylinder: str) -> Iterator[LeadChange]:
    now = _lead(kit, water, cylinder)
    for other in WATERS:
        if other != water:
            yield LeadChange(other, other, _change(_lead(kit, other, cylinder), now))


def _lead(kit: ResolvedKit, water: str, cylinder: str) -> Figure:
    answer = ask_ballast(kit, [water], [cylinder]).answer(water, cylinder)
    assert answer is not None, "the lead was worked out before"
    return answer.balance.lead


def _change(after: Figure, before: Figure) -> Figure:
    return difference(after, before, "lead after less lead before")


# ---- inlets and couplings ----


def _own_stages(kit: ResolvedKit) -> tuple[FirstStage, ...]:
    return tuple(item for item in kit.items if isinstance(item, FirstStage) and not item.rented)


def _inlets(kit: ResolvedKit, cylinders: Sequence[HireCylinder]) -> Iterator[InletAnswer]:
    """Say of each connection which outlets of the likely cylinders it goes on."""
    by_connection: dict[str, list[str]] = {}
    for stage in _own_stages(kit):
        if name := connection_of(stage):
            by_connection.setdefault(name, []).append(stage.tag)
    outlets = dict.fromkeys(outlet for cylinder in cylinders for outlet in cylinder.outlets)
    for connection, tags in by_connection.items():
        for outlet in outlets:
            seating = catalogue().seatings.get((connection, outlet))
            fits, note = (seating.fits, seating.note) if seating else ("", "")
            yield InletAnswer(connection, tuple(tags), outlet, fits, note)


def _couplings(assessment: Assessment) -> Iterator[Coupling]:
    """Give what a rented hose has to have to click on what is fed by hand."""
    for hose in assessment.hoses:
        joints = hose.joints
        if joints.device is not None and joints.inlet is not None and is_quick_disconnect(joints.inlet.joint):
            yield Coupling(joints.device.tag, joints.inlet.name, joints.hose.to_end or "")
