"""The verdict on each hose, as findings: too short, too long, cannot be said yet, too much slack."""

from collections.abc import Iterator

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Words, words
from kitbuilder.assess.fit.advice import Advice, advise
from kitbuilder.assess.fit.fit import Fit
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.fit.routed_hose import hold_place
from kitbuilder.assess.fit.stock_lengths import stock_lengths
from kitbuilder.assess.fit.trial import Option, made_length, try_length
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import catalogue


@rule("too short")
def too_short(context: Context) -> RuleResults:
    """Report a hose that a string shows to be too short."""
    for figures, fit in _judged(context):
        if fit.verdict.is_too_short and not fit.is_estimated:
            yield Finding(
                Signal.WARNING,
                figures.number,
                "length",
                words(
                    "it is ",
                    *_margin(fit),
                    " short of its run of ",
                    _length(fit.run.value),
                    f" ({fit.verdict.test.pose})",
                    *_and_bows(fit),
                ),
                _pulls(figures),
                _what_to_do(_advice(context, figures)),
            )


@rule("short by estimate")
def short_by_estimate(context: Context) -> RuleResults:
    """Report a hose that is, or may be, too short by the landmarks of its route, where nobody measured the run."""
    for figures, fit in _judged(context):
        verdict, routed = fit.verdict, figures.routed
        is_short = verdict.is_too_short or (verdict.is_open and fit.slack.value < 0)
        if not is_short or not fit.is_estimated or routed is None:
            continue
        yield Finding(
            Signal.CAUTION if verdict.is_too_short else Signal.NOTICE,
            figures.number,
            "length",
            words(
                f"{verdict.test.pose}: its route ({routed.route.name}) asks for ",
                _length(fit.run.value),
                "; it is " if verdict.is_too_short else "; it may be too short: ",
                *_margin(fit),
                " short" if verdict.is_too_short else " missing",
                *_and_bows(fit),
            ),
            words(verdict.test.how, " A hose that is too short pulls. This is an estimate by landmarks."),
            _what_to_do(_advice(context, figures)),
        )


@rule("just reaches")
def just_reaches(context: Context) -> RuleResults:
    """Report a hose of which the string cannot tell whether it is long enough."""
    for figures, fit in _judged(context):
        if not fit.verdict.is_open or fit.is_estimated:
            continue
        is_missing = fit.slack.value < 0
        yield Finding(
            Signal.CAUTION if is_missing else Signal.NOTICE,
            figures.number,
            "run",
            words(
                "it may be too short: " if is_missing else "it covers its run with ",
                *_margin(fit),
                " missing" if is_missing else " to spare",
                " on a run of ",
                _length(fit.run.value),
                f" ({fit.verdict.test.pose}), less than the measurement can tell",
                *_and_bows(fit),
            ),
            _pulls(figures),
            _what_to_do(_advice(context, figures)),
        )


@rule("stands off")
def stands_off(context: Context) -> RuleResults:
    """Report slack, shown by a string, that lets a hose leave the body and snag."""
    limit = catalogue().limits["stand_off_warning"].value
    for figures, fit in _judged(context):
        if not fit.verdict.has_slack or not fit.slack_is_measured or fit.stand_off is None:
            continue
        yield Finding(
            Signal.WARNING if fit.stand_off.value > limit else Signal.CAUTION,
            figures.number,
            "length",
            words(
                _length(fit.rest_slack.value),
                " of slack over a free span of ",
                _length(fit.span_m),
                " bows out ",
                _length(fit.stand_off.value),
                " from the body (",
                _length(fit.stand_off.low),
                " to ",
                _length(fit.stand_off.high),
                ")",
            ),
            words(
                "A hose that bows out snags on line, wreck and ladder. A little slack bows out far: as its square root."
            ),
            _less_slack(_advice(context, figures)),
            rule_of_thumb=True,
        )


@rule("hangs in a loop")
def hangs_in_a_loop(context: Context) -> RuleResults:
    """Report so much slack, shown by a string, that no stand-off can be computed."""
    for figures, fit in _judged(context):
        if fit.is_loop and fit.slack_is_measured:
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
                _less_slack(_advice(context, figures)),
            )


@rule("stands off by estimate")
def stands_off_by_estimate(context: Context) -> RuleResults:
    """Report a hose that by landmarks is too long, or longer than need be and surely bows out so far that it snags."""
    limit = catalogue().limits["stand_off_warning"].value
    for figures, fit in _judged(context):
        is_far = fit.is_loop or (fit.stand_off is not None and fit.stand_off.low > limit)
        is_longer = fit.closest_stock is not None and fit.closest_stock.length_m < figures.hose.length_m
        if fit.slack_is_measured or not (fit.verdict.is_too_long or (is_far and is_longer)):
            continue
        how_far: Words = (
            ("bows out ", _length(fit.stand_off.value), " from the body (at least ", _length(fit.stand_off.low), ")")
            if fit.stand_off
            else ("hangs in a loop",)
        )
        yield Finding(
            Signal.CAUTION,
            figures.number,
            "length",
            words("at rest it has ", *_amount(fit.rest_slack), " of slack and by estimate ", *how_far),
            words(
                "A hose that bows out snags on line, wreck and ladder"
                + (", and a shorter hose would reach as well." if fit.verdict.is_too_long else ".")
            ),
            _less_slack(_advice(context, figures)),
            rule_of_thumb=True,
        )


