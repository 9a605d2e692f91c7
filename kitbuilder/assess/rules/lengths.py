"""Run against length: too short, too long, too tight, not in stock."""

from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Unchecked, Words, words
from kitbuilder.assess.fit.fit import LONG, RIGHT, Fit, StockOption, stock_lengths
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import catalogue


def _length(value_m: float) -> Amount:
    return Amount(value_m, "length")


@rule("too short")
def too_short(context: Context) -> RuleResults:
    """Report a hose that does not cover its run."""
    for figures, fit in _fitted(context):
        missing = -fit.slack.value
        if missing <= 0:
            continue
        sure = missing > fit.slack.spread
        yield Finding(
            Signal.WARNING if sure else Signal.CAUTION,
            figures.number,
            "length",
            words(
                "it is ",
                _length(missing),
                " short of its run of ",
                _length(fit.run.value),
                "" if sure else ", less than the measurement can tell",
            ),
            words(
                "It pulls the mouthpiece from the mouth when you turn your head."
                if catalogue().roles[figures.hose.role].device == "second_stage"
                else "It pulls at both its ends when you turn or reach."
            ),
            _longer_advice(fit) if sure else words("Measure the run again, then: ", *_longer_advice(fit)),
        )


@rule("just reaches")
def just_reaches(context: Context) -> RuleResults:
    """Report a hose that covers its run by less than the measurement can tell."""
    for figures, fit in _fitted(context):
        if 0 <= fit.slack.value < fit.slack.spread:
            yield Finding(
                Signal.NOTICE,
                figures.number,
                "run",
                words(
                    "it covers its run with ",
                    _length(fit.slack.value),
                    " to spare, and the measurement may be off by ",
                    _length(fit.slack.spread),
                ),
                words("It may turn out too short when you turn or reach."),
                words("Measure the run again, worn, and try the hose in every pose before you dive it."),
            )


@rule("stands off")
def stands_off(context: Context) -> RuleResults:
    """Report slack that lets a hose leave the body and snag."""
    limits = catalogue().limits
    for figures, fit in _fitted(context):
        if fit.stand_off is None or fit.stand_off.value <= limits["stand_off_caution"].value:
            continue
        far = fit.stand_off.value > limits["stand_off_warning"].value
        yield Finding(
            Signal.WARNING if far else Signal.CAUTION,
            figures.number,
            "length",
            words(
                _length(fit.rest_slack.value),
                " of slack over a free span of ",
                _length(fit.span_m),
                " stands ",
                _length(fit.stand_off.value),
                " off the body (",
                _length(fit.stand_off.low),
                " to ",
                _length(fit.stand_off.high),
                ")",
            ),
            words(
                "A loop that stands off snags on line, wreck and ladder. Slack grows into stand-off as a square root."
            ),
            _shorter_advice(fit),
            rule_of_thumb=not far,
        )


@rule("hangs in a loop")
def hangs_in_a_loop(context: Context) -> RuleResults:
    """Report so much slack that no stand-off can be computed."""
    for figures, fit in _fitted(context):
        if fit.is_loop:
            yield Finding(
                Signal.WARNING,
                figures.number,
                "length",
                words(
                    _length(fit.rest_slack.value),
                    " of slack over a free span of ",
                    _length(fit.span_m),
                    " hangs in a loop",
                ),
                words("A loop snags on everything. Beyond three times the span no stand-off is computed."),
                _shorter_advice(fit),
            )


@rule("tight bend")
def tight_bend(context: Context) -> RuleResults:
    """Report a bend below the smallest radius of the hose body."""
    for figures, fit in _fitted(context):
        body = catalogue().bodies[figures.service, figures.hose.body]
        radius, smallest = fit.tightest_radius_m, body.minimum_bend_radius
        if radius is None or radius >= smallest.value:
            continue
        yield Finding(
            Signal.CAUTION,
            figures.number,
            "span",
            words(
                "it bends to a radius of ",
                Amount(radius, "radius"),
                f"; an {body.service} hose of {body.name} body takes no less than ",
                Amount(smallest.value, "radius"),
                " (",
                Amount(smallest.low, "radius"),
                " to ",
                Amount(smallest.high, "radius"),
                ")",
            ),
            words("A hose bent too tightly kinks, chokes the gas and cracks at the crimp."),
            words("Take a shorter hose, a body that bends tighter, or give it a longer free span or an elbow."),
            rule_of_thumb=True,
        )


@rule("custom length")
def custom_length(context: Context) -> RuleResults:
    """Report a run for which no stock length both reaches and stays close."""
    for figures, fit in _fitted(context):
        if fit.best_stock is None and fit.verdict != RIGHT and not figures.hose.stowed_m:
            longest = stock_lengths(figures.hose)[-1]
            yield Finding(
                Signal.NOTICE,
                figures.number,
                "length",
                words(
                    "no stock length up to ",
                    _length(longest),
                    " covers this run and stays within ",
                    _length(catalogue().limits["stand_off_caution"].value),
                    " of the body",
                ),
                words("Each of them either pulls or stands off."),
                words(
                    "Have a hose made to ", _length(_made_length(figures, fit)), ", or hold the hose in one more place."
                ),
            )


