"""How much pressure a hose costs at the peak of a breath: compressible flow through its bore."""

from functools import lru_cache
from typing import NamedTuple

from kitbuilder.assess.figures import Range
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Header, Hose
from kitbuilder.physics.pipe_flow import Choked, hose_pressure_drop, peak_inspiratory_flow

AIR_KG_MOL, AIR_VISCOSITY_PA_S, TEMPERATURE_K = 0.0289655, 1.825e-5, 293.15
"""Air at 20 °C: heavier than nitrox with much helium, lighter by a tenth than pure oxygen."""
PA_PER_M = 1.0e4
"""Of sea water, rounded as divers do."""
ATMOSPHERE_PA = 101325.0
SERVED = "second_stage"


class Flow(NamedTuple):
    """What a hose that is breathed through costs at the peak of a breath."""

    depth_m: float
    flow_m3_s: float
    """At the peak of a breath, at ambient pressure."""
    bore_m: float
    drop: Range | None
    """From the port to the other end, from a smooth bore to a rough one [Pa]; None when it cannot pass that flow."""

    @property
    def is_too_much(self) -> bool:
        """Whether the loss is above the limit at which a second stage would notice it."""
        return self.drop is None or self.drop.value > catalogue().limits["hose_drop"].value


def flow_through(hose: Hose, header: Header) -> Flow | None:
    """Give the flow through a hose at the greatest depth of its kit; None for a hose nobody breathes through."""
    role = catalogue().roles[hose.role]
    if role.device != SERVED:
        return None
    deepest = catalogue().limits["deepest"].value if header.deepest_m is None else header.deepest_m
    bore = hose.bore_m or catalogue().bodies[role.service, hose.body].bore.value
    return _flow(hose.length_m, bore, deepest)


@lru_cache(maxsize=1024)
def _flow(length_m: float, bore_m: float, depth_m: float) -> Flow:
    limits = catalogue().limits
    peak = peak_inspiratory_flow(limits["minute_volume"].value / 60)
    roughness = limits["hose_roughness"]
    drop, low, high = (
        _drop(length_m, bore_m, depth_m, peak, each) for each in (roughness.value, roughness.low, roughness.high)
    )
    if drop is None or low is None:
        return Flow(depth_m, peak, bore_m, None)
    most = limits["intermediate"].value  # a bore at its roughest that cannot pass it loses all there is
    return Flow(depth_m, peak, bore_m, Range(drop, low, most if high is None else high))


def _drop(length_m: float, bore_m: float, depth_m: float, flow_m3_s: float, roughness_m: float) -> float | None:
    """Give the pressure lost [Pa]; None when the hose cannot pass the flow."""
    ambient = ATMOSPHERE_PA + PA_PER_M * depth_m
    try:
        return hose_pressure_drop(
            supply_pressure_pa=ambient + catalogue().limits["intermediate"].value,
            ambient_pressure_pa=ambient,
            flow_m3_s=flow_m3_s,
            length_m=length_m,
            bore_m=bore_m,
            roughness_m=roughness_m,
            molar_mass_kg_mol=AIR_KG_MOL,
            viscosity_pa_s=AIR_VISCOSITY_PA_S,
            temperature_k=TEMPERATURE_K,
        )
    except Choked:
        return None
