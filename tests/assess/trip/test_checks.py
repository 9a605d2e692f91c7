"""What is wrong with a trip: each finding by a trip that has it, and a sound trip that has none."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from kitbuilder.assess.findings import Finding, Signal
from kitbuilder.assess.trip.checks import findings_of_trip
from kitbuilder.kit.entry import Entry
from kitbuilder.kit.items import Cylinder, Header, Item, Kit, Lead, Other
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.kit.resolved_trip import ResolvedTrip, TripKit
from kitbuilder.kit.trip import Bag, Leave, Leg, Luggage, Option, OwnRule, Pin, Rent, TripHeader

ITEMS = (
    Cylinder(tag="cylinder", preset="steel 12 L 232 long"),
    Lead(tag="belt", mass_kg=1),
    Other(tag="knife", preset="knife"),
)
BAG = Bag(tag="duffel", goes="hold", mass_kg=2.6)
RENTALS = (Rent(every="cylinder"), Rent(every="lead"))


def trip(
    *entries: Entry, items: tuple[Item, ...] = ITEMS, problems: tuple[str, ...] = (), **header: Any
) -> ResolvedTrip:
    """A trip with one kit, which rents its cylinder and its lead."""
    kit = resolve(Kit(Header(format=1, name="kit", layout="single"), items), LinkedFiles())
    kits = (TripKit("kit.toml", None if problems else kit, problems),)
    head = TripHeader(**({"format": 1, "holds": "trip", "name": "x", "kits": ("kit.toml",)} | header))
    return ResolvedTrip(head, (*RENTALS, *entries), kits)


def said(finding: Finding) -> str:
    return "".join(str(getattr(piece, "value", piece)) for piece in finding.what)


def test_a_sound_trip_has_no_finding() -> None:
    """Pins of items and of luggage, of one kit and of each."""
    sound = trip(
        BAG,
        Leg(tag="flight", hold_piece_kg=23),
        Luggage(tag="clothes", mass_kg=5, bag="duffel"),
        Pin(item="knife", bag="duffel", kit="kit.toml"),
        Pin(item="clothes", bag="duffel"),
        Luggage(tag="jumper", mass_kg=1),
        Option(item="jumper", do="wear"),
        OwnRule(item="jumper", goes="cabin"),
    )
    assert findings_of_trip(sound) == ()


@pytest.mark.parametrize(
    ("found", "signal", "key", "part"),
    [
        (trip(BAG, problems=("kit.toml is not in this folder.",)), Signal.WARNING, "kits", "is not in this folder"),
        (trip(BAG, divers=("a.toml", "b.toml")), Signal.CAUTION, "divers", "there are 2 divers and 1 kits"),
        (trip(BAG, from_=date(2031, 5, 2), to=date(2031, 5, 1)), Signal.CAUTION, "to", "before it begins"),
        (trip(), Signal.WARNING, None, "the trip has no bag"),
        (trip(BAG, Leave(item="nife")), Signal.WARNING, "item", "have no item nife"),
        (trip(BAG, Leave(item="knife", kit="other.toml")), Signal.WARNING, "kit", "the kit other.toml does not travel"),
        (trip(BAG, Leave(item="cylinder"), Rent(item="cylinder")), Signal.CAUTION, "item", "is rented and left"),
        (trip(BAG, Rent()), Signal.WARNING, None, "neither item nor every"),
        (trip(BAG, Rent(item="knife", every="lead")), Signal.WARNING, "item", "both item and every"),
        (trip(BAG, Rent(item="knife", preset="steel 12 L 232 long")), Signal.WARNING, "preset", "is not"),
        (trip(BAG, Option(do="rent")), Signal.WARNING, None, "the option has neither item nor every"),
        (trip(BAG, OwnRule(item="knife", every="lead", goes="hold")), Signal.WARNING, "item", "both item and every"),
        (trip(BAG, Option(item="nife", do="leave")), Signal.WARNING, "item", "have no item nife"),
        (trip(BAG, Option(item="belt", do="leave")), Signal.CAUTION, "item", "belt is rented already"),
        (trip(BAG, Option(item="knife", do="leave"), Leave(item="knife")), Signal.CAUTION, "item", "left at home alr"),
        (trip(BAG, Option(item="knife", do="wear")), Signal.CAUTION, "item", "knife may not be worn on board"),
        (trip(BAG, Option(every="other", do="wear")), Signal.CAUTION, "every", "knife may not be worn on board"),
        (
            trip(BAG, Option(item="soap", do="rent"), Luggage(tag="soap", mass_kg=1, bag="duffel")),
            Signal.CAUTION,
            "item",
            "soap has a fixed bag",
        ),
        (trip(BAG, OwnRule(item="knife", goes="nowhere")), Signal.WARNING, "kits", "knife may not fly"),
        (trip(BAG, Pin(item="belt", bag="duffel")), Signal.CAUTION, "item", "has a fixed bag and is rented"),
        (trip(BAG, Leave(item="knife"), Pin(item="knife", bag="duffel")), Signal.CAUTION, "item", "left at home"),
        (trip(BAG, Pin(item="knife", bag="bag")), Signal.WARNING, "bag", "there is no bag bag"),
        (trip(BAG, Luggage(tag="soap", mass_kg=1, bag="bag")), Signal.WARNING, "bag", "there is no bag bag"),
        (
            trip(BAG, Leg(tag="f", hold_total_kg=2)),
            Signal.WARNING,
            "mass",
            "the empty bag weighs 2.6, the limit of f is 2",
        ),
        (trip(BAG, Leg(tag="f", hold_piece_kg=0)), Signal.WARNING, "mass", "is 0"),
        (
            trip(BAG, Luggage(tag="soap", mass_kg=1, sharp=True, bag="soap box")),
            Signal.WARNING,
            "bag",
            "there is no bag soap box",
        ),
        (
            trip(BAG, Luggage(tag="pack", mass_kg=1, battery_j=161 * 3600)),
            Signal.WARNING,
            "battery",
            "pack may not fly",
        ),
        (
            trip(BAG, Leg(tag="f", battery_most_j=90 * 3600)),
            Signal.NOTICE,
            None,
            f"a leg takes no battery above {90 * 3600}",
        ),
        (
            trip(BAG, items=(*ITEMS, Other(tag="lamp", preset="canister torch", battery_j=90 * 3600))),
            Signal.NOTICE,
            "kits",
            "the airline has to approve lamp",
        ),
        (
            trip(BAG, Leg(tag="f"), Luggage(tag="pack", mass_kg=1, battery_j=120 * 3600)),
            Signal.NOTICE,
            "battery",
            "the airline has to approve pack",
        ),
    ],
)
def test_what_is_wrong_is_found(found: ResolvedTrip, signal: Signal, key: str | None, part: str) -> None:
    """Once, under its key."""
    [finding] = findings_of_trip(found)
    assert (finding.signal, finding.key) == (signal, key)
    assert part in said(finding)
    assert finding.rule


def test_a_battery_without_an_energy_is_asked_for() -> None:
    """Of luggage, and of an item whose preset may be in two classes; nothing else is said of it until then."""
    pack = Luggage(tag="pack", mass_kg=1, battery_type="lithium ion")
    lamp = Other(tag="lamp", preset="canister torch")
    found = findings_of_trip(trip(BAG, pack, items=(*ITEMS, lamp)))
    assert [(finding.item, finding.key) for finding in found] == [(3, "battery"), (None, "kits")]
    assert all(finding.signal is Signal.CAUTION and "is not known" in said(finding) for finding in found)


def test_what_every_airline_approved_is_no_finding() -> None:
    lamp = Other(tag="lamp", preset="canister torch", battery_j=90 * 3600)
    approved, silent = Leg(tag="a", approved=("lamp",)), Leg(tag="b")
    assert findings_of_trip(trip(BAG, approved, items=(*ITEMS, lamp))) == ()
    assert len(findings_of_trip(trip(BAG, approved, silent, items=(*ITEMS, lamp)))) == 1


def test_a_trip_without_kits_says_so() -> None:
    """There is then nothing to rent either; that every lead is rented of no kit is no finding of its own."""
    empty = ResolvedTrip(TripHeader(format=1, holds="trip", name="x"), (BAG, *RENTALS), ())
    assert [(finding.key, said(finding)) for finding in findings_of_trip(empty)] == [("kits", "the trip names no kit")]


def test_what_is_left_at_home_or_rented_is_asked_nothing() -> None:
    """A torch without a known battery that does not fly."""
    lamp = Other(tag="lamp", preset="canister torch")
    for entry in (Leave(item="lamp"), Rent(item="lamp")):
        assert findings_of_trip(trip(BAG, entry, items=(*ITEMS, lamp))) == ()


@pytest.mark.parametrize(
    ("luggage", "parts"),
    [
        # two spares above 100 Wh, 20 below, four cartridges: the pages of `tests/catalogue/test_air_rules.py`
        ([("battery_j", 150 * 3600, 2)], []),
        ([("battery_j", 150 * 3600, 3)], ["there are 3, at most 2 for each person: spare battery above 100 Wh"]),
        ([("battery_j", 150 * 3600, 1), ("battery_j", 120 * 3600, 2)], ["there are 3, at most 2"]),
        ([("battery_j", 20 * 3600, 20)], []),
        (
            [("battery_j", 20 * 3600, 20), ("battery_j", 9 * 3600, 1)],
            ["there are 21 spare batteries; at most 20"],
        ),
        # of all sorts together: 15 + 6 cells of lithium metal
        ([("battery_j", 20 * 3600, 15), ("battery_type", "lithium metal", 5)], []),
        ([("battery_j", 20 * 3600, 15), ("battery_type", "lithium metal", 6)], ["there are 21 spare batteries"]),
        ([("cartridges", 4, 1)], []),
        ([("cartridges", 5, 1)], ["there are 5, at most 4 for each person: other gas cartridge"]),
    ],
)
def test_each_person_may_bring_only_so_many(luggage: list[tuple[str, int | str, int]], parts: list[str]) -> None:
    """All of a class together, whichever bag they are in."""
    packed = [
        Luggage(tag=f"pack {number}", mass_kg=1, spare=True, **{key: value, "batteries": count})  # type: ignore[arg-type]
        for number, (key, value, count) in enumerate(luggage)
    ]
    found = [finding for finding in findings_of_trip(trip(BAG, *packed)) if finding.signal is Signal.WARNING]
    assert len(found) == len(parts)
    assert all(part in said(finding) for part, finding in zip(parts, found, strict=True))


def test_two_divers_may_bring_twice_as_many_and_a_leg_may_allow_fewer() -> None:
    pack = Luggage(tag="pack", mass_kg=1, spare=True, battery_j=150 * 3600, batteries=4)
    alone = trip(BAG, pack)
    pair = replace(alone, kits=(*alone.kits, alone.kits[0]._replace(file="other.toml")))
    assert Signal.WARNING not in {finding.signal for finding in findings_of_trip(pair)}
    strict = trip(BAG, Leg(tag="f", spare_batteries=1, approved=("pack",)), pack)
    assert "a leg allows 1 for each person" in said(findings_of_trip(strict)[0])
