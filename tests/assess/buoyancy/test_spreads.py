"""Every source of spread is there, as large as its input makes it, and the spread covers 95 % of simulated items.

The models below work out a figure plainly, from the same inputs, and know nothing of shares. How far an input may be
off stands in the catalogue; where the literature says how far, that is checked as well.
"""

from dataclasses import replace
from math import sqrt

import pytest

from kitbuilder.assess.body import DiverBody, assess_body, body_buoyancy
from kitbuilder.assess.buoyancy.balance import swing, work_out_balance
from kitbuilder.assess.buoyancy.buoyancy_model import RESERVE, build_buoyancy_model, total_buoyancy
from kitbuilder.assess.buoyancy.cylinder_weight import Vessel, full_weight, gas_in, work_out_vessel
from kitbuilder.assess.buoyancy.item_weight import weigh_item, weigh_lead
from kitbuilder.assess.buoyancy.suit_weight import suit_gas, weigh_suit
from kitbuilder.assess.buoyancy.trim import assess_trim
from kitbuilder.assess.figures import Figure, total
from kitbuilder.assess.scales import scale_spread
from kitbuilder.assess.water import assess_water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.gas_mix import gas_named
from kitbuilder.kit.items import Cylinder, Drysuit, FirstStage, Header, Kit, Lead, Other, Suit, Wing
from kitbuilder.kit.resolved import NOTHING_LINKED, resolve
from kitbuilder.physics.gas import gas_density
from kitbuilder.physics.water import seawater_density
from tests.assess.buoyancy.simulated import Inputs, Known, between, check_against, known
from tests.assess.kits import beside

BAR = 1e5
ATMOSPHERE = 101325.0
ROOM_K = 293.15
BUCKET = 999.0
"""Tap water [kg/m3]."""
TRADE = catalogue()
LIMITS = TRADE.limits
HEADER = Header(format=1, name="sea", layout="single", density_kg_m3=1025.0)
SEA = assess_water(HEADER)
SEA_DENSITY = "measured density of the water"
HYDROMETER = {SEA_DENSITY: Known(1025.0, 0.5)}
"""Read to half a division of 1 kg/m3."""


# --- lead -------------------------------------------------------------------------------------------------------------

CAST = "lead against the number cast on it"


def test_lead_is_as_true_as_its_casting() -> None:
    """3 % of its number; 11340 kg/m3 as every handbook of chemistry and physics has it (memory)."""
    weight = weigh_lead(8.0, SEA)
    inputs = {CAST: Known(0.0, 0.03)}
    check_against(weight.mass, inputs, lambda at: 8.0 * (1 + at[CAST]))
    # The water is known by its own density; what it carries of the lead is worked out of the number cast on it.
    check_against(
        weight.buoyancy,
        inputs | HYDROMETER,
        lambda at: 8.0 * (1 + at[CAST]) * (at[SEA_DENSITY] / 11340 - 1),
    )


# --- cylinders --------------------------------------------------------------------------------------------------------

METAL = "density of the metal"
VALVE = "mass of valve, single outlet"


def vessel(**keys: object) -> Vessel:
    found = work_out_vessel(Cylinder(tag="tank", **keys), SEA)  # type: ignore[arg-type]
    assert found is not None
    return found


CYLINDERS = {
    "steel stamped": (
        {"metal": "steel", "volume_m3": 0.012, "working_pressure_pa": 232 * BAR, "stamped_mass_kg": 14.0},
        {"stamped volume of tank": Known(0.012, 0.00012), "stamped mass of tank": Known(14.0, 0.1)},
    ),
    "aluminium stamped": (
        {"metal": "aluminium", "volume_m3": 0.0111, "working_pressure_pa": 207 * BAR, "stamped_mass_kg": 14.2},
        {"stamped volume of tank": Known(0.0111, 0.000111), "stamped mass of tank": Known(14.2, 0.1)},
    ),
    "steel preset": (
        {"preset": "steel 12 L 232 long"},
        {
            "volume of steel 12 L 232 long": known(TRADE.cylinders["steel 12 L 232 long"].volume),
            "mass of steel 12 L 232 long": known(TRADE.cylinders["steel 12 L 232 long"].mass),
        },
    ),
}


