"""Weighings that cannot both be right."""

from dataclasses import replace

from kitbuilder.assess.buoyancy.cylinder_weight import preset_of
from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, words
from kitbuilder.assess.hoses.hose_weight import weigh_hose
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.kit.items import Cylinder, Device, FirstStage, Item, Suit


@rule("heavier in water")
def heavier_in_water(context: Context) -> RuleResults:
    """Report an item that sinks with more than it weighs in air."""
    for number, (item, weight) in enumerate(zip(context.kit.items, context.weights, strict=True)):
        if not isinstance(item, (Device, Suit)) or item.buoyancy_kgf is None or weight is None:
            continue
        if item.buoyancy_kgf + weight.mass.value >= -weight.mass.spread:
            continue
        yield Finding(
            Signal.WARNING,
            number,
            "buoyancy",
            words(
                "it is heavier under water, ",
                Amount(-item.buoyancy_kgf, "mass"),
                ", than in air, ",
                Amount(weight.mass.value, "mass"),
            ),
            words("Nothing is; one of the weighings is wrong, and the lead with it."),
            words("Weigh it again, dry and then hanging in fresh water; what sinks has a minus."),
        )


@rule("unlike its preset")
def unlike_its_preset(context: Context) -> RuleResults:
    """Report a mass far from what such an item weighs: a slip of the unit or the comma, or another item."""
    far = catalogue().limits["unlike_preset"].value
    for number, item in enumerate(context.kit.items):
        given, usual = _given_mass(item), _usual_mass(item)
        if given is None or usual is None or usual.low / far <= given <= usual.high * far:
            continue
        yield Finding(
            Signal.CAUTION,
            number,
            "stamped_mass" if isinstance(item, Cylinder) and item.mass_kg is None else "mass",
            words(
                "it weighs ",
                Amount(given, "mass"),
                f", and {getattr(item, 'preset', None)} weighs from ",
                Amount(usual.low, "mass"),
                " to ",
                Amount(usual.high, "mass"),
            ),
            words("A slip of the unit or the comma moves every figure of it, and the lead."),
            words("Look at the number and its unit again; if it is right, take another preset or none."),
            rule_of_thumb=True,
        )


@rule("unlike its body")
def unlike_its_body(context: Context) -> RuleResults:
    """Report a hose that weighs far from what its body and its ends come to: a slip of the unit or the comma."""
    far = catalogue().limits["unlike_body"].value
    for figures in context.hoses:
        hose = figures.hose
        if hose.mass_kg is None:
            continue
        computed = weigh_hose(replace(hose, mass_kg=None, mass_spread_kg=None), hose.body, context.water).mass
        low, high = computed.value - computed.spread, computed.value + computed.spread
        if low / far <= hose.mass_kg <= high * far:
            continue
        yield Finding(
            Signal.CAUTION,
            figures.number,
            "mass",
            words(
                "it weighs ",
                Amount(hose.mass_kg, "mass"),
                f", and a hose of {hose.body} of this length weighs from ",
                Amount(low, "mass"),
                " to ",
                Amount(high, "mass"),
            ),
            words("A slip of the unit or the comma moves the mass of the kit."),
            words("Check number and unit. If both are right, check the length and the body."),
            rule_of_thumb=True,
        )


def _given_mass(item: Item) -> float | None:
    if isinstance(item, Cylinder):
        return item.stamped_mass_kg if item.mass_kg is None else item.mass_kg
    return item.mass_kg if isinstance(item, (FirstStage, Device)) else None


def _usual_mass(item: Item) -> Value | None:
    if isinstance(item, Cylinder):
        preset = preset_of(item)
        return preset.mass if preset else None
    entry = catalogue().presets.get((item.kind, getattr(item, "preset", None) or ""))
    return entry.mass if entry else None
