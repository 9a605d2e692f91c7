"""Weighings that cannot both be right."""

from dataclasses import replace

from kitbuilder.assess.buoyancy.cylinder_weight import preset_of
from kitbuilder.assess.buoyancy.weigh_alone import scale_under_water
from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Words, words
from kitbuilder.assess.hoses.hose_weight import weigh_hose
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.kit.items import Cylinder, Device, FirstStage, Item, Suit
from kitbuilder.kit.resolved import ResolvedKit


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
                "by its weighings the item is heavier under water (",
                Amount(-item.buoyancy_kgf, "mass"),
                ") than in air (",
                Amount(weight.mass.value, "mass"),
                ")",
            ),
            words("No item is. One of the weighings is wrong, and so is the lead."),
            words("Weigh the item again, dry and then hanging in fresh water. Write a minus for what sinks."),
        )


@rule("unlike its preset")
def unlike_its_preset(context: Context) -> RuleResults:
    """Report a mass far from what such an item weighs: a wrong unit or a shifted comma, or another item."""
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
                "its mass, ",
                Amount(given, "mass"),
                ", is far from the ",
                Amount(usual.low, "mass"),
                " to ",
                Amount(usual.high, "mass"),
                f" of its preset {getattr(item, 'preset', None)}",
            ),
            words("A wrong unit or a shifted comma makes every figure of the item wrong, and the lead too."),
            words("Check the number and its unit. If both are right, choose another preset, or none."),
            rule_of_thumb=True,
        )


@rule("unlike its body")
def unlike_its_body(context: Context) -> RuleResults:
    """Report a hose that weighs far from what its body and its ends come to: a wrong unit or a shifted comma."""
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
                "its mass, ",
                Amount(hose.mass_kg, "mass"),
                ", is far from the ",
                Amount(low, "mass"),
                " to ",
                Amount(high, "mass"),
                f" of a hose with a {hose.body} body of this length",
            ),
            words("A wrong unit or a shifted comma makes the mass of the kit wrong."),
            words("Check the number and its unit. If both are right, check the length and the body of the hose."),
            rule_of_thumb=True,
        )


def other_sign(kit: ResolvedKit, number: int, before: Item | None) -> Words | None:
    """Say that the buoyancy of an item floats where it is known to sink, or sinks where it floats; None when neither.

    A scale under water shows no minus. What follows from preset, volume or foam counts before the earlier reading, so
    that a wrong sign can be corrected without a question.

    Args:
        kit: The kit with the buoyancy.
        number: Of the item in the kit.
        before: The item as it was; None where it is not known.
    """
    item, diver = kit.items[number], kit.linked.diver
    if not isinstance(item, (Device, Suit)) or item.buoyancy_kgf is None:
        return None
    given = item.buoyancy_kgf
    unread = replace(item, buoyancy_kgf=None, buoyancy_spread_kgf=None, buoyancy_half_digit_kgf=None)
    known = scale_under_water(unread, diver) or (scale_under_water(before, diver) if before else None)
    if known is None or abs(known.value) <= known.spread or given * known.value >= 0:
        return None
    does, did = ("floats", "it sinks") if given > 0 else ("sinks", "it floats")
    return words(
        Amount(given, "buoyancy"),
        f" means that the item {does}, but as far as is known ({known.origin}) {did}: ",
        Amount(known.value, "buoyancy"),
        '. Does it float or sink? Write "sinks 0.15 kg" or "floats 0.15 kg"',
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