@pytest.mark.parametrize("name", CYLINDERS)
def test_an_empty_cylinder(name: str) -> None:
    """Volume and mass of the shell, mass of the valve, and density of the metal: what the shell displaces."""
    keys, own = CYLINDERS[name]
    paint = f"outside of {keys.get('preset', 'tank')}"
    volume, shell = own
    empty = vessel(**keys).empty
    valve, metal = TRADE.valves["single outlet"], TRADE.metals["aluminium" if "aluminium" in name else "steel"]
    parts: Inputs = {**own, VALVE: known(valve.mass)}
    check_against(empty.mass, {source: parts[source] for source in (shell, VALVE)}, lambda at: at[shell] + at[VALVE])

    def floats(at: dict[str, float]) -> float:
        outside = at[volume] + at[shell] / at[METAL] + at[VALVE] / valve.density.value + at[paint]
        return at[SEA_DENSITY] * outside - at[shell] - at[VALVE]

    inputs = {**parts, METAL: known(metal.density), paint: Known(0.0, 0.0006), **HYDROMETER}
    check_against(empty.buoyancy, inputs, floats)


def test_a_weighed_cylinder_has_its_valve_on_the_scale() -> None:
    """What the valve weighs more the shell weighs less, and steel displaces more than the brass it replaces."""
    empty = vessel(metal="steel", volume_m3=0.012, working_pressure_pa=232 * BAR, mass_kg=14.75).empty
    scale, volume, paint = "scale reading of tank", "stamped volume of tank", "outside of tank"
    weighed = {scale: Known(14.75, 0.05)}
    check_against(
        Figure(empty.mass.value, {s: x for s, x in empty.mass.components.items() if x}, empty.mass.origin),
        weighed,
        lambda at: at[scale],
    )

    def floats(at: dict[str, float]) -> float:
        outside = at[volume] + (at[scale] - at[VALVE]) / at[METAL] + at[VALVE] / 8400 + at[paint]
        return at[SEA_DENSITY] * outside - at[scale]

    inputs = weighed | {
        paint: Known(0.0, 0.0006),
        volume: Known(0.012, 0.00012),
        VALVE: known(TRADE.valves["single outlet"].mass),
    }
    check_against(
        empty.buoyancy, {**inputs, METAL: known(TRADE.metals["steel"].density), **HYDROMETER}, floats, rel=0.03
    )


GAUGE, EQUATION = "filling of tank, gauge", "equation of state of the gas"
MIXES = {"air": 0.0025, "nitrox 32": 0.0025, "trimix 18/45": 0.01, "trimix 10/70": 0.01}
"""How well the density is known; `test_gas_spreads.py` says why."""


@pytest.mark.parametrize("name", MIXES)
def test_the_gas_in_a_cylinder(name: str) -> None:
    """By the gauge, to 5 bar; by the volume; and by the equation of state."""
    gas = gas_named(name)
    assert gas is not None
    stamps = {"metal": "steel", "volume_m3": 0.012, "working_pressure_pa": 232 * BAR, "stamped_mass_kg": 14.0}
    full = vessel(**stamps, gas=gas)
    volume = "stamped volume of tank"
    inputs = {volume: Known(0.012, 0.00012), GAUGE: Known(232 * BAR, 5 * BAR), EQUATION: Known(1.0, MIXES[name])}

    def mass(at: dict[str, float]) -> float:
        return at[volume] * at[EQUATION] * gas_density(*full.mix, at[GAUGE] + ATMOSPHERE, ROOM_K)

    filling = gas_in(full, 232 * BAR, ROOM_K, "filling")
    check_against(filling, inputs, mass, rel=0.03)
    # A full cylinder is as unsure as it is empty and by its gas, which makes it heavier and floats it less.
    weight = full_weight(full)
    assert weight.mass == total((full.empty.mass, filling), weight.mass.origin)
    for source in {*filling.components, *full.empty.buoyancy.components}:
        there = full.empty.buoyancy.components.get(source, 0.0) - filling.components.get(source, 0.0)
        assert weight.buoyancy.components[source] == pytest.approx(there), source


# --- body and suits ---------------------------------------------------------------------------------------------------

STATURE, MASS, AREA = "stature of somebody", "mass of somebody", "body area of somebody"
STRETCH, THICKNESS, FOAM, LINING = "stretch of worn foam", "thickness of suit", "density of foam", "linings of foam"
MAN = {STATURE: Known(1.78, 0.01), MASS: Known(82.0, 1.0)}
"""To a centimetre and a kilogram."""


