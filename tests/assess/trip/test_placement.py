"""Where items may travel. Limits are those of the published pages that `tests/catalogue/test_air_rules.py` names."""

import pytest

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.trip.facts import travelling, wet_mass
from kitbuilder.assess.trip.placement import battery_limits, place_item
from kitbuilder.kit.items import Cylinder, FirstStage, Gauge, Hose, Item, Jacket, Lead, Other, Suit, Transmitter
from kitbuilder.kit.trip import Leg, Luggage

WH = 3600.0
EVERYWHERE = {"cabin", "hold", "body"}


def leg(name: str = "flight", **values: object) -> Leg:
    return Leg(tag=name, **values)  # type: ignore[arg-type]


def torch(energy_wh: float | None = None, **values: object) -> Other:
    energy_j = None if energy_wh is None else energy_wh * WH
    return Other(tag="torch", preset="canister torch", battery_j=energy_j, **values)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("item", "may_go", "better", "approval"),
    [
        (FirstStage(tag="first"), EVERYWHERE, {"cabin", "body"}, False),
        (Lead(tag="belt", mass_kg=1), EVERYWHERE, EVERYWHERE, False),
        (Other(tag="knife", preset="knife"), {"hold"}, {"hold"}, False),
        (Other(tag="butter knife", preset="knife", sharp=False), EVERYWHERE, EVERYWHERE, False),
        (Other(tag="scissors", sharp=True), {"hold"}, {"hold"}, False),
        (Gauge(tag="gauge"), EVERYWHERE, {"cabin", "body"}, False),
        (Gauge(tag="gauge", sharp=True), {"hold"}, {"hold"}, False),
        (Cylinder(tag="twelve"), {"cabin", "hold"}, {"cabin", "hold"}, True),
        (torch(99), {"cabin", "hold"}, {"cabin"}, True),
        (torch(161), set(), set(), True),
        (Luggage(tag="phone", mass_kg=0.2, battery_j=15 * WH), EVERYWHERE, EVERYWHERE, False),
        (Luggage(tag="pack", mass_kg=0.2, battery_j=151 * WH), EVERYWHERE, EVERYWHERE, True),
        (Luggage(tag="spare", mass_kg=0.2, battery_j=15 * WH, spare=True), {"cabin", "body"}, {"cabin", "body"}, False),
        (Luggage(tag="marker", mass_kg=0.3, cartridges=1), {"cabin", "hold"}, {"cabin", "hold"}, True),
        (Luggage(tag="vest", mass_kg=1, cartridges=2, life_jacket=True), EVERYWHERE, EVERYWHERE, True),
        (Luggage(tag="soap", mass_kg=0.2, goes="hold"), {"hold"}, {"hold"}, False),
        (Luggage(tag="spare", mass_kg=0.2, battery_j=15 * WH, spare=True, goes="hold"), set(), set(), False),
        (
            Luggage(tag="cells", mass_kg=0.1, battery_type="lithium metal", spare=True),
            {"cabin", "body"},
            {"cabin", "body"},
            False,
        ),
        (Luggage(tag="cells", mass_kg=0.1, battery_type="no lithium", spare=True), EVERYWHERE, EVERYWHERE, False),
    ],
)
def test_every_rule_about_an_item_holds(
    item: Item | Luggage, may_go: set[str], better: set[str], approval: bool
) -> None:
    placement = place_item(item)
    assert placement.may_go == may_go
    assert placement.better == better
    assert placement.needs_approval == approval
    assert [rule.is_advice for rule in placement.rules] == sorted(rule.is_advice for rule in placement.rules)


def test_an_energy_is_asked_for_where_it_would_decide() -> None:
    """A canister may be below or above 100 Wh; a torch for the hand is below in any case, and so is a small pack."""
    assert place_item(torch()).lacks_energy
    assert place_item(torch()).needs_approval, "the strictest class that it may be in"
    assert not place_item(torch(151.2)).lacks_energy
    assert not place_item(Other(tag="torch", preset="hand-held torch")).lacks_energy
    assert place_item(Luggage(tag="pack", mass_kg=1, battery_type="lithium ion")).lacks_energy
    assert not place_item(Luggage(tag="pack", mass_kg=1, battery_type="no lithium")).lacks_energy
    assert not place_item(torch(battery_type="none")).lacks_energy


