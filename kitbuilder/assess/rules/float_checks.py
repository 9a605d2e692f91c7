"""Float checks that contradict the rest, or cannot be used."""

from kitbuilder.assess.buoyancy.float_checks import Seen
from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Unchecked, Words, words
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule


@rule("float check")
def float_check(context: Context) -> RuleResults:
    """Compare each float check with everything else that is known, the other checks included."""
    if context.balance is None:
        return
    counted = sum(seen.is_counted for seen in context.balance.checks)
    for seen in context.balance.checks:
        if not seen.is_counted and not seen.check.excluded:
            yield Unchecked(
                None, "", words(f'the float check "{seen.check.tag}" of the diver file is not counted: {seen.because}')
            )
        if not seen.contradicts:
            continue
        yield Finding(
            Signal.CAUTION,
            None,
            "diver",
            contradiction(seen, counted),
            words("It may be a mistake, so it counts for little. The lead stays uncertain until another check agrees."),
            words(
                "Check its lead, pressure, water and depth in the diver file. Make another float check. If this one "
                "was a mistake, write `excluded = true` in it."
            ),
        )


def contradiction(seen: Seen, counted: int) -> Words:
    """Say how far a float check is off from all else that is known; `counted` checks count."""
    others = "the other float checks and the figures" if counted > 1 else "the figures of body, suit and cylinder"
    direction = "more" if seen.off > 0 else "less"
    return words(
        f'the float check "{seen.check.tag}" contradicts {others}: the diver floated ',
        Amount(abs(seen.off), "lead"),
        f" {direction} than these say, and they may be off by ",
        Amount(seen.off_spread, "lead"),
    )
