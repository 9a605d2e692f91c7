"""How one hose fits its run: the same words and figures on every page that shows a hose."""

from collections.abc import Iterator

from kitbuilder.assess.findings import Amount
from kitbuilder.assess.fit.fit import LONG, RIGHT, SHORT, Fit, StockOption
from kitbuilder.kit.items import Hose
from kitbuilder.report.page import Estimate, Fact, Facts, Interval, Sentence, only_data
from kitbuilder.report.shapes import FIGURE, FLAG, INTERVAL, NUMBER, one_of, optional, record

VERDICT = one_of(SHORT, RIGHT, LONG)
STOCK = record(length_m=NUMBER, slack_m=NUMBER, stand_off_m=optional(NUMBER), verdict=VERDICT)
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


def fit_words(fit: Fit | None) -> Sentence:
    """Say in a few words how a hose fits."""
    if fit is None:
        return (NOT_MEASURED,)
    return (*_verdict_words(fit), ", estimated") if fit.is_estimated else _verdict_words(fit)


def fit_fields(hose: Hose, fit: Fit) -> Facts:
    """Build all that is known about a hose on its run. Values that are missing stand in the JSON only."""
    best = fit.best_stock
    to_choose = fit.verdict != RIGHT and not hose.stowed_m
    return Facts(
        [
            Fact("verdict", "", fit.verdict),
            Fact("", "fit", f"{fit.verdict}, estimated" if fit.is_estimated else fit.verdict),
            Fact("run_m", "", Estimate(fit.run, "length")),
            Fact("run_is_estimated", "", fit.is_estimated),
            Fact("slack_m", "slack", Estimate(fit.slack, "slack")),
            Fact("rest_slack_m", "slack at rest" if fit.rest_is_measured else "", Estimate(fit.rest_slack, "slack")),
            Fact("rest_is_measured", "", fit.rest_is_measured),
            Fact("span_m", "free span", Amount(fit.span_m, "length")),
            *_shape_fields(fit),
            *_stock_fields("stock_shorter", "next shorter", fit.shorter),
            *_stock_fields("stock_longer", "next longer", fit.longer),
            Fact("stock_that_fits_m", "", Amount(best.length_m, "length") if best else None),
            Fact("", "stock that fits" if to_choose else "", _length(best) if best else ("none: have one made",)),
        ]
    )


def brief_fit(fit: Fit) -> Iterator[Sentence]:
    """Give what belongs to the picture of a hose where room is scarce: slack and bend, then the lengths around it."""
    bend = () if fit.tightest_radius_m is None else (", bend ", Amount(fit.tightest_radius_m, "radius"))
    yield "slack ", Estimate(fit.rest_slack, "slack"), *bend
    options = [stock_words(option, brief=True) for option in (fit.shorter, fit.longer) if option]
    if options:
        yield "or ", *_in_a_row(options, ", ")


def fit_details(fit: Fit) -> Iterator[Sentence]:
    """Give what explains a fit that is not right: slack, span and bend, then the stock lengths around it."""
    bend = () if fit.tightest_radius_m is None else (", tightest bend radius ", Amount(fit.tightest_radius_m, "radius"))
    yield "Slack ", Estimate(fit.rest_slack, "slack"), " over a free span of ", Amount(fit.span_m, "length"), *bend, "."
    options = [stock_words(option) for option in (fit.shorter, fit.longer) if option]
    if options:
        yield "Stock lengths: ", *_in_a_row(options, "; "), "."


def stock_words(option: StockOption, *, brief: bool = False) -> Sentence:
    """Say what a stock length would give: "70 cm: bows out 15 cm"."""
    length, slack = (*_length(option), ": "), Amount(abs(option.slack_m), "length")
    if option.slack_m < 0:
        return (*length, slack, " short")
    if option.stand_off_m is None:
        return (*length, slack, " to spare") if option.verdict == RIGHT else (*length, "a loop")
    out = Amount(option.stand_off_m, "length")
    return (*length, out, " out") if brief else (*length, "bows out ", out)


def _in_a_row(sentences: list[Sentence], between: str) -> Sentence:
    first, *others = sentences
    return (*first, *(piece for words in others for piece in (between, *words)))


def _verdict_words(fit: Fit) -> Sentence:
    slack = Amount(abs(fit.slack.value), "length")
    if fit.verdict == SHORT:
        return "too short by ", slack
    if fit.slack_by_design:
        return f"{fit.verdict}: ", slack, " to stow" if fit.slack_by_design == "stowed" else " to spare"
    if fit.stand_off is None:
        return ("too long: hangs in a loop",)
    return f"{fit.verdict}: bows out ", Interval(fit.stand_off, "length")


def _shape_fields(fit: Fit) -> Iterator[Fact]:
    stand_off = Interval(fit.stand_off, "length") if fit.stand_off else None
    yield Fact("stand_off_m", "bows out" if stand_off else "", stand_off)
    radius = None if fit.tightest_radius_m is None else Amount(fit.tightest_radius_m, "radius")
    yield Fact("tightest_radius_m", "bend radius" if radius else "", radius)


def _stock_fields(key: str, label: str, option: StockOption | None) -> Iterator[Fact]:
    yield Fact(key, "", _stock_data(option) if option else None)
    if option:
        yield Fact("", label, stock_words(option))


def _stock_data(option: StockOption) -> Facts:
    stand_off = None if option.stand_off_m is None else Amount(option.stand_off_m, "length")
    return only_data(
        ("length_m", Amount(option.length_m, "length")),
        ("slack_m", Amount(option.slack_m, "slack")),
        ("stand_off_m", stand_off),
        ("verdict", option.verdict),
    )


def _length(option: StockOption) -> Sentence:
    return (Amount(option.length_m, "length"),)