@pytest.mark.parametrize("said", [{"spare": True}, {"batteries": 2}])
def test_a_battery_of_which_only_the_number_or_spare_is_said_may_be_a_large_one(said: dict[str, object]) -> None:
    """A spare power bank without its energy must not slip into the hold; what is known to hold no lithium may."""
    placement = place_item(Luggage(tag="power bank", mass_kg=0.4, **said))  # type: ignore[arg-type]
    assert placement.lacks_energy
    assert placement.may_go == set(), "the strictest class that it may be in: above every limit"
    cells = place_item(Luggage(tag="cells", mass_kg=0.1, battery_type="no lithium", **said))  # type: ignore[arg-type]
    assert (cells.lacks_energy, cells.may_go) == (False, EVERYWHERE)


def test_the_airlines_own_limits_count_and_of_several_legs_the_strictest() -> None:
    """On a leg without its own, the published 100 and 160 Wh count."""
    assert battery_limits()[:2] == (100 * WH, 160 * WH)
    generous, strict = leg(battery_free_j=120 * WH, battery_most_j=200 * WH), leg("other", battery_most_j=90 * WH)
    assert battery_limits([generous])[:2] == (120 * WH, 200 * WH)
    assert battery_limits([generous, leg("silent")])[:2] == (100 * WH, 160 * WH)
    assert battery_limits([generous, strict])[:2] == (100 * WH, 90 * WH)
    pack = Luggage(tag="pack", mass_kg=1, battery_j=110 * WH)
    assert not place_item(pack, [generous]).needs_approval
    assert place_item(pack, [generous, leg("silent")]).needs_approval
    assert place_item(pack, [generous, strict]).may_go == set()
    assert battery_limits([leg(spare_batteries=4), leg("other", spare_batteries=2)]).spares == 2


def test_an_approval_has_to_hold_on_every_leg() -> None:
    given, silent = leg(approved=("torch",)), leg("other")
    assert not place_item(torch(151), [given]).needs_approval
    assert place_item(torch(151), [given, silent]).needs_approval


# ---- wet gear ----


def test_the_water_on_the_way_home_goes_with_the_dry_mass() -> None:
    """Foam: 30 to 80 % of its dry mass, so 55 % of 2 kg is 1.1 kg, between 0.6 and 1.6 kg."""
    wet = wet_mass(Suit(tag="suit", cut="full suit", thickness_m=0.005), Figure(2.0, {"scale": 0.05}, "weighed"))
    assert wet is not None
    assert wet.value == pytest.approx(1.1)
    below, above = wet.sides
    assert 0.6 <= 1.1 - below < 1.1 + above <= 1.6
    assert wet_mass(Lead(tag="belt", mass_kg=1), Figure(1.0, {}, "")) is None


def test_wet_items_of_one_sort_are_wet_together() -> None:
    """They share a source, so that their spreads add up; those of others do not."""
    dry = Figure(1.0, {}, "")
    names = [
        set(wet.components)
        for item in (Other(tag="a", preset="boots, 5 mm"), Other(tag="b", preset="hood, 5 mm"), Jacket(tag="c"))
        if (wet := wet_mass(item, dry))
    ]
    assert names[0] == names[1]
    assert not names[0] & names[2]


def test_a_file_counts_before_the_preset() -> None:
    assert travelling(Other(tag="mask", preset="mask")).is_breakable
    assert not travelling(Other(tag="mask", preset="mask", breakable=False)).is_breakable
    battery = travelling(torch(99, batteries=2)).battery
    assert battery is not None
    assert (battery.low_j, battery.high_j, battery.pieces, battery.is_given) == (99 * WH, 99 * WH, 2, True)


@pytest.mark.parametrize(
    ("item", "part"),
    [
        (FirstStage(tag="first"), "a rented regulator may not suit you"),
        (Hose(tag="hose", role="primary", body="rubber", length_m=0.75), "It belongs to the regulator set"),
        (Gauge(tag="gauge"), "It belongs to the regulator set"),
        (Other(tag="mask", preset="mask"), "a rented mask may not suit your face"),
        (Other(tag="computer", preset="wrist computer"), "a rented computer may not suit you"),
        (Transmitter(tag="transmitter"), "only with the computer that it is paired with"),
    ],
)
def test_advice_speaks_of_the_item_that_it_is_about_and_of_no_other(item: Item, part: str) -> None:
    said = [rule.why for rule in place_item(item).rules if rule.is_advice and "late or lost" in rule.why]
    assert len(said) == 1
    assert part in said[0]
    for other in {"regulator", "mask", "computer"} - set(part.replace(".", "").split()):
        assert other not in said[0]
