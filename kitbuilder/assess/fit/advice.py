"""Which length to buy for a hose: each stock length tried in every pose, and how certain that is."""

from collections.abc import Sequence
from itertools import count
from math import ceil, erf, sqrt
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, Range, difference, scaled, total
from kitbuilder.assess.fit.fit import is_one_stock_length, stand_off_range, stock_lengths, stowed_of, string_run
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.fit.routed_hose import AT_REST, RequiredLength, RoutedHose, most_of
from kitbuilder.assess.hoses.hose_weight import ends_of, reach, service_of
from kitbuilder.assess.hoses.joints import is_only_from_maker
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Hose
from kitbuilder.kit.stock import Stock, StockHose

END_TO_END = "end to end"
"""How a length is stated unless the file says."""
BY_STRING = "as measured"
"""The only pose of a hose whose run is known from a string alone."""

CERTAIN = 1 - 1e-13
"""The best odds: a normal distribution is never quite certain, but a float rounds it to 0 or 1."""


class Test(NamedTuple):
    """One pose tried with one length."""

    pose: str
    how: str
    margin: Figure
    """What is left of the hose, or missing where negative [m]."""
    is_asked: bool

    @property
    def passes(self) -> bool:
        """Whether the length is enough, as far as is known."""
        return self.margin.value >= 0

    @property
    def odds(self) -> float:
        """How likely the length is enough, from 0 to 1."""
        return _odds(self.margin)


class Option(NamedTuple):
    """One length for a hose, tried in every pose."""

    length_m: float
    tests: tuple[Test, ...]
    spare: Figure
    """The margin in the pose that needs the longest hose [m]."""
    rest_slack: Figure
    """What is left at rest [m]."""
    by_design: bool
    """Whether slack hangs or is folded away on purpose."""
    stand_off: Range | None
    """In the longest free span, at rest [m]; None when too short, a loop, or slack on purpose."""
    held_stand_off: Range | None
    """The same if it were also held at `RoutedHose.hold`, with its slack shared between both sides [m]."""
    is_overdone: bool
    """Whether so much more of it than of the present hose is folded away, or hangs, that it is in the way."""
    stocked: StockHose | None
    """The hose a stock file has of this length; None without a stock file."""

    @property
    def failed(self) -> tuple[Test, ...]:
        """The required poses for which it is too short."""
        return tuple(test for test in self.tests if test.is_asked and not test.passes)

    @property
    def failed_worst_first(self) -> tuple[Test, ...]:
        """The same, the most too short first."""
        return tuple(sorted(self.failed, key=lambda test: test.margin.value))

    @property
    def odds(self) -> float:
        """The odds of the least likely required pose, from 0 to 1."""
        return min(test.odds for test in self.tests if test.is_asked)

    @property
    def is_sure(self) -> bool:
        """Whether it is certain enough to be long enough in every required pose."""
        return self.odds >= catalogue().limits["sure_enough"].value

    @property
    def is_tidy(self) -> bool:
        """Whether its slack at rest stays near the body, or hangs or is folded away on purpose, as far as that goes."""
        if self.is_overdone:
            return False
        limit = catalogue().limits["stand_off_caution"].value
        return self.by_design or (self.stand_off is not None and self.stand_off.value <= limit)


class Trial(NamedTuple):
    """The lengths that a hose must have, for trying other lengths in its place."""

    figures: HoseFigures
    needs: tuple[RequiredLength, ...]
    """At rest and in each pose, by string where that was measured."""
    demanded: RequiredLength
    left: tuple[Figure, ...]
    """The margin of the present hose in each pose if nothing of it were stowed [m]."""
    lacks_m: float
    """How much the present hose is too short as worn, with the stowed length given, in whole centimetres [m]."""

    @property
    def hose(self) -> Hose:
        """The present hose."""
        return self.figures.hose


class Advice(NamedTuple):
    """What to buy for a hose, and the lengths around it."""

    figures: HoseFigures
    needs: tuple[RequiredLength, ...]
    """At rest and in each pose, by string where that was measured."""
    demanded: RequiredLength
    string_less_estimate: Figure | None
    """What the string measured more than the landmarks tell [m]; None unless both are there."""
    present: Option
    """The present hose."""
    buy: Option | None
    """The shortest available length that is certain enough; None when none is."""
    shorter: Option | None
    longer: Option | None
    made_m: float
    """The shortest length in whole centimetres that would be certain enough if it were made [m]."""
    is_best: bool
    """Whether the present hose is the one advised."""

    @property
    def hose(self) -> Hose:
        """The hose."""
        return self.figures.hose

    @property
    def serves(self) -> bool:
        """Whether the present hose can stay: sure enough to be long enough, and no slack that stands off too far."""
        present = self.present
        if not present.is_sure:
            return False
        # A longer one, or none, would not take the slack away.
        is_shorter = self.buy is not None and self.buy.length_m < present.length_m
        return present.is_tidy or self.is_best or not is_shorter

    @property
    def is_measured(self) -> bool:
        """Whether a string measured the run it must cover."""
        return self.hose.run_m is not None and self.demanded.is_worn


