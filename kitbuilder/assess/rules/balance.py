"""Lead, lift and what may fail: whether the diver can hold the stop, and get up from depth."""

from kitbuilder.assess.assembly import is_stage
from kitbuilder.assess.buoyancy.balance import Balance, Hold, WhatIf, hold_of
from kitbuilder.assess.buoyancy.buoyancy_model import lead_sinks
from kitbuilder.assess.buoyancy.cylinder_weight import missing_of
from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Tag, Unchecked, Words, words
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.lead import IN_WATER, first_of
from kitbuilder.assess.rules.limit_words import about, with_range
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
            yield Unchecked(number, key, words("lead and balance: ", Tag(item.tag), " and its gas are left out"))
        if isinstance(item, Drysuit) and item.undersuit is None and item.suit_gas_m3 is None:
            yield Unchecked(number, "undersuit", words("the gas in ", Tag(item.tag), ": its lift is left out"))
        if isinstance(item, (Wing, Jacket)) and context.balance.buoyancy_model.lift is None:
            yield Unchecked(number, "lift", words("the lift of ", Tag(item.tag), ": no preset or file gives it"))


def _body_not_given(found: Balance) -> Unchecked:
    stature, mass = found.buoyancy_model.body.stature, found.buoyancy_model.body.mass
    return Unchecked(
        None,
        "diver",
        words(
            "stature and mass of the diver: taken as ",
            Amount(stature.value, "length"),
            " ± ",
            Amount(stature.spread, "length"),
            " and ",
            Amount(mass.value, "body mass"),
            " ± ",
            Amount(mass.spread, "body mass"),
            ". The lead is therefore known only to ± ",
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
            words("The lead is worked out for an average diver, without any float check."),
            words("Fix the diver file, or name another one. The balance can make a new one."),
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
        f"{found.heaviest.name} the kit pulls down with ",
        about(found.heaviest.buoyancy, "lead", times=-1.0),
        "; the full bladder lifts ",
        about(lift, "lead"),
    )
    less = "less lead, " if found.buoyancy_model.lead_kg else ""
    do = words(f"Carry {less}lighter cylinders or a bladder with more lift. ", *IN_WATER)
    if heavy > lift.value:
        why = words("The bladder can hold neither the depth nor the head above the water at the surface.")
        yield Finding(Signal.DANGER, number, key, what, why, do)
    elif heavy + margin > lift.value:
        why = words("Too little lift is left to hold the head above the water at the surface.")
        yield Finding(Signal.WARNING, number, key, what, why, do)
    elif heavy + margin + unsure > lift.value:
        why = words("Too little lift may be left to hold the head above the water at the surface.")
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
        f"if the {found.bladder} fails at ",
        Amount(failed.depth_m, "depth"),
        " with full cylinders, the kit pulls down with ",
        about(failed.buoyancy, "lead", times=-1.0),
    )
    number = first_of(context, (Wing, Jacket))
    if drops and after <= swims:
        yield Finding(
            Signal.NOTICE,
            number,
            None,
            (*what, ". Dropping the droppable lead leaves ", Amount(max(after, 0.0), "lead")),
            words("A diver can swim up against about ", *with_range(limits["swim_up"], "lead"), "."),
            words("Practise dropping the lead with one hand, left and right."),
            rule_of_thumb=True,
        )
        return
    yield Finding(
        Signal.CAUTION if spare else Signal.WARNING,
        number,
        None,
        (*what, *_droppable(found, drops)),
        words(
            "A diver can swim up against about ",
            *with_range(limits["swim_up"], "lead"),
            ". ",
            "The drysuit is the only other source of lift." if spare else "There is no other source of lift.",
        ),
        words(_how_to_get_up(found), " Practise using it."),
        rule_of_thumb=True,
    )


def _droppable(found: Balance, drops: float) -> Words:
    """Say how much of the weight can be dropped; nothing of a kit that carries no lead."""
    if drops:
        return (". ", Amount(drops, "lead"), " of that can be dropped")
    return (". No lead can be dropped",) if found.buoyancy_model.lead_kg else ()


