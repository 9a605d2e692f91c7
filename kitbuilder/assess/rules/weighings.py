"""Weighings that cannot both be right."""

from kitbuilder.assess.buoyancy.cylinder_weight import preset_of
from kitbuilder.assess.findings import Amount, Finding, Signal, words
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import Result, rule
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.kit.things import Cylinder, Device, FirstStage, Suit, Thing


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


@rule("unlike its preset")
def unlike_its_preset(context: Context) -> Result:
    """A mass far from what such a thing weighs: a slip of the unit or the comma, or another thing."""
    far = catalogue().limits["unlike_preset"].value
    for number, thing in enumerate(context.kit.things):
        told, usual = _told_mass(thing), _usual_mass(thing)
        if told is None or usual is None or usual.low / far <= told <= usual.high * far:
            continue
        yield Finding(
            Signal.CAUTION,
            number,
            "stamped_mass" if isinstance(thing, Cylinder) and thing.mass_kg is None else "mass",
            words(
                "it weighs ",
                Amount(told, "mass"),
                f", and {getattr(thing, 'preset', None)} weighs from ",
                Amount(usual.low, "mass"),
                " to ",
                Amount(usual.high, "mass"),
            ),
            words("A slip of the unit or the comma moves every figure of it, and the lead."),
            words("Look at the number and its unit again; if it is right, take another preset or none."),
            rule_of_thumb=True,
        )


def _told_mass(thing: Thing) -> float | None:
    if isinstance(thing, Cylinder):
        return thing.stamped_mass_kg if thing.mass_kg is None else thing.mass_kg
    return thing.mass_kg if isinstance(thing, (FirstStage, Device)) else None


def _usual_mass(thing: Thing) -> Value | None:
    if isinstance(thing, Cylinder):
        preset = preset_of(thing)
        return preset.mass if preset else None
    entry = catalogue().presets.get((thing.kind, getattr(thing, "preset", None) or ""))
    return entry.mass if entry else None
