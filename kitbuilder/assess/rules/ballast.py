"""What the body of the hoses means for lead and luggage: little, and it should be said."""

from kitbuilder.assess.figures import difference
from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, words
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.physics.buoyancy import lead_for


@rule("bodies and lead")
def bodies_and_lead(context: Context) -> RuleResults:
    """Report the complete gain from changing every hose body."""
    if not context.hoses:
        return
    heaviest, lightest = context.if_all["rubber"], context.if_all["braided"]
    mass = difference(heaviest.mass, lightest.mass, "")
    lift = difference(lightest.buoyancy, heaviest.buoyancy, "")
    if mass.value <= mass.spread or lift.value <= 0:
        return
    lead = lead_for(lift.value, context.water.density.value)
    yield Finding(
        Signal.NOTICE,
        None,
        None,
        words(
            "all hoses braided instead of all rubber saves ",
            Amount(mass.value, "mass"),
            " of luggage (give or take ",
            Amount(mass.spread, "mass"),
            ") and asks for ",
            Amount(lead, "mass"),
            " more lead",
        ),
        words("Hoses matter for fit and snagging; for lead they hardly matter."),
        words("Choose the body for skin, bend and wear. Look for lead in cylinder, suit and plate."),
    )
