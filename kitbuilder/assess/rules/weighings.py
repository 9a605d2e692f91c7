"""Weighings that cannot both be right."""

from kitbuilder.assess.context import Context
from kitbuilder.assess.findings import Amount, Finding, Signal, words
from kitbuilder.assess.rules.registry import Result, rule
from kitbuilder.kit.things import Device, Suit


@rule("heavier in water")
def heavier_in_water(context: Context) -> Result:
    """A thing that sinks with more than it weighs in air."""
    for number, (thing, weight) in enumerate(zip(context.kit.things, context.weights, strict=True)):
        if not isinstance(thing, (Device, Suit)) or thing.buoyancy_kgf is None or weight is None:
            continue
        if thing.buoyancy_kgf + weight.mass.value >= -weight.mass.spread:
            continue
        yield Finding(
            Signal.WARNING,
            number,
            "buoyancy",
            words(
                "it is heavier under water, ",
                Amount(-thing.buoyancy_kgf, "mass"),
                ", than in air, ",
                Amount(weight.mass.value, "mass"),
            ),
            words("Nothing is; one of the weighings is wrong, and the lead with it."),
            words("Weigh it again, dry and then hanging in fresh water; what sinks has a minus."),
        )