def body() -> DiverBody:
    return assess_body(beside(stature_m=1.78, mass_kg=82.0, sex="male").diver)


def skin(at: dict[str, float]) -> float:
    """The formula of 1916, W in kg and H in cm, which single bodies scatter about [m2]."""
    return (1 + at[AREA]) * 0.007184 * at[MASS] ** 0.425 * (100 * at[STATURE]) ** 0.725


def test_the_area_of_a_body() -> None:
    """By stature and mass, and by as much as single bodies scatter: 5 %."""
    check_against(body().area, MAN | {AREA: Known(0.0, 0.05)}, skin)


def test_how_a_body_floats() -> None:
    """By its density, its breath, its mass and the water."""
    density, breath = "density of somebody", "breath of somebody"
    inputs = {density: Known(1019.0, 26.0), breath: between(0.0, 0.25e-3, 0.5e-3), MASS: MAN[MASS], **HYDROMETER}
    check_against(
        body_buoyancy(body(), SEA),
        inputs,
        lambda at: at[SEA_DENSITY] * (at[MASS] / at[density] + at[breath]) - at[MASS],
        rel=0.03,
    )


SUIT = Suit(tag="suit", cut="full suit", thickness_m=0.005)
COVERAGE = "coverage, full suit"
FOAM_INPUTS: Inputs = {
    **MAN,
    AREA: Known(0.0, 0.05),
    COVERAGE: known(TRADE.cuts["full suit"].coverage),
    STRETCH: known(TRADE.body.foam_stretch),
    THICKNESS: Known(0.005, 0.0003),
}


def foam_volume(at: dict[str, float]) -> float:
    """Sheet of 5 mm over the covered skin, thinner when worn [m3]."""
    return at[COVERAGE] * skin(at) * at[STRETCH] * at[THICKNESS]


def test_a_suit_by_its_sheet() -> None:
    """Foam: the wearer's area, how much of it the cut covers, stretch and thickness. Mass: density and linings too.

    A thicker suit is heavier and lifts more, which partly cancels. Linings lie on as much of the skin as the foam does;
    a full suit has those of the catalogue.
    """
    found = weigh_suit(SUIT, SEA, body())
    heavy = FOAM_INPUTS | {FOAM: known(TRADE.foams["standard"].density), LINING: known(TRADE.body.foam_lining)}
    # How much of the body is lined is not known better than how much is covered, but the linings weigh a tenth.
    area = body().area.value

    def mass(at: dict[str, float]) -> float:
        return foam_volume(at) * at[FOAM] + at[LINING] * area

    check_against(found.foam, FOAM_INPUTS, lambda at: 1025.0 * foam_volume(at))
    check_against(found.weight.mass, heavy, mass)
    check_against(
        found.weight.buoyancy, heavy | HYDROMETER, lambda at: at[SEA_DENSITY] * foam_volume(at) - mass(at), rel=0.03
    )


@pytest.mark.parametrize("millimetres", [3.0, 5.0, 7.0])
def test_a_sheet_is_0_3_mm_off_however_thick_it_is(millimetres: float) -> None:
    """So a thin suit is known worse in parts: 10 % of 3 mm, 4 % of 7 mm."""
    found = weigh_suit(replace(SUIT, thickness_m=millimetres / 1000), SEA, body()).foam
    assert found.components[THICKNESS] / found.value == pytest.approx(0.3 / millimetres)


def test_a_suit_whose_foam_was_measured_with_a_tape() -> None:
    """5 % of its area; neither the wearer nor the cut matters then."""
    found = weigh_suit(replace(SUIT, area_m2=1.6), SEA, body())
    measured = "measured area of suit"
    inputs = {measured: Known(1.6, 0.08)} | {source: FOAM_INPUTS[source] for source in (STRETCH, THICKNESS)}
    check_against(found.foam, inputs, lambda at: 1025.0 * at[measured] * at[STRETCH] * at[THICKNESS])


