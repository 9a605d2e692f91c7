"""What to do about the length of a hose: keep it, measure its run first, or which length to buy."""

from typing import NamedTuple

from kitbuilder.assess.figures import Figure, difference
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.fit.routed_hose import RequiredLength
from kitbuilder.assess.fit.stock_lengths import is_one_stock_length, stock_lengths
from kitbuilder.assess.fit.trial import Option, Trial, is_enough, made_length, string_run, try_length
from kitbuilder.assess.fit.verdict import FITS, Verdict
from kitbuilder.assess.hoses.hose_weight import ends_of, service_of
from kitbuilder.assess.hoses.joints import is_only_from_maker
from kitbuilder.kit.items import Hose
from kitbuilder.kit.stock import Stock, StockHose

END_TO_END = "end to end"
"""How a length is stated unless the file says."""


class Advice(NamedTuple):
    """What to do about a hose, what to buy if it must be replaced, and the lengths around that."""

    figures: HoseFigures
    trial: Trial
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
    def needs(self) -> tuple[RequiredLength, ...]:
        """What it needs at rest and in each pose, by string where that was measured."""
        return self.trial.needs

    @property
    def demanded(self) -> RequiredLength:
        """The longest length among those that must be possible."""
        return self.trial.demanded

    @property
    def verdict(self) -> Verdict:
        """Whether the present hose fits."""
        return self.present.verdict

    @property
    def is_measured(self) -> bool:
        """Whether a string measured the run it must cover."""
        return self.trial.is_measured

    @property
    def serves(self) -> bool:
        """Whether the present hose can stay: nothing says that it does not fit."""
        return not (self.verdict.is_too_short or self.verdict.is_too_long)

    @property
    def is_replaced(self) -> bool:
        """Whether the present hose does not fit and another length is the answer.

        One that by landmarks alone is too short in one pose and bows out in another is measured first: a longer one
        would bow out further.
        """
        return not self.serves and (self.verdict.test.by_string or not self.verdict.pulls_and_bows)

    @property
    def must_measure(self) -> bool:
        """Whether the run has to be measured before anything is bought."""
        return self.verdict.outcome != FITS and not self.is_replaced


def advise(figures: HoseFigures, stock: Stock | None) -> Advice | None:
    """Advise what to do about a hose; None when its run was neither measured nor can be estimated.

    Args:
        figures: The hose.
        stock: What is available; every stock length when None.
    """
    if figures.fit is None:
        return None
    trial, present = figures.fit.trial, figures.fit.present
    lengths, is_too_long = _lengths(figures.hose, stock), present.verdict.is_too_long

    def option(number: int) -> Option | None:
        """Try one of the lengths; None beyond either end of the list."""
        return try_length(trial, *lengths[number]) if 0 <= number < len(lengths) else None

    tried = (try_length(trial, *length) for length in lengths)
    place = next(
        (number for number, each in enumerate(tried) if _is_advised(each, is_too_long=is_too_long)), len(lengths)
    )
    buy = option(place)
    if is_too_long and buy is not None and buy.length_m >= present.length_m:
        buy = None  # what is available takes no slack away
    return Advice(
        figures=figures,
        trial=trial,
        string_less_estimate=string_less_estimate(figures),
        present=present,
        buy=buy,
        shorter=option(place - 1),
        longer=option(place + 1),
        made_m=made_length(trial, is_certain=is_too_long),
        is_best=buy is not None and is_one_stock_length(buy.length_m, present.length_m),
    )


def _is_advised(option: Option, *, is_too_long: bool) -> bool:
    """Say whether a length may be bought. In place of a hose that is only too long, one that is certain to fit."""
    if option.verdict.is_too_long:
        return False
    return option.verdict.outcome == FITS if is_too_long else is_enough(option)


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
