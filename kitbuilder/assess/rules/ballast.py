"""What the body of the hoses means for lead and luggage: little, and it should be said."""

from kitbuilder.assess.context import Context
from kitbuilder.assess.findings import Amount, Finding, Signal, words
from kitbuilder.assess.rules.registry import Result, rule

LEAD_KG_M3 = 11340.0
"""Density of lead: handbook of chemistry and physics, from memory."""


@rule("bodies and lead")
def bodies_and_lead(context: Context) -> Result:
    """The whole gain from changing every hose body."""
    if not context.hoses:
        return
    heaviest, lightest = context.if_all["rubber"], context.if_all["braided"]
    mass = heaviest.mass.value - lightest.mass.value
    lift = lightest.buoyancy.value - heaviest.buoyancy.value
    yield Finding(
        Signal.NOTICE,
        None,
        None,
        words(
            "all hoses braided instead of all rubber saves ",
            Amount(mass, "mass"),
            " of luggage and asks for ",
            Amount(_lead_for(lift, context.water.density.value), "mass"),
            " more lead",
        ),
        words("Hoses matter for fit and snagging; for lead they hardly matter."),
        words("Choose the body for skin, bend and wear. Look for lead in cylinder, suit and plate."),
    )


def _lead_for(buoyancy_kgf: float, water_kg_m3: float) -> float:
    """The lead that takes away a buoyancy: more than its mass, since lead floats a little too [kg]."""
    return buoyancy_kgf / (1 - water_kg_m3 / LEAD_KG_M3)
