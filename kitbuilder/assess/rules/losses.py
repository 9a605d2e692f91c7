"""Single failures that take too much: what hangs on one first stage, with no second way to its gas."""

from kitbuilder.assess.buoyancy.buoyancy_model import bladder_of
from kitbuilder.assess.findings import Finding, RuleResults, Signal, words
from kitbuilder.assess.gas.feeds import fed_from, first_stages_of
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.kit.items import Drysuit, Item, Jacket, SecondStage, Wing


@rule("all second stages on one first stage")
def all_second_stages_on_one_first_stage(context: Context) -> RuleResults:
    """Report a first stage whose loss leaves nothing to breathe from."""
    hanging = _hanging(context, SecondStage)
    stage = _only_feed(hanging)
    if stage is None:
        return
    tags = " and ".join(hanging)
    if len(first_stages_of(context.kit)) == 1:
        yield Finding(
            Signal.NOTICE,
            context.numbers[stage],
            None,
            words(f"this is the only first stage: if it fails, every second stage is lost ({tags})"),
            words("The diver then has no gas to breathe, except from a buddy."),
            words("Stay within reach of a buddy, or carry a second cylinder with its own first stage."),
            rule_of_thumb=True,
        )
        return
    yield Finding(
        Signal.WARNING,
        context.numbers[stage],
        None,
        words(f"this first stage feeds every second stage ({tags}); the other first stages feed none"),
        words("If it fails or its valve is closed, the diver has no gas to breathe."),
        words("Connect one second stage to another first stage."),
    )


@rule("wing and drysuit on one first stage")
def wing_and_drysuit_on_one_first_stage(context: Context) -> RuleResults:
    """Report a first stage, one of several, whose loss takes the inflation of wing and drysuit together."""
    bladders, suits = _hanging(context, Wing, Jacket), _hanging(context, Drysuit)
    stage = _only_feed(bladders)
    if stage is None or stage != _only_feed(suits) or len(first_stages_of(context.kit)) == 1:
        return
    yield Finding(
        Signal.CAUTION,
        context.numbers[stage],
        None,
        words(f"this first stage alone inflates {' and '.join((*bladders, *suits))}"),
        words(f"If it fails or its valve is closed, neither {bladder_of(context.kit)} nor drysuit can be inflated."),
        words("Connect one of the two to another first stage."),
        rule_of_thumb=True,
    )


def _hanging(context: Context, *kinds: type[Item]) -> dict[str, frozenset[str]]:
    """Give the items of some kinds that gas reaches, by tag, and the first stages each hangs on."""
    feeds = fed_from(context.kit)
    tags = (item.tag for item in context.kit.items if isinstance(item, kinds))
    return {tag: feeds[tag] for tag in tags if tag in feeds}


def _only_feed(hanging: dict[str, frozenset[str]]) -> str | None:
    """Give the one first stage that all of the items hang on; None when there are more, or no items."""
    stages = frozenset().union(*hanging.values())
    return next(iter(stages)) if len(stages) == 1 else None
