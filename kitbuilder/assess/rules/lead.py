"""Lead: whether it holds the stop, and whether it is more than is needed."""

from kitbuilder.assess.buoyancy.balance import Balance, Hold, hold_of
from kitbuilder.assess.buoyancy.buoyancy_model import bladder_of
from kitbuilder.assess.buoyancy.item_weight import lead_mass
from kitbuilder.assess.findings import About, Amount, Finding, RuleResults, Signal, Words, words
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.limit_words import about
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Item, Lead

A_CHECK = words("Confirm it in the water with a float check at the end of a shallow dive that needs no stop")
IN_WATER = (*A_CHECK, "; bring spare lead.")


@rule("lead for stop")
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
    do = words(*_advice(found), *A_CHECK, "; bring ", ready, " of lead.")
    if hold_of(found.missing) is Hold.FLOATS:
        return Finding(
            Signal.WARNING,
            number,
            key,
            words(
                "with the reserve left the diver floats up from the stop: the kit carries ",
                carried,
                " of lead and needs ",
                _lead_needed(found),
            ),
            words("The stop cannot be held when the gas is low, and that is when it matters."),
            do,
        )
    if found.missing.value <= catalogue().limits["breath_makes_up"].value:
        return Finding(
            Signal.CAUTION,
            number,
            key,
            words(*_what_is_not_certain(found, carried, ready)),
            words("The diver may float up from the stop with little gas left: the chance to hold it is below 95 %."),
            words(
                f"Make {'another' if found.counted_checks else 'a'} float check first, at the end of a shallow dive "
                "that needs no stop. Bring ",
                ready,
                " of lead to it.",
            ),
        )
    return Finding(
        Signal.CAUTION,
        number,
        key,
        words("the kit may carry too little lead for the stop: ", carried, "; it needs ", _lead_needed(found)),
        words("The diver may float up from the stop: body, suit and cylinders are not known more closely."),
        do,
    )


def _what_is_not_certain(found: Balance, carried: Amount, ready: Amount) -> Words:
    """Say that more lead may be needed than is carried, also where the best estimate is none."""
    if found.lead.value > 0:
        return (
            "it is not certain that the lead holds the stop: the kit carries ", carried, " and needs ",
            _lead_needed(found),
        )  # fmt: skip
    carries: Words = (" carries ", carried) if found.buoyancy_model.lead_kg else (" carries none",)
    return ("by the best estimate the stop needs no lead, but it may need up to ", ready, "; the kit", *carries)


def _heavy_at_the_stop(context: Context, found: Balance) -> Finding:
    """Find too much lead, or too much of everything else where there is none."""
    carried, needed = found.buoyancy_model.lead_kg, found.lead
    if not carried:
        return Finding(
            Signal.NOTICE,
            None,
            None,
            words(
                "even without lead, diver and kit are too heavy at the stop with the reserve left, by ",
                about(needed, "lead", times=-1.0, least=0.0),
            ),
            words(f"The {found.bladder} has to carry the excess with gas, which expands and shrinks with every metre."),
            words("Look for lighter items: plate, cylinders, torch. ", *IN_WATER),
        )
    return Finding(
        Signal.CAUTION,
        *_lead_place(context),
        words("the kit carries ", Amount(carried, "lead"), " of lead, and the stop needs ", *_needs(found)),
        words(f"The {found.bladder} has to carry the extra lead with gas, which expands and shrinks with every metre."),
        words("Remove lead, one piece at a time. ", *IN_WATER),
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
                "the kit carries ",
                Amount(carried, "lead"),
                " of lead; few divers carry more than ",
                Amount(most, "lead"),
            ),
            words(f"Every kilogram is carried to the water and lifted by the {bladder_of(context.kit) or 'wing'}."),
            words("Check the number and its unit. A lighter undersuit or a heavier plate may be the better choice."),
            rule_of_thumb=True,
        )


def _lead_needed(found: Balance) -> About:
    return about(found.lead, "lead", least=0.0)


def _needs(found: Balance) -> Words:
    if found.lead.value > 0:
        return (_lead_needed(found),)
    return ("none: without lead, diver and kit are too heavy by ", about(found.lead, "lead", times=-1.0, least=0.0))


def _advice(found: Balance) -> Words:
    """Advise what to take; give nothing that a float check which contradicts all else asks for."""
    if any(seen.contradicts for seen in found.checks):
        return ("First correct the float check that contradicts the rest. ",)
    return ("Take ", found.pieces.words, ". ")


def _lead_place(context: Context) -> tuple[int | None, str | None]:
    number = first_of(context, (Lead,))
    return number, None if number is None else "mass"


def first_of(context: Context, kinds: tuple[type[Item], ...]) -> int | None:
    """Give the number of the first item of some kinds."""
    return next((number for number, item in enumerate(context.kit.items) if isinstance(item, kinds)), None)