@rule("custom length")
def custom_length(context: Context) -> RuleResults:
    """Report a measured run for which no stock length both reaches and stays close, though a made one would."""
    limit = catalogue().limits["stand_off_caution"].value
    for figures, fit in _judged(context):
        closest, has_fault = fit.closest_stock, fit.verdict.is_too_short or fit.verdict.has_slack
        if not has_fault or fit.is_estimated or not fit.slack_is_measured or figures.hose.stowed_m:
            continue
        if closest and closest.stand_off and closest.stand_off.value <= limit:
            continue
        made = try_length(fit.trial, made_length(fit.trial))
        if made.verdict.has_slack:
            continue
        yield Finding(
            Signal.NOTICE,
            figures.number,
            "length",
            words(
                "no stock length up to ",
                _length(stock_lengths(figures.hose)[-1]),
                " covers this run and stays within ",
                _length(limit),
                " of the body",
            ),
            words("Each of them either pulls or bows out."),
            words("Have a hose made to ", _length(made.length_m), ", or hold the hose in one more place."),
            rule_of_thumb=True,
        )


def _judged(context: Context) -> Iterator[tuple[HoseFigures, Fit]]:
    return ((figures, figures.fit) for figures in context.hoses if figures.fit is not None)


def _advice(context: Context, figures: HoseFigures) -> Advice:
    """Say what to do about a hose. Asked for findings only: it tries every length that is available."""
    advice = advise(figures, context.kit.linked.stock)
    assert advice is not None, "a hose with a fit has advice"
    return advice


# ---- words ----


def _length(value_m: float) -> Amount:
    return Amount(value_m, "length")


def _margin(fit: Fit) -> Words:
    """Say how much is missing or to spare in the pose that decides, with its spread."""
    return _amount(fit.slack._replace(value=abs(fit.slack.value)))


def _amount(figure: Figure) -> Words:
    return (_length(figure.value), " ± ", _length(figure.spread))


def _and_bows(fit: Fit) -> Words:
    """Say that the same hose has too much slack at rest."""
    if not fit.verdict.pulls_and_bows:
        return ()
    if fit.stand_off is None:
        return (", and at rest it hangs in a loop",)
    return (", and at rest it bows out ", _length(fit.stand_off.value))


def _pulls(figures: HoseFigures) -> Words:
    if catalogue().roles[figures.hose.role].device == "second_stage":
        return words("A hose that is too short pulls the mouthpiece from the mouth when you turn your head.")
    return words("A hose that is too short pulls at both its ends when you turn or reach.")


def _what_to_do(advice: Advice) -> Words:
    """Say what to do about a hose that is, or may be, too short. Slack never makes the answer a longer one."""
    if not advice.is_replaced:
        measure = (
            "Measure the run again, worn, and try the hose in every position before you dive with it."
            if advice.verdict.test.by_string
            else "Lay a string over the worn kit, and enter its length as run."
        )
        if not advice.verdict.pulls_and_bows:
            return words(measure)
        return words(measure, f" A longer hose would bow out further: hold it {_hold(advice)}.")
    if advice.buy is None:
        return words("No available length covers the run: have one of ", _length(advice.made_m), " made.")
    return words("Take ", _length(advice.buy.length_m), *_bows(advice.buy, advice), ".")


def _less_slack(advice: Advice) -> Words:
    """Say how to be rid of slack: by the shorter hose that fits, or by one more hold."""
    hold = f"hold it {_hold(advice)}"
    if not advice.verdict.is_too_long:
        why = "No shorter length that is certain to reach lies much closer" if not advice.verdict.fault else ""
        return words(f"{why}: {hold}, or stow the slack." if why else f"H{hold[1:]}, or stow the slack.")
    if advice.buy is None:
        return words("Have one of ", _length(advice.made_m), f" made, or {hold}.")
    return words("Take ", _length(advice.buy.length_m), f", or {hold}.")


def _bows(option: Option, advice: Advice) -> Words:
    if not option.verdict.has_slack:
        return ()
    if option.stand_off is None:
        return (f", and hold it {_hold(advice)}: at rest it would hang in a loop",)
    return (f", and hold it {_hold(advice)}: at rest it would bow out ", _length(option.stand_off.value))


def _hold(advice: Advice) -> str:
    routed = advice.figures.routed
    return hold_place(routed.hold) if routed and advice.hose.span_m is None else "in the middle of its free span"