def test_a_suit_weighed_in_air_and_in_the_bucket() -> None:
    """Two scales: what the first is off by, the second has in it too, and what is left is the denser water."""
    found = weigh_suit(replace(SUIT, mass_kg=2.4, buoyancy_kgf=4.6), SEA, body())
    dry, wet = "scale reading of suit", "scale reading of suit in water"
    inputs = {dry: Known(2.4, 0.002), wet: Known(4.6, 0.05)}
    check_against(found.weight.mass, {dry: inputs[dry]}, lambda at: at[dry])
    # The second scale is taken as it reads, not by the 2.6 % more that the sea makes of it.
    check_against(found.foam, inputs, lambda at: 1025.0 * (at[dry] + at[wet]) / BUCKET, rel=0.03)
    check_against(
        found.weight.buoyancy,
        inputs | HYDROMETER,
        lambda at: at[SEA_DENSITY] * (at[dry] + at[wet]) / BUCKET - at[dry],
        rel=0.03,
    )


@pytest.mark.parametrize(("reading", "spread"), [(2.9, 0.002), (3.0, 0.05), (-2.9, 0.002), (-3.1, 0.05)])
def test_what_is_heavy_hangs_on_a_luggage_scale(reading: float, spread: float) -> None:
    """A kitchen scale to 2 g up to 3 kg, a luggage scale to 50 g from there; up or down."""
    assert scale_spread(reading) == pytest.approx(spread)


GAS_IN, ON_A_DIVE = "gas in drysuit", "from dive to dive: gas in drysuit"


@pytest.mark.parametrize(
    ("keys", "gas"),
    [
        ({"undersuit": "medium"}, known(TRADE.undersuits["medium"].gas)),
        ({"suit_gas_m3": 0.009}, Known(0.009, 0.15 * 0.009)),
    ],
)
def test_the_gas_in_a_drysuit(keys: dict[str, object], gas: Known) -> None:
    """By the undersuit, or as its owner estimates it, to 15 %; 8 % of it from dive to dive."""
    found = suit_gas(Drysuit(tag="drysuit", preset="trilaminate shell", **keys), SEA)  # type: ignore[arg-type]
    assert found is not None
    change = 0.08 * gas.middle
    inputs = {GAS_IN: Known(gas.middle, (gas.half**2 - change**2) ** 0.5), ON_A_DIVE: Known(0.0, change)}
    check_against(found, inputs | HYDROMETER, lambda at: at[SEA_DENSITY] * (at[GAS_IN] + at[ON_A_DIVE]))


def test_the_squeeze_of_foam_has_all_that_is_said_of_it_inside() -> None:
    """At 10 m: 0.70 left (memory), half at 15 m (found), half at 10 m (Boyle's law)."""
    kit = Kit(HEADER, (Cylinder(tag="tank", preset="steel 12 L 232 long"), SUIT))
    buoyancy_model = build_buoyancy_model(resolve(kit, beside(stature_m=1.78, mass_kg=82.0)), SEA)
    surface, deep = (total_buoyancy(buoyancy_model, depth, RESERVE) for depth in (0.0, 10.0))
    # All lies evenly between the statements; a component is 1.96 of its standard deviations.
    squeeze = deep.components["squeeze of foam"] / 1.959964 * sqrt(3)
    assert "squeeze of foam" not in {source for source, share in surface.components.items() if share}
    lost, lift = surface.value - deep.value, buoyancy_model.foam.value
    assert lost - squeeze == pytest.approx((1 - 0.70) * lift, rel=0.02)
    assert lost + squeeze == pytest.approx((1 - 0.50) * lift, rel=0.02)
    # A suit with more foam has more to lose: what is not known of the foam is known no better below.
    for source in FOAM_INPUTS:
        if source == MASS:
            continue  # of the body too
        left = surface.components[source] - deep.components[source]
        assert left == pytest.approx(buoyancy_model.foam.components[source] * lost / lift), source


# --- items ------------------------------------------------------------------------------------------------------------


def test_an_item_of_its_preset() -> None:
    """A brass first stage: it displaces by its own mass, so of what it weighs more the water carries an eighth."""
    name = "brass, DIN, 4 LP 2 HP"
    weight = weigh_item(FirstStage(tag="stage", preset=name), SEA)
    assert weight is not None
    make, preset = f"make of stage, {name}", TRADE.presets["first_stage", name]
    check_against(weight.mass, {make: known(preset.mass)}, lambda at: at[make])
    # Brass of 8400 kg/m3; the catalogue knows no range of it.
    check_against(
        weight.buoyancy,
        {make: known(preset.mass), **HYDROMETER},
        lambda at: at[make] * (at[SEA_DENSITY] / 8400 - 1),
    )


