"""A hose along its run: bent too tightly, measured in contradiction, not measured, of an unusual length."""

from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Unchecked, words
from kitbuilder.assess.fit.advice import advise
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.limit_words import about
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import catalogue


def _length(value_m: float) -> Amount:
    return Amount(value_m, "length")


@rule("tight bend")
def tight_bend(context: Context) -> RuleResults:
    """Report a bend below the smallest radius of the hose body."""
    for figures in context.hoses:
        fit, body = figures.fit, catalogue().bodies[figures.service, figures.hose.body]
        radius, smallest = fit.strung_radius_m if fit else None, body.minimum_bend_radius
        if radius is None or radius >= smallest.value:
            continue
        yield Finding(
            Signal.CAUTION,
            figures.number,
            "span",
            words(
                "the hose bends to a radius of ",
                Amount(radius, "radius"),
                f"; an {body.service} hose with a {body.name} body needs at least ",
                Amount(smallest.value, "radius"),
                " (",
                Amount(smallest.low, "radius"),
                " to ",
                Amount(smallest.high, "radius"),
                ")",
            ),
            words("A hose that is bent too tightly kinks, restricts the gas and cracks at the crimp."),
            words("Use a shorter hose, a body that bends tighter, a longer free span or an elbow."),
            rule_of_thumb=True,
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
                words("One of the two was measured or typed wrongly. For now the run counts for both."),
                words("Measure both again: the span is the longest part of the run that nothing holds."),
            )
        if hose.rest_run_m is not None and hose.run_m is not None and hose.rest_run_m > hose.run_m:
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "rest_run",
                words(
                    "the run at rest, ", _length(hose.rest_run_m), ", is longer than the run of ", _length(hose.run_m)
                ),
                words("The run belongs to the position that needs most hose, so it cannot be the shorter one."),
                words("Measure both again. Enter the longer one as `run`."),
            )
        if hose.stowed_m and hose.stowed_m > hose.length_m:
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "stowed",
                words(
                    _length(hose.stowed_m), " of hose is stowed, and the hose is only ", _length(hose.length_m), " long"
                ),
                words("No more can be folded away than the hose is long."),
                words("Correct `stowed` or `length`."),
            )


@rule("run not measured")
def run_not_measured(context: Context) -> RuleResults:
    """Report a run that nobody measured: its length can be compared with common practice only."""
    for figures in context.hoses:
        if figures.fit is None:
            yield Unchecked(figures.number, "run", words("whether the length fits: the run was not measured"))
        elif figures.hose.run_m is None:
            is_fitting = (
                "whether the length fits" if figures.fit.verdict.is_open else "whether the length is certain to fit"
            )
            because = words(
                f"{is_fitting}: the run was not measured. By landmarks it is ",
                about(figures.fit.run, "length"),
                f" ({figures.fit.verdict.test.pose})",
            )
            yield Unchecked(figures.number, "run", because)


@rule("rest not measured")
def rest_not_measured(context: Context) -> RuleResults:
    """Report an unmeasured run at rest: a second stage moves with the head, so its hose has more slack then."""
    for figures in context.hoses:
        fit, role = figures.fit, catalogue().roles[figures.hose.role]
        if fit is None or figures.hose.run_m is None or fit.rest_is_measured or role.device != "second_stage":
            continue
        because = "how far the hose bows out at rest: only the run in the farthest position was measured"
        by_landmarks = (
            (". By landmarks it is ", _length(fit.stand_off.low), " to ", _length(fit.stand_off.high))
            if fit.stand_off is not None
            else ()
        )
        yield Unchecked(figures.number, "rest_run", words(because, *by_landmarks))


@rule("unusual length")
def unusual_length(context: Context) -> RuleResults:
    """Report a length outside what is usual, where no run was measured; not one that is advised for its route."""
    for figures in context.hoses:
        hose = figures.hose
        custom = catalogue().roles[hose.role].customary.get(context.kit.header.layout)
        if hose.run_m is not None or custom is None:
            continue
        low, high = custom
        tolerance = catalogue().limits["length_spread"].value
        if low - tolerance <= hose.length_m <= high + tolerance or _is_longer_as_advised(context, figures, high):
            continue
        yield Finding(
            Signal.NOTICE,
            figures.number,
            "length",
            words(
                _length(hose.length_m),
                f" is unusual for the role {hose.role} in {context.kit.header.layout}; usual is ",
                _length(low),
                " to ",
                _length(high),
            ),
            words("Bodies and routes differ, so an unusual length can still be right."),
            words("Lay a string over the worn kit. Enter its length as `run`."),
            rule_of_thumb=True,
        )


def _is_longer_as_advised(context: Context, figures: HoseFigures, usual_m: float) -> bool:
    """Say whether a hose longer than is usual is just the one that its route needs."""
    advice = advise(figures, context.kit.linked.stock) if figures.hose.length_m > usual_m else None
    return advice is not None and advice.is_best