def _how_to_get_up(found: Balance) -> str:
    """Say how to get up without the bladder, by what the kit carries."""
    lead_kg = found.buoyancy_model.lead_kg
    if not lead_kg:
        return "Carry lighter cylinders or a second source of lift."
    if lead_kg > found.buoyancy_model.droppable_kg:
        return "Make some lead droppable, carry less lead, or carry a second source of lift."
    return "Carry less lead or a second source of lift."


@rule("flooded drysuit")
def flooded_drysuit(context: Context) -> RuleResults:
    """Check whether the wing still lifts it all when the suit holds water."""
    found, flooded = context.balance, _what_if(context, "drysuit floods")
    if found is None or flooded is None or found.buoyancy_model.lift is None or found.buoyancy_model.suit_gas is None:
        return
    heavy, lift = -flooded.buoyancy.value, found.buoyancy_model.lift
    what = words(
        "if the drysuit floods at ",
        Amount(flooded.depth_m, "depth"),
        " with full cylinders, ",
        Amount(found.buoyancy_model.suit_gas.value, "lead"),
        " of its lift is gone. The kit then pulls down with ",
        about(flooded.buoyancy, "lead", times=-1.0),
        "; the full bladder lifts ",
        about(lift, "lead"),
    )
    unsure = (flooded.buoyancy.spread**2 + lift.spread**2) ** 0.5
    if heavy + unsure <= lift.value:
        return
    yield Finding(
        Signal.WARNING if heavy > lift.value else Signal.CAUTION,
        first_of(context, (Drysuit,)),
        None,
        what,
        words(f"The diver is cold and heavy at once, and the {found.bladder} is the only lift left."),
        words(f"Use a bladder with more lift, {_lighter_when_flooded(found)}."),
    )


def _lighter_when_flooded(found: Balance) -> str:
    if found.buoyancy_model.lead_kg:
        return "droppable lead, or a lighter undersuit with less lead"
    return "lighter cylinders, or a lighter undersuit"


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
            "if all droppable lead is lost at the stop, the diver floats up with ",
            about(dropped.buoyancy, "lead", least=0.0),
        ),
        words("A buckle that opens by itself then ends the stop."),
        words("Split the lead into pieces that are dropped one by one. Keep some of it on the harness."),
    )


@rule("lost stage")
def lost_stage(context: Context) -> RuleResults:
    """Check whether the stop is held without the stages."""
    lost = _what_if(context, "stages lost")
    if lost is None or context.balance is None:
        return
    number = next(n for n, _ in context.balance.buoyancy_model.vessels if is_stage(context.kit, n))
    hold = hold_of(lost.buoyancy)
    if hold is Hold.HELD:
        return
    yield Finding(
        Signal.WARNING if hold is Hold.FLOATS else Signal.CAUTION,
        number,
        "carried",
        words(
            f"without its stages the kit {'floats' if hold is Hold.FLOATS else 'may float'} up from the stop: with the "
            "reserve in the other cylinders its buoyancy is ",
            about(lost.buoyancy, "lift"),
        ),
        words("A stage that is handed to a buddy or lost takes its weight with it."),
        words("Carry enough lead for the stop without stages. ", *IN_WATER),
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
    rests: Words = ("only fins hold it level",)
    if end.is_steady:
        head = "down" if end.pitch_rad < 0 else "up"
        rests = (f"left alone, it floats head-{head} at ", Amount(abs(end.pitch_rad), "pitch"))
    yield Finding(
        Signal.CAUTION,
        None,
        None,
        words(
            f"at the stop the kit turns a level diver head-{'down' if turn.value > 0 else 'up'} with ",
            about(turn, "turn", times=1.0 if turn.value > 0 else -1.0),
            "; ",
            *rests,
        ),
        words("A diver who is not level has to fin against the kit all the time."),
        words("The balance shows how far to move lead, and where to."),
        rule_of_thumb=True,
    )


def _what_if(context: Context, name: str) -> WhatIf | None:
    if context.balance is None:
        return None
    return next((found for found in context.balance.what_ifs if found.name == name), None)
