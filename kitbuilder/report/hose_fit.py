"""How one hose fits its run: the same words and figures on every page that shows a hose."""

from collections.abc import Iterator

from kitbuilder.assess.findings import Amount
from kitbuilder.assess.fit.fit import Fit
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.fit.trial import STOWED, Closest, Option
from kitbuilder.assess.fit.verdict import OUTCOMES, TOO_LONG, TOO_SHORT, Verdict
from kitbuilder.kit.items import Hose
from kitbuilder.pictures.hose_curve import CurveWords
from kitbuilder.report.numbers import System, shown
from kitbuilder.report.page import Estimate, Fact, Facts, Interval, Sentence, only_data
from kitbuilder.report.shapes import FIGURE, FLAG, INTERVAL, NUMBER, TEXT, one_of, optional, record

VERDICT = record(
    outcome=one_of(*OUTCOMES),
    fault=optional(one_of(TOO_SHORT, TOO_LONG)),
    pose=TEXT,
    margin_m=FIGURE,
    has_too_much_slack=FLAG,
)
"""Whether a length fits, and the position that decides it."""
STOCK = record(length_m=NUMBER, slack_m=FIGURE, stand_off_m=optional(INTERVAL), verdict=VERDICT)
FIT = record(
    verdict=VERDICT,
    run_m=FIGURE,
    run_is_estimated=FLAG,
    span_m=NUMBER,
    slack_m=FIGURE,
    rest_slack_m=FIGURE,
    rest_is_measured=FLAG,
    stand_off_m=optional(INTERVAL),
    tightest_radius_m=optional(NUMBER),
    stock_shorter=optional(STOCK),
    stock_longer=optional(STOCK),
    stock_that_fits_m=optional(NUMBER),
)
"""What is known of a hose on its run, in JSON."""

NOT_MEASURED = "run not measured"
NOT_CONNECTED = "does not connect"


def hose_fit_words(figures: HoseFigures) -> Sentence:
    """Say in a few words how a hose fits; first of all that it does not connect, where it does not."""
    fit = figures.fit
    if figures.joints.joins is not False:
        return fit_words(fit)
    return (NOT_CONNECTED, "; ", *(_length_words(fit, "") if fit else (NOT_MEASURED,)))


def fit_words(fit: Fit | None) -> Sentence:
    """Say in a few words how the length of a hose fits."""
    if fit is None:
        return (NOT_MEASURED,)
    word = "slack" if fit.verdict.has_slack and not fit.verdict.fault else verdict_word(fit.verdict)
    return _length_words(fit, f"{word}: ")


def fit_fields(hose: Hose, fit: Fit) -> Facts:
    """Build all that is known about a hose on its run. Values that are missing stand in the JSON only."""
    closest = fit.closest_stock
    to_choose = not fit.verdict.is_right and not hose.stowed_m
    return Facts(
        [
            Fact("verdict", "", verdict_data(fit.verdict)),
            Fact("", "fit", (verdict_word(fit.verdict), ", estimated" if fit.is_estimated else "")),
            Fact("", "decided by", fit.verdict.test.pose),
            Fact("run_m", "", Estimate(fit.run, "length")),
            Fact("run_is_estimated", "", fit.is_estimated),
            Fact("slack_m", "slack", Estimate(fit.slack, "slack")),
            Fact(
                "rest_slack_m",
                "slack at rest" if fit.rest_slack != fit.slack else "",
                Estimate(fit.rest_slack, "slack"),
            ),
            Fact("rest_is_measured", "", fit.rest_is_measured),
            Fact("span_m", "free span", Amount(fit.span_m, "length")),
            *_shape_fields(fit),
            *_stock_fields("stock_shorter", "next shorter", fit.shorter),
            *_stock_fields("stock_longer", "next longer", fit.longer),
            Fact("stock_that_fits_m", "", Amount(closest.length_m, "length") if closest else None),
            Fact("", "certain to reach" if to_choose else "", _closest(closest)),
        ]
    )


def brief_fit(fit: Fit) -> Iterator[Sentence]:
    """Give what belongs to the picture of a hose where room is scarce: slack and bend, then the lengths around it."""
    bend = () if fit.tightest_radius_m is None else (", bend ", Amount(fit.tightest_radius_m, "radius"))
    yield "slack at rest ", Estimate(fit.rest_slack, "slack"), *bend
    options = [stock_words(option, brief=True) for option in (fit.shorter, fit.longer) if option]
    if options:
        yield "or ", *_in_a_row(options, ", ")