def advise(figures: HoseFigures, stock: Stock | None) -> Advice | None:
    """Advise what to buy for a hose; None when its run was neither measured nor can be estimated.

    Args:
        figures: The hose.
        stock: What is available; every stock length when None.
    """
    trial = trial_of(figures)
    if trial is None:
        return None
    options = [try_length(trial, length, stocked) for length, stocked in _lengths(figures.hose, stock)]
    place = next((number for number, option in enumerate(options) if option.is_sure), len(options))
    buy = options[place] if place < len(options) else None
    present = try_length(trial, figures.hose.length_m)
    return Advice(
        figures=figures,
        needs=trial.needs,
        demanded=trial.demanded,
        string_less_estimate=string_less_estimate(figures),
        present=present,
        buy=buy,
        shorter=options[place - 1] if place > 0 else None,
        longer=options[place + 1] if place + 1 < len(options) else None,
        made_m=made_length(trial),
        is_best=buy is not None and is_one_stock_length(buy.length_m, present.length_m),
    )


def trial_of(figures: HoseFigures) -> Trial | None:
    """Find the lengths that a hose must have; None when its run is neither measured nor can be estimated."""
    needs = needs_of(figures.hose, figures.routed)
    if not needs:
        return None
    covers = reach(figures.hose)
    left = tuple(difference(covers, need.length, f"length less what it needs: {need.length.origin}") for need in needs)
    return Trial(figures, needs, most_of(needs), left, _lacking(figures.hose, needs, left))


def _lacking(hose: Hose, needs: Sequence[RequiredLength], left: Sequence[Figure]) -> float:
    """Find how much a partly stowed hose is too short to be certain enough where it is worn [m]."""
    if not hose.stowed_m:
        return 0.0
    worn = [_moved_by(each, -hose.stowed_m) for need, each in zip(needs, left, strict=True) if _must_be_worn(need)]
    enough = catalogue().limits["sure_enough"].value
    return next(n / 100 for n in count() if all(_odds(_moved_by(each, n / 100)) >= enough for each in worn))


def _must_be_worn(need: RequiredLength) -> bool:
    return need.is_worn and need.is_asked


def needs_of(hose: Hose, routed: RoutedHose | None) -> tuple[RequiredLength, ...]:
    """Say what a hose needs at rest and in each pose: the landmarks' lengths, all moved by what a string found.

    A string measures the worn pose that needs most; how much less the other poses need stays the landmarks' word, and
    so does how far a stowed hose must go.
    """
    if hose.run_m is None:
        return routed.needs if routed else ()
    run = string_run(hose, hose.run_m)
    if routed is None:
        return (RequiredLength(BY_STRING, "In the pose in which the string was laid.", (), run, is_asked=True),)
    strung = routed.strung
    return tuple(_moved(need, strung, run, hose) if need.is_worn else need for need in routed.needs)


def _moved(need: RequiredLength, strung: RequiredLength, run: Figure, hose: Hose) -> RequiredLength:
    if need is strung:
        return need._replace(length=run)
    if need.pose == AT_REST and hose.rest_run_m is not None:
        return need._replace(length=string_run(hose, hose.rest_run_m))
    less = difference(need.length, strung.length, "")
    return need._replace(length=total((run, less), "string, moved by landmarks"))


def string_less_estimate(figures: HoseFigures) -> Figure | None:
    """Say what a string measured more than the landmarks tell [m]; None unless both are there."""
    if figures.hose.run_m is None or figures.routed is None:
        return None
    return difference(
        string_run(figures.hose, figures.hose.run_m), figures.routed.strung.length, "string less estimate"
    )


def _lengths(hose: Hose, stock: Stock | None) -> list[tuple[float, StockHose | None]]:
    """Give the available lengths, the shortest first; of one length the cheapest."""
    if stock is None:
        return [(length, None) for length in stock_lengths(hose)]
    found: dict[float, StockHose] = {}
    for stocked in fitting_stock(hose, stock):
        length = length_as_stated(stocked.length_m, stocked.measured, hose)
        known = found.get(length)
        if known is None or stocked.is_cheaper_than(known):
            found[length] = stocked
    return sorted(found.items())


def length_as_stated(length_m: float, measured: str | None, hose: Hose) -> float:
    """Give the length of another hose with the same ends, stated as this one's is [m].

    To the micrometre, so that one length written in two units is one length.
    """
    # Rounded, so that one length in two entries of a stock is one key in `_lengths`.
    if (measured or END_TO_END) == (hose.measured or END_TO_END):
        return round(length_m, 6)
    ends = ends_of(hose)
    both = ends.at_first_stage.envelope_length.value + ends.at_device.envelope_length.value
    return round(length_m + (both if measured == "hose only" else -both), 6)


def fitting_stock(hose: Hose, stock: Stock) -> tuple[StockHose, ...]:
    """Give the hoses of a stock that have this hose's body and ends.

    An end that is not given is taken to fit; but a hose of which neither end is given may be an LP hose, and is never
    taken for an HP one, and an end that only the maker of the device has is never taken to be there.
    """
    return tuple(
        stocked
        for stocked in stock.items
        if stocked.in_stock is not False and stocked.body == hose.body and has_ends(stocked, hose)
    )


