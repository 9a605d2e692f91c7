"""Which length to buy for a hose: each stock length tried in every pose, and how sure that is."""

from collections.abc import Sequence
from itertools import count
from math import ceil, erf, inf, sqrt
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, Range, difference, scaled, total
from kitbuilder.assess.fit import SAME_STOCK_SHARE, stand_off_range, stock_lengths, string_run
from kitbuilder.assess.hose_figures import HoseFigures
from kitbuilder.assess.hose_weight import ends_of, reach
from kitbuilder.assess.on_body.laid import AT_REST, Laid, Need, most_of
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.stock import Stock, StockHose
from kitbuilder.kit.things import Hose

END_TO_END = "end to end"
"""How a length is stated unless the file says."""
BY_STRING = "as measured"
"""The one pose of a hose of which only a string tells."""


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
    """One length for a hose, and what it would do."""

    length_m: float
    tests: tuple[Test, ...]
    spare: Figure
    """What is left in the pose that needs most [m]."""
    rest_slack: Figure
    """What is left at rest [m]."""
    by_design: bool
    """Whether slack hangs or is folded away on purpose."""
    stand_off: Range | None
    """In the longest free span, at rest [m]; None when too short, a loop, or slack on purpose."""
    held_stand_off: Range | None
    """The same, were it held at `Laid.hold` as well, its slack shared out to both sides [m]."""
    stocked: StockHose | None
    """The hose a stock file has of this length; None without a stock file."""

    @property
    def failed(self) -> tuple[Test, ...]:
        """What it must do and does not."""
        return tuple(test for test in self.tests if test.is_asked and not test.passes)

    @property
    def odds(self) -> float:
        """How likely it does all it must, from 0 to 1: no likelier than what is least likely of it."""
        return min(test.odds for test in self.tests if test.is_asked)

    @property
    def is_tidy(self) -> bool:
        """Whether its slack at rest stays near the body, or hangs or is folded away on purpose."""
        limit = catalogue().limits["stand_off_caution"].value
        return self.by_design or (self.stand_off is not None and self.stand_off.value <= limit)


class Advice(NamedTuple):
    """What to buy for a hose, and the lengths around it."""

    figures: HoseFigures
    needs: tuple[Need, ...]
    """At rest and in each pose, by string where that was measured."""
    demanded: Need
    string_less_estimate: Figure | None
    """What the string measured more than the landmarks tell [m]; None unless both are there."""
    present: Option
    """The hose as it is."""
    buy: Option | None
    """The shortest length to be had that is sure enough; None when none is."""
    shorter: Option | None
    longer: Option | None
    made_m: float
    """The shortest length in whole centimetres that is sure enough, were one made [m]."""
    is_best: bool
    """Whether the present hose is the one to have."""

    @property
    def hose(self) -> Hose:
        """The hose."""
        return self.figures.hose

    @property
    def serves(self) -> bool:
        """Whether the present hose can stay: sure enough to be long enough, and no slack that stands off too far."""
        limits, present = catalogue().limits, self.present
        if present.odds < limits["sure_enough"].value:
            return False
        # A longer one, or none, would not take the slack away.
        is_shorter = self.buy is not None and self.buy.length_m < present.length_m
        return present.is_tidy or self.is_best or not is_shorter

    @property
    def is_measured(self) -> bool:
        """Whether a string tells what it must cover."""
        return self.hose.run_m is not None and self.demanded.is_worn


def advise(figures: HoseFigures, stock: Stock | None) -> Advice | None:
    """What to buy for a hose; None when its run was neither measured nor can be estimated.

    Args:
        figures: The hose.
        stock: What is to be had; every stock length when None.
    """
    needs = needs_of(figures.hose, figures.laid)
    if not needs:
        return None
    demanded = most_of(needs)
    lengths = _lengths(figures.hose, stock)
    options = [_option(figures, needs, demanded, length, stocked) for length, stocked in lengths]
    enough = catalogue().limits["sure_enough"].value
    place = next((number for number, option in enumerate(options) if option.odds >= enough), len(options))
    buy = options[place] if place < len(options) else None
    present = _option(figures, needs, demanded, figures.hose.length_m, None)
    return Advice(
        figures=figures,
        needs=needs,
        demanded=demanded,
        string_less_estimate=string_less_estimate(figures),
        present=present,
        buy=buy,
        shorter=options[place - 1] if place > 0 else None,
        longer=options[place + 1] if place + 1 < len(options) else None,
        made_m=_made_length(present, enough),
        is_best=buy is not None and _same(buy.length_m, present.length_m),
    )


def needs_of(hose: Hose, laid: Laid | None) -> tuple[Need, ...]:
    """What a hose needs at rest and in each pose: the landmarks' lengths, all moved by what a string found.

    A string measures the worn pose that needs most; how much less the other poses need stays the landmarks' word, and
    so does how far a stowed hose must go.
    """
    if hose.run_m is None:
        return laid.needs if laid else ()
    run = string_run(hose, hose.run_m)
    if laid is None:
        return (Need(BY_STRING, "In the pose in which the string was laid.", (), run, is_asked=True),)
    strung = laid.strung
    return tuple(_moved(need, strung, run, hose) if need.is_worn else need for need in laid.needs)