def curve_words(hose: Hose, fit: Fit, system: System) -> CurveWords:
    """Give the lengths that are written into the picture of a hose at rest."""

    def length(value_m: float) -> str:
        return shown(value_m, "length", system)

    return CurveWords(
        hose=f"hose {length(hose.length_m)}",
        run=f"run {length(fit.run.value)}",
        slack=f"slack {length(fit.rest_slack.value)}",
        bows_out=f"out {length(fit.stand_off.value)}" if fit.stand_off else "",
        span=f"span {length(fit.span_m)}",
    )


def fit_details(fit: Fit) -> Iterator[Sentence]:
    """Give what explains a fit that is not right: slack, span and bend, then the stock lengths around it."""
    bend = () if fit.tightest_radius_m is None else (", tightest bend radius ", Amount(fit.tightest_radius_m, "radius"))
    over: Sentence = (" over a free span of ", Amount(fit.span_m, "length"))
    yield "Slack at rest ", Estimate(fit.rest_slack, "slack"), *over, *bend, "."
    options = [stock_words(option) for option in (fit.shorter, fit.longer) if option]
    if options:
        yield "Stock lengths: ", *_in_a_row(options, "; "), "."


def stock_words(option: Option, *, brief: bool = False) -> Sentence:
    """Say what a stock length would give: "70 cm: bows out 15 cm", or "70 cm: may be too short"."""
    margin = option.verdict.test.margin.value
    length, slack = (Amount(option.length_m, "length"), ": "), Amount(abs(margin), "length")
    if option.verdict.is_open:
        return (*length, "perhaps short" if brief else "may be too short")
    if margin < 0:
        return (*length, slack, " short")
    if option.stand_off is None:
        return (*length, "a loop") if option.is_loop else (*length, slack, " to spare")
    return (*length, "bows out ", Amount(option.stand_off.value, "length"))


def _in_a_row(sentences: list[Sentence], between: str) -> Sentence:
    first, *others = sentences
    return (*first, *(piece for words in others for piece in (between, *words)))


def verdict_word(verdict: Verdict) -> str:
    """Give the verdict as short as it goes: "fits", "too long", "measure first"."""
    if verdict.is_open:
        return "measure first"
    return verdict.fault or ("fits, with slack" if verdict.has_slack else "fits")


def verdict_data(verdict: Verdict) -> Facts:
    """Give a verdict for JSON."""
    return only_data(
        ("outcome", verdict.outcome),
        ("fault", verdict.fault or None),
        ("pose", verdict.test.pose),
        ("margin_m", Estimate(verdict.test.margin, "slack")),
        ("has_too_much_slack", verdict.has_slack),
    )


def _length_words(fit: Fit, word: str) -> Sentence:
    estimated = (", estimated",) if fit.is_estimated else ()
    margin = Estimate(fit.slack._replace(value=abs(fit.slack.value)), "length")
    if fit.verdict.is_too_short:
        return (f"{TOO_SHORT} by ", margin, *estimated)
    return (*((word,) if word else ()), *_left_words(fit, margin), *estimated)


def _left_words(fit: Fit, margin: Estimate) -> Sentence:
    """Say what is left of a hose that is not too short, or what may be missing."""
    if fit.verdict.is_open:
        return margin, " missing" if fit.slack.value < 0 else " to spare"
    if fit.slack_by_design:
        return margin, " to stow" if fit.slack_by_design == STOWED else " to spare"
    if fit.is_loop:
        return ("hangs in a loop",)
    return ("bows out ", Interval(fit.stand_off, "length")) if fit.stand_off else (margin,)


def _shape_fields(fit: Fit) -> Iterator[Fact]:
    stand_off = Interval(fit.stand_off, "length") if fit.stand_off else None
    yield Fact("stand_off_m", "bows out" if stand_off else "", stand_off)
    radius = None if fit.tightest_radius_m is None else Amount(fit.tightest_radius_m, "radius")
    yield Fact("tightest_radius_m", "bend radius" if radius else "", radius)


def _stock_fields(key: str, label: str, option: Option | None) -> Iterator[Fact]:
    yield Fact(key, "", _stock_data(option) if option else None)
    if option:
        yield Fact("", label, stock_words(option))


def _stock_data(option: Option) -> Facts:
    return only_data(
        ("length_m", Amount(option.length_m, "length")),
        ("slack_m", Estimate(option.verdict.test.margin, "slack")),
        ("stand_off_m", None if option.stand_off is None else Interval(option.stand_off, "length")),
        ("verdict", verdict_data(option.verdict)),
    )


def _closest(closest: Closest | None) -> Sentence:
    return (Amount(closest.length_m, "length"),) if closest else ("none: have one made",)
