"""How much pressure a hose costs at the peak of a breath: compressible flow of the kit's gas through its bore."""

from enum import Enum
from functools import lru_cache
from typing import NamedTuple

from kitbuilder.assess.combined_range import combined_range
from kitbuilder.assess.depths import deepest_of
from kitbuilder.assess.figures import Range
from kitbuilder.assess.gas.breathing import breathed_down_to
from kitbuilder.assess.gas.feeds import cylinders_feeding
from kitbuilder.assess.gas.mixes import Mix, mix_of, mix_of_air, molar_mass, viscosity
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.kit.items import Hose
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.physics.pipe_flow import Choked, hose_pressure_drop, peak_inspiratory_flow
from kitbuilder.physics.pressure import ATMOSPHERE_PA

TEMPERATURE_K = 293.15
"""Of the gas in the hose: 20 °C."""
PA_PER_M = 1.0e4
"""Of sea water, rounded as divers do."""
SERVED = "second_stage"


class Notice(Enum):
    """Whether a second stage notices what a hose costs."""

    NO = "no"
    PERHAPS = "perhaps"
    """The range of the loss holds the limit."""
    YES = "yes"


class Flow(NamedTuple):
    """What a hose that is breathed through costs at the peak of a breath."""

    depth_m: float
    """The greatest at which its gas is used."""
    flow_m3_s: float
    """At the peak of a breath, at ambient pressure."""
    bore_m: float
    drop: Range | None
    """From the port to the other end [Pa]; None when it cannot pass that flow."""
    is_air_assumed: bool
    """Whether no cylinder is known whose gas flows through it."""

    @property
    def notice(self) -> Notice:
        """Whether a second stage notices the loss: only what stays below the limit all through its range is no loss."""
        limit = catalogue().limits["hose_drop"].value
        if self.drop is None or self.drop.low > limit:
            return Notice.YES
        return Notice.PERHAPS if self.drop.high > limit else Notice.NO


def flow_through(hose: Hose, kit: ResolvedKit, water: Water) -> Flow | None:
    """Give the flow through a hose at the greatest depth of its gas; None for a hose nobody breathes through.

    Of several gases that may reach it, the one that is densest where it is used counts, which loses most. Where no
    cylinder is known, it is air at the greatest depth of the kit.
    """
    role = catalogue().roles[hose.role]
    if role.device != SERVED:
        return None
    used = [(mix_of(each), breathed_down_to(each, kit, water)) for each in cylinders_feeding(hose, kit)]
    is_air_assumed = not used
    used = used or [(mix_of_air(), deepest_of(kit))]
    mix, deepest = max(used, key=lambda pair: molar_mass(pair[0]) * _ambient_pa(pair[1]))
    peak = peak_inspiratory_flow(catalogue().limits["minute_volume"].value / 60)
    bore = _bore(hose, role.service)
    return Flow(deepest, peak, bore.value, _drop(hose.length_m, bore, deepest, peak, mix), is_air_assumed)


def _bore(hose: Hose, service: str) -> Value:
    """Give the bore as the file says it, else as usual for the body, with its range."""
    if hose.bore_m is None:
        return catalogue().bodies[service, hose.body].bore
    spread = catalogue().limits["bore_spread"]
    return Value(hose.bore_m, hose.bore_m - spread.value, hose.bore_m + spread.value, spread.origin)


def _ambient_pa(depth_m: float) -> float:
    return ATMOSPHERE_PA + PA_PER_M * depth_m


@lru_cache(maxsize=1024)
def _drop(length_m: float, bore: Value, depth_m: float, flow_m3_s: float, mix: Mix) -> Range | None:
    """Give the pressure lost with the range that bore, roughness and supply leave [Pa]; None when it cannot pass."""
    ambient = _ambient_pa(depth_m)
    limits, mass, thickness = catalogue().limits, molar_mass(mix), viscosity(mix)

    def lost(bore_m: float, roughness_m: float, intermediate_pa: float) -> float | None:
        try:
            return hose_pressure_drop(
                supply_pressure_pa=ambient + intermediate_pa,
                ambient_pressure_pa=ambient,
                flow_m3_s=flow_m3_s,
                length_m=length_m,
                bore_m=bore_m,
                roughness_m=roughness_m,
                molar_mass_kg_mol=mass,
                viscosity_pa_s=thickness,
                temperature_k=TEMPERATURE_K,
            )
        except Choked:
            return None

    def lost_at_most(bore_m: float, roughness_m: float, intermediate_pa: float) -> float:
        found = lost(bore_m, roughness_m, intermediate_pa)
        return intermediate_pa if found is None else found  # a hose that cannot pass it loses all there is

    inputs = (bore, limits["hose_roughness"], limits["intermediate"])
    if lost(*(each.value for each in inputs)) is None:
        return None
    found = combined_range(lost_at_most, inputs)
    return found._replace(high=min(found.high, limits["intermediate"].value))
