"""First stages on their valves: what does not fit, and what does not bear the pressure."""

from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Unchecked, words
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.limit_words import with_range
from kitbuilder.assess.rules.registry import rule

SEATING = "first stage on its valve"
"""The rule of this file that says what does not hold."""


@rule(SEATING)
def first_stage_on_its_valve(context: Context) -> RuleResults:
    """Report a first stage that does not go on the valve of its cylinder, or only with an adapter."""
    for number, seat in context.seats.items():
        seating = seat.seating
        if seating is None or seating.fits == "yes":
            continue
        pair = f"{seating.connection} on a valve with {seating.outlet}"
        if seating.fits == "unknown":
            because = words(
                f"whether the first stage seals: {pair}. {seating.note} Read the connection off the first stage"
            )
            yield Unchecked(number, "connection", because)
        elif seating.fits == "adapter":
            yield Finding(
                Signal.CAUTION,
                number,
                "connection",
                words(f"the first stage fits its valve only with an adapter or an insert: {pair}"),
                words(seating.note),
                words("Keep the adapter or the insert with the kit, or use a first stage that fits."),
            )
        else:
            yield Finding(
                Signal.WARNING,
                number,
                "connection",
                words(f"the first stage does not fit its valve: {pair}"),
                words(seating.note),
                words("Use another first stage or another cylinder, so that the two fit each other."),
            )


@rule("pressure rating")
def pressure_rating(context: Context) -> RuleResults:
    """Report a filling above what a first stage or its outlet is made for."""
    for number, seat in context.seats.items():
        side, filled = seat.weaker, seat.filled_pa
        if filled is None or filled <= side.limit.value:
            continue
        is_beyond = filled > side.limit.high
        yield Finding(
            Signal.DANGER if is_beyond else Signal.CAUTION,
            number,
            "connection",
            words(
                "the cylinder is filled to ",
                Amount(filled, "pressure"),
                f"; the limit of the connection {side.name} is ",
                *with_range(side.limit, "pressure"),
            ),
            words("The connection may leak, or come apart suddenly."),
            words(
                "Fill no further than the limit"
                if is_beyond
                else "Read the pressure stamped on it, and fill no further than that",
                ", or use a first stage and a valve made for the pressure.",
            ),
        )
