"""The verdict on each hose, as findings: too short, too long, cannot be said yet, too much slack."""

from collections.abc import Iterator

from kitbuilder.assess.findings import About, Amount, Finding, RuleResults, Signal, Words, words
from kitbuilder.assess.fit.advice import Advice, advise
from kitbuilder.assess.fit.fit import Fit
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.fit.routed_hose import hold_place
from kitbuilder.assess.fit.stock_lengths import stock_lengths
from kitbuilder.assess.fit.trial import Option, made_length, try_length
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.limit_words import about
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
                    "the hose is too short by ",
                    _margin(fit),
                    ": its run is ",
                    *_run(fit),
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
        if not verdict.seems_too_short or not fit.is_estimated or routed is None:
            continue
        yield Finding(
            Signal.CAUTION if verdict.is_too_short else Signal.NOTICE,
            figures.number,
            "length",
            words(
                f"{verdict.test.pose}: by its route ({routed.route.name}) the hose needs ",
                *_run(fit),
                "; it is too short by " if verdict.is_too_short else "; it may be too short, by ",
                _margin(fit),
                *_and_bows(fit),
            ),
            words(
                "A hose that is too short pulls. This is an estimate by landmarks, in this position: ", verdict.test.how
            ),
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
                "the hose may be too short" if is_missing else "the hose just reaches",
                ": its slack is ",
                about(fit.slack, "length"),
                ", on a run of ",
                *_run(fit),
                f" ({fit.verdict.test.pose})",
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
                "the hose bows out from the body by ",
                About(*fit.stand_off, "length"),
                ": it has ",
                _length(fit.rest_slack.value),
                " of slack over a free span of ",
                _length(fit.span_m),
            ),
            words("A hose that bows out snags on lines, wrecks and ladders. Even a little slack makes it bow out far."),
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
                    "the hose hangs in a loop: it has ",
                    _length(fit.rest_slack.value),
                    " of slack over a free span of ",
                    _length(fit.span_m),
                ),
                words("A loop snags on everything. How far it hangs out cannot be computed."),
                _less_slack(_advice(context, figures)),
            )


@rule("stands off by estimate")
def stands_off_by_estimate(context: Context) -> RuleResults:
    """Report a hose too long by landmarks, or longer than it has to be and certain to bow out so far that it snags."""
    limit = catalogue().limits["stand_off_warning"].value
    for figures, fit in _judged(context):
        is_far = fit.is_loop or (fit.stand_off is not None and fit.stand_off.low > limit)
        is_longer = fit.closest_stock is not None and fit.closest_stock.length_m < figures.hose.length_m
        if fit.slack_is_measured or not (fit.verdict.is_too_long or (is_far and is_longer)):
            continue
        how_far: Words = (
            ("bows out from the body by ", About(*fit.stand_off, "length")) if fit.stand_off else ("hangs in a loop",)
        )
        yield Finding(
            Signal.CAUTION,
            figures.number,
            "length",
            words("by estimate the hose ", *how_far, ": its slack at rest is ", about(fit.rest_slack, "length")),
            words(
                "A hose that bows out snags on lines, wrecks and ladders."
                + (" A shorter hose would be long enough." if fit.verdict.is_too_long else "")
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
                " is long enough and stays within ",
                _length(limit),
                " of the body",
            ),
            words("Each stock length either pulls or bows out."),
            words("Have a hose of ", _length(made.length_m), " made, or hold the hose in one more place."),
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


def _run(fit: Fit) -> Words:
    """Say how long the run is, and how much more of the hose is folded away."""
    stowed_m = fit.stowed_then_m
    return (_length(fit.run.value), *((", plus ", _length(stowed_m), " stowed") if stowed_m else ()))


def _margin(fit: Fit) -> About:
    """Say how much is missing or to spare in the position that decides, with its range."""
    return about(fit.slack, "length", times=1.0 if fit.slack.value > 0 else -1.0, least=0.0)


def _and_bows(fit: Fit) -> Words:
    """Say that the same hose has too much slack at rest."""
    if not fit.verdict.pulls_and_bows:
        return ()
    if fit.stand_off is None:
        return ("; at rest it hangs in a loop",)
    return ("; at rest it bows out by ", _length(fit.stand_off.value))


def _pulls(figures: HoseFigures) -> Words:
    if catalogue().roles[figures.hose.role].device == "second_stage":
        return words("A hose that is too short pulls the mouthpiece from your mouth when you turn your head.")
    return words("A hose that is too short pulls at both ends when you turn or reach.")


def _what_to_do(advice: Advice) -> Words:
    """Say what to do about a hose that is, or may be, too short. Slack never makes the answer a longer one."""
    if not advice.is_replaced:
        measure = (
            "Measure the run again over the worn kit. Try the hose in every position before you dive with it."
            if advice.verdict.test.by_string
            else "Lay a string over the worn kit. Enter its length as `run`."
        )
        if not advice.verdict.pulls_and_bows:
            return words(measure)
        return words(measure, f" A longer hose would bow out farther, so hold this one {_hold(advice)}.")
    if advice.buy is None:
        return words("Have a hose of ", _length(advice.made_m), " made: no available length is long enough.")
    return words("Take ", _length(advice.buy.length_m), *_bows(advice.buy, advice), ".")


def _less_slack(advice: Advice) -> Words:
    """Say how to remove slack: by the shorter hose that fits, or by one more hold."""
    hold = f"hold the hose {_hold(advice)}"
    if not advice.verdict.is_too_long:
        why = "" if advice.verdict.fault else " No shorter length that is certain to be long enough bows out much less."
        return words(f"H{hold[1:]}, or stow the slack.{why}")
    if advice.buy is None:
        return words("Have a hose of ", _length(advice.made_m), f" made, or {hold}.")
    return words("Take ", _length(advice.buy.length_m), f", or {hold}.")


def _bows(option: Option, advice: Advice) -> Words:
    if not option.verdict.has_slack:
        return ()
    if option.stand_off is None:
        return (f", and hold it {_hold(advice)}: otherwise it hangs in a loop at rest",)
    return (f", and hold it {_hold(advice)}: otherwise it bows out by ", _length(option.stand_off.value), " at rest")


def _hold(advice: Advice) -> str:
    routed = advice.figures.routed
    return hold_place(routed.hold) if routed and advice.hose.span_m is None else "in the middle of its free span"