@rule("span and run")
def span_and_run(context: Context) -> RuleResults:
    """Report a free span longer than the run it is part of."""
    for figures in context.hoses:
        hose = figures.hose
        if hose.span_m is not None and hose.run_m is not None and hose.span_m > hose.run_m:
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "span",
                words("the free span of ", _length(hose.span_m), " is longer than the run of ", _length(hose.run_m)),
                words("One of the two was measured or typed wrongly; the run is used for both."),
                words("Measure again: the span is the longest part of the run that nothing holds."),
            )
        if hose.rest_run_m is not None and hose.run_m is not None and hose.rest_run_m > hose.run_m:
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "rest_run",
                words(
                    "the run at rest, ", _length(hose.rest_run_m), ", is longer than the run of ", _length(hose.run_m)
                ),
                words("The run is the one of the pose that needs most hose."),
                words("Measure both again, and enter the longer one as run."),
            )
        if hose.stowed_m and hose.stowed_m > hose.length_m:
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "stowed",
                words(_length(hose.stowed_m), " is stowed of a hose of ", _length(hose.length_m)),
                words("More hose is folded away than there is."),
                words("Correct what is stowed."),
            )


@rule("run not measured")
def run_not_measured(context: Context) -> RuleResults:
    """Report a run that nobody measured: its length can be compared with common practice only."""
    for figures in context.hoses:
        if figures.fit is None:
            yield Unchecked(figures.number, "run", words("whether its length fits: the run was not measured"))
        elif figures.fit.is_estimated:
            because = "whether its length surely fits: the run was not measured but estimated from landmarks"
            yield Unchecked(figures.number, "run", words(because))


@rule("rest not measured")
def rest_not_measured(context: Context) -> RuleResults:
    """Report an unmeasured run at rest: a second stage moves with the head, so its hose has more slack then."""
    for figures, fit in _fitted(context):
        role = catalogue().roles[figures.hose.role]
        if role.device == "second_stage" and not fit.rest_is_measured:
            because = "how far it stands off at rest: only the run of the farthest pose was measured"
            yield Unchecked(figures.number, "rest_run", words(because))


@rule("unusual length")
def unusual_length(context: Context) -> RuleResults:
    """Report a length outside what is customary, where no run was measured."""
    for figures in context.hoses:
        hose = figures.hose
        custom = catalogue().roles[hose.role].customary.get(context.kit.header.layout)
        if hose.run_m is not None or custom is None:
            continue
        low, high = custom
        tolerance = catalogue().limits["length_spread"].value
        if low - tolerance <= hose.length_m <= high + tolerance:
            continue
        yield Finding(
            Signal.NOTICE,
            figures.number,
            "length",
            words(
                _length(hose.length_m),
                f" is unusual for {hose.role} in {context.kit.header.layout}: ",
                _length(low),
                " to ",
                _length(high),
                " is customary",
            ),
            words("Bodies and routes differ; custom only tells where most end up."),
            words("Lay a string over the worn kit and enter its length as run."),
            rule_of_thumb=True,
        )


def _fitted(context: Context) -> list[tuple[HoseFigures, Fit]]:
    """Give the hoses whose run was measured; of the others `routes.py` speaks."""
    return [(figures, figures.fit) for figures in context.hoses if figures.fit and not figures.fit.is_estimated]


def _longer_advice(fit: Fit) -> Words:
    if fit.best_stock is not None:
        return words("Take ", *_option(fit.best_stock), ".")
    if fit.covering_stock is not None:
        return words("The first stock length that covers the run is ", *_option(fit.covering_stock), ".")
    return words("No stock length covers the run; have one made.")


def _shorter_advice(fit: Fit) -> Words:
    hold = ", or hold it in the middle of the free span"
    if fit.best_stock is not None:
        return words("Take ", *_option(fit.best_stock), hold, ".")
    if fit.shorter is not None and fit.shorter.verdict == LONG and fit.covering_stock is not None:
        return words(
            "The shortest stock length that covers the run is ",
            *_option(fit.covering_stock),
            "; stow the slack",
            hold,
            ".",
        )
    return words("No stock length fits better; stow the slack", hold, ".")


def _option(option: StockOption) -> Words:
    if option.slack_m < 0:
        return words(_length(option.length_m), ", ", _length(-option.slack_m), " short")
    if option.stand_off_m is None:
        return words(_length(option.length_m), ", a loop")
    if option.slack_m < catalogue().limits["string_spread"].value:
        return words(_length(option.length_m), ", which just reaches: measure the run again first")
    return words(_length(option.length_m), ", which would stand ", _length(option.stand_off_m), " off")


def _made_length(figures: HoseFigures, fit: Fit) -> float:
    """Give the length that just covers the run with the string's spread to spare."""
    return figures.hose.length_m - fit.slack.value + catalogue().limits["string_spread"].value