def _moved(need: Need, strung: Need, run: Figure, hose: Hose) -> Need:
    if need is strung:
        return need._replace(length=run)
    if need.pose == AT_REST and hose.rest_run_m is not None:
        return need._replace(length=string_run(hose, hose.rest_run_m))
    less = difference(need.length, strung.length, "")
    return need._replace(length=total((run, less), "string, moved by landmarks"))


def string_less_estimate(figures: HoseFigures) -> Figure | None:
    """What a string measured more than the landmarks tell [m]; None unless both are there."""
    if figures.hose.run_m is None or figures.laid is None:
        return None
    return difference(string_run(figures.hose, figures.hose.run_m), figures.laid.strung.length, "string less estimate")


def _lengths(hose: Hose, stock: Stock | None) -> list[tuple[float, StockHose | None]]:
    """The lengths to be had, the shortest first; of one length the cheapest."""
    if stock is None:
        return [(length, None) for length in stock_lengths(hose)]
    found: dict[float, StockHose] = {}
    for stocked in fitting_stock(hose, stock):
        length = round(_end_to_end(stocked, hose), 6)  # one length written in two units is one length
        known = found.get(length)
        if known is None or _price(stocked) < _price(known):
            found[length] = stocked
    return sorted(found.items())


def _end_to_end(stocked: StockHose, hose: Hose) -> float:
    """The length of a stocked hose as the present one is stated [m]."""
    if (stocked.measured or END_TO_END) == (hose.measured or END_TO_END):
        return stocked.length_m
    ends = ends_of(hose)
    both = ends.at_first_stage.envelope_length.value + ends.at_device.envelope_length.value
    return stocked.length_m + (both if stocked.measured == "hose only" else -both)


def fitting_stock(hose: Hose, stock: Stock) -> tuple[StockHose, ...]:
    """The hoses of a stock that have this hose's body and ends.

    An end that is not told is taken to fit; but a hose of which neither end is told may be an LP hose, and is never
    taken for an HP one.
    """
    role = catalogue().roles[hose.role]
    ends = hose.from_end or role.from_end, hose.to_end or role.to_end
    return tuple(
        stocked
        for stocked in stock.things
        if stocked.in_stock is not False
        and (role.service == "LP" or stocked.from_end or stocked.to_end)
        and stocked.body == hose.body
        and (stocked.from_end or ends[0], stocked.to_end or ends[1]) == ends
    )


def _price(stocked: StockHose) -> float:
    return inf if stocked.price is None else stocked.price


def _option(
    figures: HoseFigures, needs: Sequence[Need], demanded: Need, length_m: float, stocked: StockHose | None
) -> Option:
    hose = figures.hose
    longer = length_m - hose.length_m
    covers = reach(hose)
    covers = covers._replace(value=round(covers.value + longer, 9))
    tests = [Test(need.pose, need.how, _margin(covers, need, hose), need.is_asked) for need in needs]
    spare, rest_slack = _margin(covers, demanded, hose), tests[0].margin
    by_design = _is_slack_by_design(figures)
    lies = spare.value >= 0 and not by_design
    stand_off, held = _stand_offs(figures, rest_slack, needs[0]) if lies else (None, None)
    return Option(length_m, tuple(tests), spare, rest_slack, by_design, stand_off, held, stocked)


def _margin(covers: Figure, need: Need, hose: Hose) -> Figure:
    """What is left of a hose as it is worn, less what is stowed; what is deployed to a partner was stowed before.

    Without the last bits of floats: a hose exactly as long as it must be is not too short.
    """
    left = difference(covers, need.length, "")
    stowed = (hose.stowed_m or 0.0) if need.is_worn else 0.0
    return left._replace(value=round(left.value - stowed, 9))


def _is_slack_by_design(figures: HoseFigures) -> bool:
    hose, laid = figures.hose, figures.laid
    if laid is None or hose.rest_run_m is not None:
        return False
    return laid.route.hangs or (laid.route.stowed and hose.stowed_m is None)


def _made_length(present: Option, enough: float) -> float:
    asked = [test.margin for test in present.tests if test.is_asked]
    least = present.length_m - present.spare.value
    centimetres = count(ceil(round(least * 100, 6)))
    return next(n / 100 for n in centimetres if _least_odds(asked, n / 100 - present.length_m) >= enough)


def _least_odds(margins: Sequence[Figure], longer_m: float) -> float:
    return min(_odds(margin._replace(value=margin.value + longer_m)) for margin in margins)


def _stand_offs(figures: HoseFigures, rest_slack: Figure, rest: Need) -> tuple[Range | None, Range | None]:
    """How far it stands off at rest, as it is held and with one more hold in the middle of its longest free span."""
    laid, hose = figures.laid, figures.hose
    span = min(hose.span_m or (laid.span_m if laid else rest.length.value), rest.length.value)
    share = laid.hold.share if laid and hose.span_m is None else 0.5
    return stand_off_range(rest_slack, span), stand_off_range(scaled(rest_slack, share), share * span)


def _same(one_m: float, other_m: float) -> bool:
    return abs(one_m - other_m) <= SAME_STOCK_SHARE * other_m


def _odds(margin: Figure) -> float:
    """The odds that a margin is not negative; its spread is two standard deviations."""
    if not margin.spread:
        return 1.0 if margin.value >= 0 else 0.0
    return (1 + erf(margin.value / (margin.spread / 2) / sqrt(2))) / 2
