"""Lead: whether it holds the stop, and whether it is more than is needed."""

from kitbuilder.assess.buoyancy.balance import Balance, Hold, hold_of
from kitbuilder.assess.buoyancy.item_weight import lead_mass
from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Words, words
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Item, Lead

A_CHECK = words("Confirm it in the water: a float check at the end of a shallow dive that needs no stop")
IN_WATER = (*A_CHECK, ", with lead to spare.")


@rule("lead for the stop")
def lead_for_the_stop(context: Context) -> RuleResults:
    """Report lead that does not hold the stop with a certainty of 95 %, or much more than needed."""
    found = context.balance
    if found is None:
        return
    if hold_of(found.missing) is not Hold.HELD:
        yield _short_at_the_stop(context, found)
    elif found.surplus_kg > max(found.lead.spread, catalogue().limits["too_much_lead"].value):
        yield _heavy_at_the_stop(context, found)


def _short_at_the_stop(context: Context, found: Balance) -> Finding:
    """Find too little lead, or what may be too little within the spread."""
    carried = Amount(found.buoyancy_model.lead_kg, "lead")
    number, key = _lead_place(context)
    ready = Amount(found.certain_kg, "lead")
    do = words(*_advice(found), *A_CHECK, ", with ", ready, " of lead ready for it.")
    if hold_of(found.missing) is Hold.FLOATS:
        return Finding(
            Signal.WARNING,
            number,
            key,
            words(
                "at the stop with the reserve it floats: it carries ",
                carried,
                " of lead and needs ",
                *_lead_with_spread(found),
            ),
            words("The stop cannot be held when the gas is low, which is when it counts."),
            do,
        )
    if found.missing.value <= catalogue().limits["breath_makes_up"].value:
        return Finding(
            Signal.CAUTION,
            number,
            key,
            words(
                "the lead is not known well enough to hold the stop: it carries ",
                carried,
                " and needs ",
                *_needs(found),
            ),
            words("The diver may float up from the stop, low on gas: holding it is less than 95 % certain."),
            words(
                f"Make {'another' if found.counted_checks else 'a'} float check first, at the end of a shallow dive "
                "that needs no stop. Have ",
                ready,
                " of lead ready for it.",
            ),
        )
    return Finding(
        Signal.CAUTION,
        number,
        key,
        words("the lead may be short at the stop: it carries ", carried, " and needs ", *_lead_with_spread(found)),
        words("Within what is not known of body, suit and cylinder the stop may float off."),
        do,
    )


def _heavy_at_the_stop(context: Context, found: Balance) -> Finding:
    """Find too much lead, or too much of everything else where there is none."""
    carried, needed = found.buoyancy_model.lead_kg, found.lead
    if not carried:
        return Finding(
            Signal.NOTICE,
            None,
            None,
            words(
                "without any lead it is ",
                Amount(-needed.value, "lead"),
                " too heavy at the stop with the reserve (± ",
                Amount(needed.spread, "lead"),
                ")",
            ),
            words("What is too heavy is carried as gas in the wing, which swells and shrinks with every metre."),
            words("Look for what may be lighter: plate, cylinders, torch. ", *IN_WATER),
        )
    return Finding(
        Signal.CAUTION,
        *_lead_place(context),
        words("it carries more lead than it needs: ", Amount(carried, "lead"), ", and the stop needs ", *_needs(found)),
        words("Lead beyond need is carried as gas in the wing, which swells and shrinks with every metre."),
        words("Take some off, a piece at a time. ", *IN_WATER),
    )


@rule("much lead")
def much_lead(context: Context) -> RuleResults:
    """Report more lead than nearly anybody dives with."""
    most = catalogue().limits["lead_most_usual"].value
    carried = sum(lead_mass(item) for item in context.kit.items if isinstance(item, Lead))
    if carried > most:
        number, key = _lead_place(context)
        yield Finding(
            Signal.CAUTION,
            number,
            key,
            words(
                "it has ",
                Amount(carried, "lead"),
                " of lead; more than ",
                Amount(most, "lead"),
                " is seldom dived with",
            ),
            words("Each kilogram is carried up the steps and lifted by the wing."),
            words("Check the number and the unit. A lighter undersuit or a heavier plate may serve better."),
            rule_of_thumb=True,
        )


def _lead_with_spread(found: Balance) -> Words:
    return (Amount(found.lead.value, "lead"), " (± ", Amount(found.lead.spread, "lead"), ")")


def _needs(found: Balance) -> Words:
    if found.lead.value > 0:
        return _lead_with_spread(found)
    sinks = -found.lead.value
    return ("none: without any it is ", Amount(sinks, "lead"), " too heavy (± ", *_lead_with_spread(found)[2:])


def _advice(found: Balance) -> Words:
    """Advise what to take; give nothing that a float check which contradicts all else asks for."""
    if any(seen.contradicts for seen in found.checks):
        return ("Fix the float check that contradicts the rest first. ",)
    return ("Take ", found.pieces.words, ". ")


def _lead_place(context: Context) -> tuple[int | None, str | None]:
    number = first_of(context, (Lead,))
    return number, None if number is None else "mass"


def first_of(context: Context, kinds: tuple[type[Item], ...]) -> int | None:
    """Give the number of the first item of some kinds."""
    return next((number for number, item in enumerate(context.kit.items) if isinstance(item, kinds)), None)
