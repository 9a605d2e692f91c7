"""Lead, lift and what may fail: whether the diver can hold the stop, and get up from depth."""

from kitbuilder.assess.assembly import is_stage
from kitbuilder.assess.buoyancy.balance import Balance, Hold, WhatIf, hold_of
from kitbuilder.assess.buoyancy.buoyancy_model import lead_sinks
from kitbuilder.assess.buoyancy.cylinder_weight import missing_of
from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Unchecked, words
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.lead import IN_WATER, first_of
from kitbuilder.assess.rules.limit_words import with_range
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Cylinder, Drysuit, Jacket, Lead, Wing


@rule("balance")
def balance(context: Context) -> RuleResults:
    """Report what the balance cannot be worked out without, or would be more certain with."""
    kit = context.kit
    if not any(isinstance(item, Cylinder) for item in kit.items):
        yield Unchecked(None, "", words("lead and balance: the kit has no cylinder. Add one"))
    elif context.balance is None:
        yield Unchecked(None, "", words("lead and balance: no cylinder has a preset or all of its stamps"))
    if context.balance is None:
        return
    if not context.balance.buoyancy_model.body.is_given and not context.kit.linked.diver_problems:
        yield _body_not_given(context.balance)
    for number, item in enumerate(kit.items):
        if isinstance(item, Cylinder) and (key := missing_of(item)):
            yield Unchecked(number, key, words(f"lead and balance with {item.tag}: it is left out, gas and all"))
        if isinstance(item, Drysuit) and item.undersuit is None and item.suit_gas_m3 is None:
            yield Unchecked(number, "undersuit", words(f"the gas in {item.tag}: its lift is left out"))
        if isinstance(item, (Wing, Jacket)) and context.balance.buoyancy_model.lift is None:
            yield Unchecked(number, "lift", words(f"the lift of {item.tag}: neither preset nor file tells it"))


def _body_not_given(found: Balance) -> Unchecked:
    stature, mass = found.buoyancy_model.body.stature, found.buoyancy_model.body.mass
    return Unchecked(
        None,
        "diver",
        words(
            "stature and mass of the diver: taken as ",
            Amount(stature.value, "length"),
            " (± ",
            Amount(stature.spread, "length"),
            ") and ",
            Amount(mass.value, "body mass"),
            " (± ",
            Amount(mass.spread, "body mass"),
            "); the lead is known to ± ",
            Amount(found.lead.spread, "lead"),
        ),
    )


@rule("diver file")
def diver_file(context: Context) -> RuleResults:
    """Report a diver file that is named and cannot be used."""
    for problem in context.kit.linked.diver_problems:
        yield Finding(
            Signal.CAUTION,
            None,
            "diver",
            words(f"the diver file cannot be used: {problem}"),
            words("The lead is that of a diver who is not told, float checks and all."),
            words("Fix it, or name another; the balance makes a new one."),
        )


@rule("lift of the wing")
def lift_of_the_wing(context: Context) -> RuleResults:
    """Check whether the bladder lifts what is heaviest."""
    found = context.balance
    if found is None or found.buoyancy_model.lift is None:
        return
    heavy, lift = -found.heaviest.buoyancy.value, found.buoyancy_model.lift
    margin = catalogue().limits["lift_margin"].value
    unsure = (found.heaviest.buoyancy.spread**2 + lift.spread**2) ** 0.5
    number, key = first_of(context, (Wing, Jacket)), "lift"
    what = words(
        f"{found.heaviest.name} it is ",
        Amount(heavy, "lead"),
        " heavy, and the bladder lifts ",
        Amount(lift.value, "lead"),
        " when full (± ",
        Amount(unsure, "lead"),
        " between them)",
    )
    do = words("Take off lead, take lighter cylinders, or a bladder with more lift. ", *IN_WATER)
    if heavy > lift.value:
        why = words("It cannot be held at depth, and not at the surface with the head out of the water.")
        yield Finding(Signal.DANGER, number, key, what, why, do)
    elif heavy + margin > lift.value:
        why = words("Little is left to hold the head out of the water at the surface.")
        yield Finding(Signal.WARNING, number, key, what, why, do)
    elif heavy + margin + unsure > lift.value:
        why = words("Within what is not known of both, little may be left at the surface.")
        yield Finding(Signal.CAUTION, number, key, what, why, do)


@rule("failed wing")
def failed_wing(context: Context) -> RuleResults:
    """Check whether the diver gets up when the bladder does not hold gas."""
    found, failed = context.balance, _what_if(context, "wing fails")
    if found is None or failed is None:
        return
    heavy, limits = -failed.buoyancy.value, catalogue().limits
    swims = limits["swim_up"].value
    drops = found.buoyancy_model.droppable_kg * lead_sinks(context.water)
    spare = found.buoyancy_model.suit_gas is not None
    if heavy <= swims:
        return
    after = heavy - drops
    what = words(
        "with a failed wing at ",
        Amount(failed.depth_m, "depth"),
        " and the cylinders full it is ",
        Amount(heavy, "lead"),
        " heavy (± ",
        Amount(failed.buoyancy.spread, "lead"),
        ")",
    )
    number = first_of(context, (Wing, Jacket))
    if drops and after <= swims:
        yield Finding(
            Signal.NOTICE,
            number,
            None,
            (*what, "; dropping what can be dropped leaves ", Amount(max(after, 0.0), "lead")),
            words("About ", *with_range(limits["swim_up"], "lead"), " can be swum up against."),
            words("Drill dropping it, one hand, either hand."),
            rule_of_thumb=True,
        )
        return
    yield Finding(
        Signal.CAUTION if spare else Signal.WARNING,
        number,
        None,
        (*what, "; ", *((Amount(drops, "lead"), " of it can be dropped") if drops else ("no lead can be dropped",))),
        words(
            "About ",
            *with_range(limits["swim_up"], "lead"),
            " can be swum up against. ",
            "The drysuit is the only other lift there is." if spare else "There is no other lift.",
        ),
        words("Make some lead droppable, carry less, or carry a second way of lifting, and drill it."),
        rule_of_thumb=True,
    )