def has_ends(stocked: StockHose, hose: Hose) -> bool:
    """Say whether a stocked hose has, or may have, the ends of this one; see `fitting_stock`."""
    ends = ends_of(hose)
    wanted = ends.at_first_stage.name, ends.at_device.name
    is_given = stocked.from_end or stocked.to_end
    if not is_given and service_of(hose) != "LP":
        return False
    if is_only_from_maker(hose) and not stocked.to_end:
        return False
    return (stocked.from_end or wanted[0], stocked.to_end or wanted[1]) == wanted


def try_length(trial: Trial, length_m: float, stocked: StockHose | None = None) -> Option:
    """Try a hose of another length, or of its own, in the place of the present one.

    Args:
        trial: What it must do.
        length_m: Its length, stated as the present one's is [m].
        stocked: The hose of the stock that it is.
    """
    margins = _margins(trial, length_m)
    tests = tuple(
        Test(need.pose, need.how, margin, need.is_asked) for need, margin in zip(trial.needs, margins, strict=True)
    )
    spare, rest_slack = margins[trial.needs.index(trial.demanded)], margins[0]
    by_design = _is_slack_by_design(trial.figures)
    lies = spare.value >= 0 and not by_design
    stand_off, held = _stand_offs(trial.figures, rest_slack, trial.needs[0]) if lies else (None, None)
    is_overdone = _is_overdone(trial, length_m, by_design=by_design)
    return Option(length_m, tests, spare, rest_slack, by_design, stand_off, held, is_overdone, stocked)


def _margins(trial: Trial, length_m: float) -> tuple[Figure, ...]:
    """Say what is left of a hose in each pose, less what is stowed; what is deployed to a partner was stowed before."""
    longer, stowed = length_m - trial.hose.length_m, _stowed(trial, length_m)
    return tuple(
        _moved_by(left, longer - (stowed if need.is_worn else 0.0))
        for need, left in zip(trial.needs, trial.left, strict=True)
    )


def _stowed(trial: Trial, length_m: float) -> float:
    """Say how much of a length is folded away [m]."""
    return stowed_of(trial.hose.stowed_m or 0.0, length_m - trial.hose.length_m, trial.lacks_m)


def _is_overdone(trial: Trial, length_m: float, *, by_design: bool) -> bool:
    """Say whether more is folded away than there is room for, or a loop hangs too low: it drops by half the excess."""
    hose, routed, limits = trial.hose, trial.figures.routed, catalogue().limits
    if hose.stowed_m:
        return round(_stowed(trial, length_m) - hose.stowed_m, 9) > limits["stow_more"].value
    if not by_design:
        return False
    more = round(length_m - hose.length_m, 9)
    if routed is not None and routed.route.hangs:
        return more / 2 > limits["stand_off_caution"].value
    return more > limits["stow_more"].value


def _moved_by(figure: Figure, by_m: float) -> Figure:
    """Add two lengths [m] without the last bits of floats: a hose just as long as its run is not too short."""
    return figure._replace(value=round(figure.value + by_m, 9))


def _is_slack_by_design(figures: HoseFigures) -> bool:
    hose, routed = figures.hose, figures.routed
    if routed is None or hose.rest_run_m is not None:
        return False
    return routed.route.hangs or (routed.route.stowed and hose.stowed_m is None)


def made_length(trial: Trial) -> float:
    """Find the shortest length in whole centimetres that would be certain enough if it were made [m]."""
    enough = catalogue().limits["sure_enough"].value
    least = trial.hose.length_m - trial.left[trial.needs.index(trial.demanded)].value
    # Rounded before it is rounded up: the last bits of a float would add a whole centimetre.
    centimetres = count(ceil(round(least * 100, 6)))
    return next(n / 100 for n in centimetres if _least_odds(trial, n / 100) >= enough)


def _least_odds(trial: Trial, length_m: float) -> float:
    margins = zip(trial.needs, _margins(trial, length_m), strict=True)
    return min(_odds(margin) for need, margin in margins if need.is_asked)


def _stand_offs(figures: HoseFigures, rest_slack: Figure, rest: RequiredLength) -> tuple[Range | None, Range | None]:
    """Say how far a hose stands off at rest, as held now and with one more hold in its longest free span."""
    routed, hose = figures.routed, figures.hose
    span = min(hose.span_m or (routed.span_m if routed else rest.length.value), rest.length.value)
    share = routed.hold.share if routed and hose.span_m is None else 0.5
    return stand_off_range(rest_slack, span), stand_off_range(scaled(rest_slack, share), share * span)


def _odds(margin: Figure) -> float:
    """Give the odds that a margin is not negative, never quite 0 or 1; its spread is two standard deviations."""
    if not margin.spread:
        return CERTAIN if margin.value >= 0 else 1 - CERTAIN
    return min(max((1 + erf(margin.value / (margin.spread / 2) / sqrt(2))) / 2, 1 - CERTAIN), CERTAIN)