def test_an_item_that_its_owner_measured() -> None:
    """A light in a box of 0.5 L, to 3 %; or of a stated density. Mass to 2 g."""
    scale, volume = "scale reading of lamp", "volume of lamp"
    sized = weigh_item(Other(tag="lamp", mass_kg=0.8, volume_m3=0.0005), SEA)
    dense = weigh_item(Other(tag="lamp", mass_kg=0.8, density_kg_m3=1600.0), SEA)
    assert sized is not None and dense is not None
    mass = {scale: Known(0.8, 0.002)}
    check_against(
        sized.buoyancy,
        mass | {volume: Known(0.0005, 0.000015)} | HYDROMETER,
        lambda at: at[SEA_DENSITY] * at[volume] - at[scale],
    )
    check_against(dense.buoyancy, mass | HYDROMETER, lambda at: at[scale] * (at[SEA_DENSITY] / 1600.0 - 1))


def test_the_lift_of_a_wing() -> None:
    """As its maker filled it in fresh water, to 5 %; the sea lifts it by as much more as it is denser."""
    kit = Kit(HEADER, (Cylinder(tag="tank", preset="steel 12 L 232 long"), Wing(tag="wing", lift_kgf=18.0)))
    lift = build_buoyancy_model(resolve(kit, NOTHING_LINKED), SEA).lift
    assert lift is not None
    check_against(lift, {"lift of wing": Known(18.0, 0.9)}, lambda at: at["lift of wing"] * 1025 / BUCKET)


# --- trim -------------------------------------------------------------------------------------------------------------


def test_what_turns_a_diver() -> None:
    """Each item by how it floats and where it sits; the body by how it floats, and by how far its lungs lie off.

    About the middle of the wing, where the lift is that holds all of it up.
    """
    lead = Lead(tag="belt", mass_kg=8.0, along_m=0.9, behind_m=0.0)
    wing = Wing(tag="wing", preset="single-cylinder wing", lift_kgf=18.0, along_m=0.2, behind_m=0.15)
    tank = Cylinder(tag="tank", preset="steel 12 L 232 long", along_m=0.3, behind_m=0.2)
    kit = resolve(Kit(HEADER, (tank, wing, lead)), beside(stature_m=1.78, mass_kg=82.0, sex="male"))
    buoyancy_model = build_buoyancy_model(kit, SEA)
    end = assess_trim(buoyancy_model, 5.0).end
    spots = {spot.item: spot for spot in assess_trim(buoyancy_model, 5.0).spots}
    arms = {"tank": 0.3 - 0.2, "belt": 0.9 - 0.2}
    forces = {"tank": spots[0].reserve, "belt": weigh_lead(8.0, SEA).buoyancy}
    # What the lead may be off by its casting is left out here: a place is known worse by far.
    for source, share in forces["tank"].components.items():
        assert end.kit.components[source] == pytest.approx(arms["tank"] * share), source
    for tag, force in forces.items():
        place_is_off = LIMITS["seat_spread"].value
        assert abs(end.kit.components[f"where {tag} sits"]) == pytest.approx(abs(force.value) * place_is_off)
    offset = "offset of the lungs of somebody"
    density, breath = "density of somebody", "breath of somebody"
    inputs = {density: Known(1019.0, 26.0), breath: between(0.0, 0.25e-3, 0.5e-3), MASS: MAN[MASS], **HYDROMETER}
    chest, of_wing, stature = "where the breath of somebody sits", "where wing sits", "stature of somebody"
    inputs |= {chest: between(0.08 * 1.78, 0.12 * 1.78, 0.16 * 1.78), of_wing: Known(0.2, 0.03)}
    inputs |= {stature: Known(1.78, 0.01)}

    def turns(at: dict[str, float]) -> float:
        floats = at[SEA_DENSITY] * (at[MASS] / at[density] + at[breath]) - at[MASS]
        return floats * (at[chest] * at[stature] / 1.78 - at[of_wing]) - 82.0 * at[offset]

    check_against(end.body, inputs | {offset: known(TRADE.body.lung_offset)}, turns, rel=0.03)