@rule("flooded drysuit")
def flooded_drysuit(context: Context) -> RuleResults:
    """Check whether the wing still lifts it all when the suit holds water."""
    found, flooded = context.balance, _what_if(context, "drysuit floods")
    if found is None or flooded is None or found.buoyancy_model.lift is None or found.buoyancy_model.suit_gas is None:
        return
    heavy, lift = -flooded.buoyancy.value, found.buoyancy_model.lift
    what = words(
        "with the suit flooded it loses ",
        Amount(found.buoyancy_model.suit_gas.value, "lead"),
        " of lift: at ",
        Amount(flooded.depth_m, "depth"),
        " with the cylinders full it is ",
        Amount(heavy, "lead"),
        " heavy, and the bladder lifts ",
        Amount(lift.value, "lead"),
    )
    unsure = (flooded.buoyancy.spread**2 + lift.spread**2) ** 0.5
    if heavy + unsure <= lift.value:
        return
    yield Finding(
        Signal.WARNING if heavy > lift.value else Signal.CAUTION,
        first_of(context, (Drysuit,)),
        None,
        (*what, " (± ", Amount(unsure, "lead"), " between them)"),
        words("Cold and heavy at once, with the wing as the only lift."),
        words("Take a bladder with more lift, or droppable lead, or a lighter undersuit and less lead with it."),
    )


@rule("dropped lead")
def dropped_lead(context: Context) -> RuleResults:
    """Check what happens when all droppable lead goes at the stop."""
    dropped = _what_if(context, "lead dropped")
    if dropped is None or dropped.buoyancy.value <= 0:
        return
    yield Finding(
        Signal.NOTICE,
        next(n for n, item in enumerate(context.kit.items) if isinstance(item, Lead) and item.droppable),
        "droppable",
        words(
            "with all droppable lead gone at the stop it floats up with ",
            Amount(dropped.buoyancy.value, "lead"),
            " (± ",
            Amount(dropped.buoyancy.spread, "lead"),
            ")",
        ),
        words("A buckle that opens by itself ends the stop."),
        words("Split it into pieces that are dropped one by one, and keep some on the harness."),
    )


@rule("lost stage")
def lost_stage(context: Context) -> RuleResults:
    """Check whether the stop is held without the stages."""
    lost = _what_if(context, "stages lost")
    if lost is None or context.balance is None:
        return
    number = next(n for n, _ in context.balance.buoyancy_model.vessels if is_stage(context.kit, n))
    hold, floats, spread = hold_of(lost.buoyancy), lost.buoyancy.value, Amount(lost.buoyancy.spread, "lead")
    if hold is Hold.HELD:
        return
    says = "floats at the stop with " if floats > 0 else "may float at the stop: it is heavy by "
    yield Finding(
        Signal.WARNING if hold is Hold.FLOATS else Signal.CAUTION,
        number,
        "carried",
        words(
            f"without its stages it {says}",
            Amount(abs(floats), "lead"),
            " (± ",
            spread,
            "), the reserve in the other cylinders",
        ),
        words("A stage that was handed off or lost takes its weight with it."),
        words("Carry the lead for the stop without stages. ", *IN_WATER),
    )


@rule("trim")
def trim(context: Context) -> RuleResults:
    """Check whether a diver who lies level at the stop is turned."""
    found = context.balance
    if found is None:
        return
    end, level = found.trim.end, catalogue().limits["level"].value
    turn = end.moment
    rests_level = end.is_steady and min(abs(end.pitch_low_rad), abs(end.pitch_high_rad)) <= level
    if end.may_be_level or rests_level:
        return
    rests = ("; it rests at ", Amount(abs(end.pitch_rad), "pitch")) if end.is_steady else ("; only fins hold it level",)
    yield Finding(
        Signal.CAUTION,
        None,
        None,
        words(
            f"at the stop a level diver is turned head {'down' if turn.value > 0 else 'up'} by ",
            Amount(abs(turn.value), "turn"),
            " (± ",
            Amount(turn.spread, "turn"),
            ")",
            *rests,
        ),
        words("A diver who is not level fins against his own lead."),
        words("See in the balance how far lead would have to move, and where to."),
        rule_of_thumb=True,
    )


def _what_if(context: Context, name: str) -> WhatIf | None:
    if context.balance is None:
        return None
    return next((found for found in context.balance.what_ifs if found.name == name), None)
