"""What the body of the hoses changes in lead and luggage: very little, which is worth saying."""

from kitbuilder.assess.figures import difference
from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, words
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.limit_words import about
from kitbuilder.assess.rules.registry import rule
from kitbuilder.physics.buoyancy import lead_for


@rule("bodies and lead")
def bodies_and_lead(context: Context) -> RuleResults:
    """Report what changing every hose from the heaviest body to the lightest would save."""
    if not context.hoses:
        return
    by_mass = sorted(context.if_all, key=lambda body: context.if_all[body].mass.value)
    lightest, heaviest = by_mass[0], by_mass[-1]
    light, heavy = context.if_all[lightest], context.if_all[heaviest]
    mass = difference(heavy.mass, light.mass, "")
    lift = difference(light.buoyancy, heavy.buoyancy, "")
    if mass.value <= mass.spread or lift.value <= 0:
        return
    lead = lead_for(lift.value, context.water.density.value)
    yield Finding(
        Signal.NOTICE,
        None,
        None,
        words(
            f"with {lightest} instead of {heaviest} bodies, the hoses together weigh less by ",
            about(mass, "mass"),
            ", and the diver needs ",
            Amount(lead, "mass"),
            " more lead",
        ),
        words("Hoses matter for fit and snagging. For the lead they hardly matter."),
        words("Choose the body of a hose by skin, bend and wear. To carry less lead, change cylinder, suit or plate."),
    )