def test_the_place_of_the_wing_counts_for_all_that_it_holds_up() -> None:
    """Lead of 8 kg, measured like the wing to 3 cm: each may be off by 3 cm times 8 kg less the water of the lead."""
    lead = Lead(tag="belt", mass_kg=8.0, along_m=0.9)
    wing = Wing(tag="wing", preset="single-cylinder wing", along_m=0.2, mass_kg=1.0, buoyancy_kgf=0.0)
    tank = Cylinder(tag="tank", preset="steel 12 L 232 long", along_m=0.3)
    kit = resolve(Kit(HEADER, (tank, wing, lead)), beside(stature_m=1.78, mass_kg=82.0, sex="male"))
    trim = assess_trim(build_buoyancy_model(kit, SEA), 5.0)
    shares = trim.end.moment.components
    assert abs(shares["where belt sits"]) == pytest.approx(0.03 * 8.0 * (1 - 1025 / 11340))
    held_up = sum(spot.reserve.value for spot in trim.spots if spot.item != 1)
    assert shares["where wing sits"] == pytest.approx(-0.03 * held_up)


def test_a_lopsided_place_is_where_items_sit_in_the_mean(monkeypatch: pytest.MonkeyPatch) -> None:
    """From 0 to 40 % of stature, half of it below 10 %: by hand, the mean of the halves, 5 % and 25 %, is 15 %."""
    places = catalogue().places
    waist = places["waist"]
    lopsided = waist.along._replace(low=0.0, value=0.1, high=0.4)
    monkeypatch.setitem(places, "waist", waist._replace(along=lopsided, behind=lopsided))
    kit = resolve(
        Kit(HEADER, (Cylinder(tag="tank", preset="steel 12 L 232 long"), Lead(tag="belt", mass_kg=8.0))), beside()
    )
    trim = assess_trim(build_buoyancy_model(kit, SEA), 5.0)
    [belt] = [spot for spot in trim.spots if spot.item == 1]
    assert belt.along.value == pytest.approx(0.15 * 1.78)
    assert belt.behind_m == pytest.approx(0.15)
    below, above = belt.along.sides
    assert above > 1.2 * below


def test_the_swing_of_a_dive_is_the_gas_that_is_used() -> None:
    """From filling to reserve, at the surface: by nothing else gets a diver lighter, and by no foam."""
    kit = resolve(Kit(HEADER, (Cylinder(tag="tank", preset="steel 12 L 232 long"), SUIT)), beside())
    balance = work_out_balance(kit, SEA)
    assert balance is not None
    [(_, tank)] = balance.buoyancy_model.vessels
    used = [gas_in(tank, bar * BAR, kelvin, "") for bar, kelvin in ((232, ROOM_K), (50, SEA.temperature_k))]
    found = swing(balance)
    assert found.value == pytest.approx(used[0].value - used[1].value)
    assert {source for source, share in found.components.items() if abs(share) > 1e-9} == {
        "volume of steel 12 L 232 long",
        "filling of tank, gauge",
        "reserve of tank, gauge",
        "equation of state of the gas",
    }


# --- water ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["fresh", "brackish", "ocean"])
def test_a_water_by_salinity_and_temperature(name: str) -> None:
    """Warm and fresh water is lighter; each is named after its own water."""
    preset = TRADE.waters[name]
    salinity, temperature = f"salinity of {name} water", f"temperature of {name} water"
    found = assess_water(Header(format=1, name="kit", layout="single", water=name)).density
    ranges = (preset.salinity, preset.temperature)
    means = tuple(known(each).middle for each in ranges)
    for which, source, low, high in (
        (0, salinity, (preset.salinity.low, means[1]), (preset.salinity.high, means[1])),
        (1, temperature, (means[0], preset.temperature.low), (means[0], preset.temperature.high)),
    ):
        change = (seawater_density(*high) - seawater_density(*low)) / (high[which] - low[which])
        assert found.components[source] == pytest.approx(change * known(ranges[which]).half, rel=1e-4)
    assert found.components.keys() == {salinity, temperature}
    assert found.value == pytest.approx(seawater_density(*means), rel=1e-6)


def test_what_depth_can_take_is_the_lift_of_the_foam_alone() -> None:
    """Not what is left of it once its own mass is carried."""
    found = weigh_suit(SUIT, SEA, body())
    assert found.foam.value == pytest.approx(found.weight.buoyancy.value + found.weight.mass.value)
