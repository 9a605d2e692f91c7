"""A kit drawn many times: every input by what the catalogue says of it, every figure worked out plainly.

Nothing here knows components or sides. A range of the catalogue stands for half of the parts below its value and half
above it, evenly to each end; a range that covers 95 %, and whatever is called a spread, for a normal distribution.
"""

from collections.abc import Callable
from functools import cached_property

import numpy as np

from kitbuilder.assess.gas.mixes import mix_of
from kitbuilder.assess.hoses.hose_weight import HoseEnds, ends_of, service_of
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.kit.items import Cylinder, Device, Drysuit, FirstStage, Hose, Item, Lead, Other, Suit
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.physics.gas import gas_density
from kitbuilder.physics.pressure import pressure_at_depth
from kitbuilder.physics.suit import foam_left_boyle, foam_left_fitted, foam_left_halved
from kitbuilder.physics.water import seawater_density

DRAWS = 10_000
NORMAL_95 = 1.959964
BUCKET = 999.0
SALT = 1025.0
LEAD = 11340.0
ATMOSPHERE = 101325.0

Array = np.ndarray


class DrawnKit:
    """A kit, each of whose unknowns is drawn `DRAWS` times; what has one name is one unknown."""

    def __init__(self, kit: ResolvedKit, seed: int = 1) -> None:
        """Draw nothing yet."""
        self.kit, self.trade = kit, catalogue()
        self.dice = np.random.default_rng(seed)
        self.known: dict[str, Array] = {}

    # ---- drawing ----

    def once(self, name: str, draw: Callable[[], Array]) -> Array:
        if name not in self.known:
            self.known[name] = draw()
        return self.known[name]

    def value(self, name: str, value: Value) -> Array:
        def draw() -> Array:
            if value.covers_95:
                return self.dice.normal(value.value, (value.high - value.low) / 2 / NORMAL_95, DRAWS)
            part, is_below = self.dice.random(DRAWS), self.dice.random(DRAWS) < 0.5
            return value.value + np.where(is_below, part * (value.low - value.value), part * (value.high - value.value))

        return self.once(name, draw)

    def about(self, name: str, middle: float, half: float) -> Array:
        """Normally distributed, 95 % within the half-width."""
        return self.once(name, lambda: self.dice.normal(middle, half / NORMAL_95, DRAWS))

    def evenly(self, name: str, half: float) -> Array:
        return self.once(name, lambda: self.dice.uniform(-half, half, DRAWS))

    def limit(self, name: str) -> float:
        return self.trade.limits[name].value

    # ---- water and diver ----

    @cached_property
    def water(self) -> Array:
        header = self.kit.header
        if header.density_kg_m3 is not None:
            return self.about("water", header.density_kg_m3, 0.5)
        preset = self.trade.waters[header.water or "ocean"]
        salinity, temperature = self.value("salinity", preset.salinity), self.value("temperature", preset.temperature)
        salinity = salinity if header.salinity_kg_per_kg is None else np.full(DRAWS, header.salinity_kg_per_kg)
        temperature = temperature if header.temperature_k is None else np.full(DRAWS, header.temperature_k)
        pairs = zip(salinity, temperature, strict=True)
        return np.array([seawater_density(salt, kelvin) for salt, kelvin in pairs])

    @cached_property
    def water_k(self) -> float:
        preset = self.trade.waters[self.kit.header.water or "ocean"]
        return self.kit.header.temperature_k or preset.temperature.value

    @property
    def diver(self):
        return self.kit.linked.diver.header if self.kit.linked.diver else None

    @cached_property
    def stature(self) -> Array:
        given = self.diver and self.diver.stature_m
        return self.about("stature", given, 0.01) if given else self.of_survey(self.trade.survey.stature)

    @cached_property
    def mass_of_body(self) -> Array:
        given = self.diver and self.diver.mass_kg
        if given:
            return self.about("body mass", given, self.limit("body_scale_spread"))
        return self.of_survey(self.trade.survey.mass)

    @cached_property
    def is_man(self) -> Array:
        return self.dice.random(DRAWS) < 0.5

    def of_survey(self, measure: dict) -> Array:
        """Half men, half women, as the survey has them; the kits say stature and mass, or neither."""
        assert not (self.diver and (self.diver.sex or self.diver.stature_m))
        men, women = measure["male"], measure["female"]
        drawn = self.dice.normal(0.0, 1.0, DRAWS)
        return np.where(self.is_man, men.mean + men.sd * drawn, women.mean + women.sd * drawn)

    def body(self) -> Array:
        sex = (self.diver.sex if self.diver else None) or ""
        volume = self.mass_of_body / self.value("body density", self.trade.body.density[sex])
        return self.water * (volume + self.value("breath", self.trade.body.breath)) - self.mass_of_body

    def skin(self) -> Array:
        scatter = 1 + self.about("skin", 0.0, self.limit("body_area_scatter"))
        return scatter * 0.007184 * np.abs(self.mass_of_body) ** 0.425 * (100 * self.stature) ** 0.725

    # ---- items: mass and volume, dry and without gas ----

    def scale(self, item: Item, what: str = "mass_kg") -> Array:
        """The true weight behind a reading: off by the scale, and by anything within half of the last digit."""
        name, unit = what.rsplit("_", 1)
        reading, given = getattr(item, what), getattr(item, f"{name}_spread_{unit}")
        if given is not None:
            return self.about(f"scale {item.tag} {name}", reading, given)
        size = "large_scale_spread" if abs(reading) >= self.limit("large_scale_from") else "scale_spread"
        half_digit = getattr(item, f"{name}_half_digit_{unit}") or 0.0
        shown = self.evenly(f"digit {item.tag} {name}", half_digit)
        return self.about(f"scale {item.tag} {name}", reading, self.limit(size)) + shown

    def hose(self, item: Hose) -> tuple[Array, Array]:
        body, ends = self.trade.bodies[service_of(item), item.body], ends_of(item)
        kind = f"{body.service} {body.name}"
        outside = self.value(f"outside {kind}", body.outside_diameter)
        bare = self.about(f"length {item.tag}", item.length_m, self.limit("length_spread"))
        if item.measured != "hose only":
            for end in ends[:2]:
                bare = bare - self.value(f"envelope {end.name}", end.envelope_length)
        wall = np.pi / 4 * (outside**2 - body.bore.value**2) * bare
        mass, volume = wall * self.value(f"density {kind}", body.density), np.pi / 4 * outside**2 * bare
        for part in _parts(ends):
            part_mass = self.value(f"mass {part.name}", part.mass)
            mass, volume = mass + part_mass, volume + part_mass / part.density.value
        if item.mass_kg is not None:
            mass = self.scale(item) + sum(self.value(f"mass {part.name}", part.mass) for part in ends.adapters)
        gas = self.value(f"gas {body.service}", self.trade.gas_density[body.service])
        return mass, volume - gas * np.pi / 4 * body.bore.value**2 * bare / self.water

    def cylinder(self, item: Cylinder) -> tuple[Array, Array]:
        preset = self.trade.cylinders.get(item.preset or "")
        valve = self.trade.valves[item.valve or "single outlet"]
        metal = self.trade.metals[item.metal or preset.metal]
        valve_mass = self.value(f"valve {valve.name}", valve.mass)
        if item.mass_kg is not None:
            shell = self.scale(item) - valve_mass
        elif item.stamped_mass_kg is not None:
            shell = self.about(f"stamp {item.tag}", item.stamped_mass_kg, self.limit("stamp_spread"))
        else:
            shell = self.value(f"shell {preset.name}", preset.mass)
        solid = self.value(f"metal {metal.name}", metal.density)
        volume = self.inside(item) + shell / solid + valve_mass / valve.density.value
        outside = self.about(f"outside {item.preset or item.tag}", 0.0, self.limit("cylinder_outside_spread"))
        return shell + valve_mass, volume + outside

    def inside(self, item: Cylinder) -> Array:
        if item.volume_m3 is None:
            preset = self.trade.cylinders[item.preset]
            return self.value(f"volume {preset.name}", preset.volume)
        return self.about(f"volume {item.tag}", item.volume_m3, self.limit("stamped_volume_spread") * item.volume_m3)

    def gas(self, item: Cylinder, moment: str) -> Array:
        """By the equation of state on a grid of pressures, and straight between its points."""
        preset, mix = self.trade.cylinders.get(item.preset or ""), mix_of(item)
        working = item.working_pressure_pa or preset.working_pressure.value
        filled = working if item.filled_pa is None else item.filled_pa
        reserve = min(self.limit("reserve"), filled) if item.reserve_pa is None else item.reserve_pa
        gauge, kelvin = (filled, item.temperature_k or self.limit("filling"))
        if moment == "reserve":
            gauge, kelvin = reserve, self.water_k
        grid = np.linspace(ATMOSPHERE, gauge + 2e6, 200)
        curve = [gas_density(*mix, pressure, kelvin) for pressure in grid]
        read = self.about(f"gauge {item.tag} {moment}", gauge, self.limit("gauge_spread"))
        equation = "gas_density_with_helium" if mix.helium else "gas_density_without_helium"
        true = 1 + self.about("equation", 0.0, 1.0) * self.limit(equation)
        return self.inside(item) * true * np.interp(read + ATMOSPHERE, grid, curve)

    def foam(self, item: Suit) -> Array:
        cut = self.trade.cuts[item.cut]
        area = self.value(f"cut {cut.name}", cut.coverage) * self.skin()
        if item.area_m2 is not None:
            area = self.about(f"area {item.tag}", item.area_m2, self.limit("measured_area_spread") * item.area_m2)
        thickness = self.about(f"thickness {item.tag}", item.thickness_m, self.limit("foam_thickness_spread"))
        return area * self.value("stretch", self.trade.body.foam_stretch) * thickness

    def suit(self, item: Suit) -> tuple[Array, Array]:
        assert item.mass_kg is None, "a weighed suit narrows its foam, which is not drawn here"
        assert item.buoyancy_kgf is None
        grade = self.trade.foams[item.foam or "standard"]
        volume = self.foam(item)
        full = self.trade.cuts["full suit"].coverage.value
        area = volume / (self.known["stretch"] * self.known[f"thickness {item.tag}"])
        lining = self.value("lining", self.trade.body.foam_lining) * area / full
        return volume * self.value("foam density", grade.density) + lining, volume

    def device(self, item: FirstStage | Device) -> tuple[Array, Array]:
        preset = self.trade.presets.get((item.kind, item.preset or ""))
        mass = self.value(f"make {item.tag}", preset.mass) if item.mass_kg is None else self.scale(item)
        weighed = getattr(item, "buoyancy_kgf", None)
        if weighed is not None:
            return mass, (mass + self.scale(item, "buoyancy_kgf")) / BUCKET
        if isinstance(item, Other) and item.volume_m3 is not None:
            return mass, self.about(f"volume {item.tag}", item.volume_m3, self.limit("volume_spread") * item.volume_m3)
        if isinstance(item, Other) and item.density_kg_m3 is not None:
            return mass, mass / item.density_kg_m3
        if preset.density is not None:
            return mass, mass / self.value(f"solid {item.tag}", preset.density)
        return mass, (mass + self.value(f"floats {item.tag}", preset.buoyancy_salt)) / SALT

    def dry(self, item: Item) -> tuple[Array, Array]:
        """Mass and volume of an item, without gas and undersuit."""
        if isinstance(item, Hose):
            return self.hose(item)
        if isinstance(item, Cylinder):
            return self.cylinder(item)
        return self.suit(item) if isinstance(item, Suit) else self.device(item)

    # ---- the figures ----

    def mass_of_hoses(self) -> Array:
        return sum(self.hose(item)[0] for item in self.kit.items if isinstance(item, Hose))

    def buoyancy_of_hoses(self) -> Array:
        pairs = [self.hose(item) for item in self.kit.items if isinstance(item, Hose)]
        return sum(volume * self.water - mass for mass, volume in pairs)

    def cast(self) -> Array:
        return 1 + self.about("cast", 0.0, self.limit("lead_tolerance"))

    def mass_of_everything(self) -> Array:
        """As it stands on land, cylinders filled."""
        found = np.zeros(DRAWS)
        for item in self.kit.items:
            if isinstance(item, Lead):
                found = found + item.mass_kg * (item.pieces or 1) * self.cast()
                continue
            found = found + self.dry(item)[0]
            if isinstance(item, Cylinder):
                found = found + self.gas(item, "filled")
            if isinstance(item, Drysuit) and item.undersuit:
                found = found + self.value(f"undersuit {item.undersuit}", self.trade.undersuits[item.undersuit].mass)
        return found

    def buoyancy_of_everything(self) -> Array:
        """At the surface, cylinders filled, with the lead and without the diver [kgf]."""
        found = np.zeros(DRAWS)
        for item in self.kit.items:
            if isinstance(item, Lead):
                found = found + item.mass_kg * (item.pieces or 1) * self.cast() * (self.water / LEAD - 1)
                continue
            mass, volume = self.dry(item)
            found = found + volume * self.water - mass
            if isinstance(item, Cylinder):
                found = found - self.gas(item, "filled")
            if isinstance(item, Drysuit):
                found = found + self.drysuit_gas(item) * self.water
        return found

    def at_the_stop(self) -> Array:
        """Diver and kit without lead, with the reserve and an empty wing [kgf]."""
        stop = self.limit("stop") if self.kit.header.stop_m is None else self.kit.header.stop_m
        found = self.body()
        for item in self.kit.items:
            if isinstance(item, Lead):
                continue
            mass, volume = self.dry(item)
            found = found + volume * self.water - mass
            if isinstance(item, Cylinder):
                found = found - self.gas(item, "reserve")
            if isinstance(item, Suit):
                found = found - (1 - self.foam_left(stop)) * volume * self.water
            if isinstance(item, Drysuit):
                found = found + self.drysuit_gas(item) * self.water
        return found

    def drysuit_gas(self, item: Drysuit) -> Array:
        if item.suit_gas_m3 is not None:
            half = self.limit("suit_gas_spread") * item.suit_gas_m3
            return self.about(f"gas {item.tag}", item.suit_gas_m3, half)
        if item.undersuit is None:
            return np.zeros(DRAWS)
        gas = self.trade.undersuits[item.undersuit].gas
        return self.partly_from_dive_to_dive(self.value(f"gas {item.tag}", gas), gas.value)

    def partly_from_dive_to_dive(self, drawn: Array, usual_m3: float) -> Array:
        """The same deviation, a part of which is what differs from dive to dive."""
        deviation = drawn.std()
        changes = self.limit("suit_gas_change") * usual_m3 / NORMAL_95
        kept = (max(deviation**2 - changes**2, 0.0)) ** 0.5 / deviation
        return drawn.mean() + kept * (drawn - drawn.mean()) + self.about("dive to dive", 0.0, NORMAL_95 * changes)

    def foam_left(self, depth_m: float) -> Array:
        """Anything between the statements of the sources."""
        pressure = pressure_at_depth(depth_m, float(np.mean(self.water)))
        said = [of(pressure) for of in (foam_left_fitted, foam_left_halved, foam_left_boyle)]
        middle, half = (max(said) + min(said)) / 2, (max(said) - min(said)) / 2
        return middle + half * self.evenly("squeeze", 1.0)

    def lead(self) -> Array:
        """By the number cast on it."""
        return self.at_the_stop() / (self.cast() * (1 - self.water / LEAD))


def _parts(ends: HoseEnds):
    return (ends.at_first_stage, ends.at_device, *ends.adapters)
