"""What there is to say about the length of one hose, in words and values, for page, screen and picture."""

from collections.abc import Iterator

from kitbuilder.assess.findings import Amount
from kitbuilder.assess.fit.advice import Advice
from kitbuilder.assess.fit.measures import Wearer
from kitbuilder.assess.fit.routed_hose import Knob, RoutedHose, hold_place
from kitbuilder.assess.fit.trial import Option
from kitbuilder.assess.fit.verdict import Test
from kitbuilder.assess.gas.hose_flow import Flow, Notice
from kitbuilder.kit.stock import Stock
from kitbuilder.plans.fitting import FittedHose
from kitbuilder.report.page import (
    BothUnits,
    Estimate,
    Fact,
    Interval,
    Price,
    Sentence,
    Share,
    StockLength,
    joined,
)

MOST_FAILED = 2
"""Positions for which a length is too short that are named."""
KEEP, MEASURE, BUY, MAKE, MOVE = "keep", "measure", "buy", "make", "move"
NOT_JOINED = "replace: does not connect; "
STUCK = "move: no hose joins this port and this device"
STRING, LANDMARKS = "string", "landmarks"
UNKNOWN: Sentence = (
    "not known: no route is usual for it. Choose its route, write its path, or measure its run by string",
)


def action_word(fitted: FittedHose) -> str | None:
    """Give what to do about a hose; None when its length is not known, and nothing else is wrong with it."""
    if fitted.is_stuck:
        return MOVE
    if not fitted.is_bought:
        if fitted.advice is None:
            return None
        return MEASURE if fitted.advice.must_measure else KEEP
    return MAKE if fitted.advice and fitted.advice.buy is None else BUY


def source_word(advice: Advice) -> str:
    """Give what its length was measured by: a string, or the landmarks."""
    return STRING if advice.is_measured else LANDMARKS


def advised_length(fitted: FittedHose) -> Sentence:
    """Give the length to have with what to do: "buy 75 cm (30 in)", "make 77 cm", "measure first"."""
    if fitted.is_stuck:
        return (STUCK,)
    why = NOT_JOINED if fitted.joins is False else ""
    if fitted.length_to_have_m is None:
        return (f"{why}length not known" if why else "not known",)
    if action_word(fitted) == MEASURE:
        return ("measure first",)
    word = f"{why}{action_word(fitted)} "
    if fitted.to_have is None:
        return (word, Amount(fitted.length_to_have_m, "length"))
    return (word, StockLength(fitted.to_have.length_m))


def wearer_words(wearer: Wearer) -> Sentence:
    """Describe the body: "male, 178 ± 1 cm tall, 5 mm of suit, the head turns 79° ± 10° to a side"."""
    return (
        "" if wearer.is_given else "an average diver, because no measure is given: ",
        f"{wearer.sex}, " if wearer.sex else "",
        Estimate(wearer.measures["stature"], "length"),
        " tall",
        *((", ", Amount(wearer.suit.value, "thickness"), " of suit") if wearer.suit.value else (", no suit",)),
        ", the head turns ",
        Estimate(wearer.neck_turn, "pitch"),
        " to a side",
        "; outside the survey, so everything is less certain" if wearer.is_outside_survey else "",
    )


def hose_fields(fitted: FittedHose, stock: Stock | None) -> list[Fact]:
    """Build all there is to say about the length of one hose, each with its label."""
    advice, routed = fitted.advice, fitted.figures.routed
    if advice is None:
        return [*_joint_fields(fitted), _field("needed", UNKNOWN), *_taken_ends(fitted)]
    return [
        *_joint_fields(fitted),
        _field("needed", _needed(advice)),
        *_option_fields(fitted, advice, stock),
        *(_hold_fields(fitted, advice, routed) if routed else ()),
        *(_knob_fields(routed) if routed else ()),
        *([_field("flow", _flow_words(fitted.flow))] if fitted.flow else ()),
        *_other_need_fields(advice, routed),
        *_taken_ends(fitted),
    ]


def _joint_fields(fitted: FittedHose) -> Iterator[Fact]:
    """Say why a hose does not connect."""
    for place, reason in enumerate(fitted.figures.joints.reasons):
        yield _field("" if place else "does not connect", (reason,))


def _taken_ends(fitted: FittedHose) -> Iterator[Fact]:
    """Say what the ends of a hose are taken as where the file leaves them out."""
    ends = fitted.figures.ends
    named = {"from_end": ends.at_first_stage.name, "to_end": ends.at_device.name}
    if taken := [named[key] for key in fitted.figures.taken]:
        yield _field("ends", (f"not given, taken as {' and '.join(taken)}: read them off the hose",))


def _field(label: str, words: Sentence) -> Fact:
    return Fact("", label, words)


def _needed(advice: Advice) -> Sentence:
    length = BothUnits(Estimate(advice.demanded.length, "length"))
    return (length, f", {advice.demanded.pose}; by {source_word(advice)}")


def _other_need_fields(advice: Advice, routed: RoutedHose | None) -> Iterator[Fact]:
    """Say what the other positions need, and what the landmarks give where a string was laid."""
    others = [need for need in advice.needs if need is not advice.demanded]
    for label, is_asked in (("other needs", True), ("not required", False)):
        needs = [(f"{need.pose} ", Amount(need.length.value, "length")) for need in others if need.is_asked is is_asked]
        if needs:
            yield _field(label, joined(needs, ", "))
    if advice.string_less_estimate is not None and routed is not None:
        differs = advice.string_less_estimate
        amount = Estimate(differs._replace(value=abs(differs.value)), "length")
        less = "shorter" if differs.value < 0 else "longer"
        estimate = (Estimate(routed.strung.length, "length"), f", {routed.strung.pose}")
        yield _field("estimated", (*estimate, "; measured by string: ", amount, f" {less}"))


def _option_fields(fitted: FittedHose, advice: Advice, stock: Stock | None) -> Iterator[Fact]:
    buy, present = advice.buy, advice.present
    if fitted.is_stuck:
        yield _field("now", _option_words(present, stock))
    elif not fitted.is_bought:
        yield _field(KEEP if not advice.must_measure else "now", _option_words(present, stock))
        if advice.must_measure:
            yield _field("to do", _measure_words(advice))
        if buy is not None and advice.must_measure and buy.length_m > present.length_m:
            yield _field("if too short", _option_words(buy, stock))
        elif buy is not None and not advice.is_best and buy.length_m < present.length_m:
            yield _field("also enough", _option_words(buy, stock))
    elif buy is None:
        yield _field("make", _made_words(fitted, advice))
    else:
        yield _field("buy", _option_words(buy, stock))
    if fitted.is_bought and not advice.is_best:
        yield _field("now", _option_words(present, stock))
    for label, option in (("shorter", advice.shorter), ("longer", advice.longer)):
        if option is not None and option.length_m != present.length_m:
            yield _field(label, _option_words(option, stock))


def _made_words(fitted: FittedHose, advice: Advice) -> Sentence:
    made = Amount(advice.made_m, "length")
    if fitted.only_from_maker:
        return ("only the maker of the second stage has it; it needs ", made)
    if advice.shorter is None and advice.longer is None:
        return ("none is available with these ends and this body; have one of ", made, " made")
    return ("no available length is certain enough; have one of ", made, " made")


def _option_words(option: Option, stock: Stock | None) -> Sentence:
    start: Sentence = (StockLength(option.length_m), ", ", Share(option.odds), " certain")
    if option.failed:
        parts = [start, _failed_words(option)]
        if option.verdict.pulls_and_bows:
            parts.append(_rest_words(option))
    else:
        wished = [test.pose for test in option.tests if not test.is_asked and not test.passes]
        but = "".join(f" except {pose}, which is not required" for pose in wished)
        parts = [(*start, f" to be long enough in every position{but}"), _rest_words(option)]
    if option.stocked is not None and option.stocked.price is not None and stock is not None:
        parts.append((Price(option.stocked.price, stock.header.currency or ""),))
    return joined(parts, "; ")


def _measure_words(advice: Advice) -> Sentence:
    """Say what to measure before anything is bought, and what a longer hose would not cure."""
    pose = advice.verdict.test.pose
    start = f"measure the run again ({pose})" if advice.is_measured else f"lay a string over the worn kit ({pose})"
    if not advice.verdict.pulls_and_bows:
        return (f"{start}, then decide",)
    routed = advice.figures.routed
    hold = f"; hold it {hold_place(routed.hold)}" if routed else ""
    return (f"{start}{hold}. It bows out at rest, and a longer one would bow out further",)


def _failed_words(option: Option) -> Sentence:
    """Name the positions for which it is too short, the worst first; say how many more there are."""
    worst = option.failed_worst_first
    named = ((_missing(test), f" ({test.pose})") for test in worst[:MOST_FAILED])
    more = f" and {len(worst) - MOST_FAILED} more" if len(worst) > MOST_FAILED else ""
    word = "too short by " if option.verdict.is_too_short else "may be too short by "
    return (word, *joined(named, ", "), more)


def _missing(test: Test) -> Estimate:
    return Estimate(test.margin._replace(value=abs(test.margin.value)), "length")


def _rest_words(option: Option) -> Sentence:
    slack = Amount(option.rest_slack.value, "length")
    if option.by_design:
        return (slack, " slack at rest, on purpose")
    if option.stand_off is None:
        return (slack, " slack at rest hangs in a loop")
    return (slack, " slack at rest bows out ", Interval(option.stand_off, "length"), " from the body")


def _hold_fields(fitted: FittedHose, advice: Advice, routed: RoutedHose) -> Iterator[Fact]:
    option = fitted.to_have or advice.present
    if not option.verdict.has_slack or option.stand_off is None or option.held_stand_off is None:
        return
    before, after = Interval(option.stand_off, "length"), Interval(option.held_stand_off, "length")
    shared = f"{hold_place(routed.hold)}; with the slack on both sides of it, "
    yield _field("extra hold", (shared, before, " of bow becomes ", after))


def _knob_fields(routed: RoutedHose) -> Iterator[Fact]:
    if routed.knobs:
        nearest = routed.knobs[0]
        words = f" from the {nearest.name}: {_hand_words(nearest)}"
        yield _field("valve", (Estimate(nearest.distance, "length"), words))


def _hand_words(knob: Knob) -> str:
    if knob.is_clear:
        return "room for a hand"
    return "in the way of a hand" if knob.is_blocked else "perhaps in the way of a hand; reach for it, worn"


def _flow_words(flow: Flow) -> Sentence:
    bore, depth = Amount(flow.bore_m, "bore"), Amount(flow.depth_m, "depth")
    if flow.drop is None:
        return (bore, " of bore cannot pass the peak of a hard breath at ", depth)
    gas = ", the gas taken as air" if flow.is_air_assumed else ""
    lost = (Interval(flow.drop, "drop"), " lost through ", bore, " of bore")
    return (*lost, " at the peak of a hard breath at ", depth, f"{gas}: {FELT[flow.notice]}")


FELT = {
    Notice.NO: "too little to notice",
    Notice.PERHAPS: "perhaps enough to notice",
    Notice.YES: "enough to notice",
}
