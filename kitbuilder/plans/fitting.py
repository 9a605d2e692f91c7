"""The fitting of a kit: advice for every hose, and the list of what to buy."""

from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.fit.advice import Advice, Option, advise
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.gas.oxygen_clean import needs_clean
from kitbuilder.assess.hoses.hose_flow import Flow, flow_through
from kitbuilder.assess.hoses.hose_weight import ends_of
from kitbuilder.catalogue import Fitting
from kitbuilder.kit.stock import StockHose


class FittedHose(NamedTuple):
    """One hose of a kit, and what there is to say about its length."""

    figures: HoseFigures
    advice: Advice | None
    """None when its run was neither measured nor can be estimated."""
    flow: Flow | None
    """None for a hose nobody breathes through."""
    is_bought: bool
    """Whether a hose has to be bought to replace it."""

    @property
    def to_have(self) -> Option | None:
        """The hose as it is, where it can stay, else the one to buy; None when that has to be made, or is not known."""
        if self.advice is None:
            return None
        return self.advice.buy if self.is_bought else self.advice.present

    @property
    def length_to_have_m(self) -> float | None:
        """Its length, made or not [m]."""
        if self.advice is None:
            return None
        return self.to_have.length_m if self.to_have else self.advice.made_m


class ShoppingLine(NamedTuple):
    """One line of a shopping list: equal hoses."""

    tags: tuple[str, ...]
    """Of the hoses that they are for."""
    length_m: float
    measured: str | None
    """What the length covers, as a file says it; end to end when None."""
    is_made: bool
    """Whether no such length is available, so that it has to be made."""
    body: str
    service: str
    at_first_stage: Fitting
    at_device: Fitting
    stocked: StockHose | None
    """The hose of the stock file; None without one."""
    must_be_clean: bool = False
    """Whether oxygen-rich gas reaches them, so that they have to be clean for it."""

    @property
    def pieces(self) -> int:
        """How many."""
        return len(self.tags)

    @property
    def price(self) -> float | None:
        """For all of them, in the currency of the stock; None when the stock gives no price."""
        if self.stocked is None or self.stocked.price is None:
            return None
        return round(self.stocked.price * self.pieces, 2)


class FittingPlan(NamedTuple):
    """A kit fitted hose by hose."""

    assessment: Assessment
    hoses: tuple[FittedHose, ...]
    shopping: tuple[ShoppingLine, ...]
    """What to buy: LP before HP, the shortest first."""

    @property
    def price(self) -> float | None:
        """Of all shopping whose price is given, in the currency of the stock; None when none is."""
        prices = [line.price for line in self.shopping if line.price is not None]
        return round(sum(prices), 2) if prices else None

    @property
    def without_price(self) -> int:
        """How many hoses of the list have no price."""
        return sum(line.pieces for line in self.shopping if line.price is None)


def plan_fitting(assessment: Assessment, *, buy_all: bool = False) -> FittingPlan:
    """Give the fitting of a kit.

    Args:
        assessment: The kit worked out; with a stock file beside it, advice keeps to what that has.
        buy_all: Whether no hose of the kit is owned yet.
    """
    hoses = tuple(_fitted(figures, assessment, buy_all=buy_all) for figures in assessment.hoses)
    return FittingPlan(assessment, hoses, _shopping_list(hoses, needs_clean(assessment.kit)))


def _fitted(figures: HoseFigures, assessment: Assessment, *, buy_all: bool) -> FittedHose:
    advice = advise(figures, assessment.kit.linked.stock)
    flow = flow_through(figures.hose, assessment.kit.header)
    return FittedHose(figures, advice, flow, is_bought=advice is not None and (buy_all or not advice.serves))


def _shopping_list(hoses: tuple[FittedHose, ...], rich: frozenset[str]) -> tuple[ShoppingLine, ...]:
    shopping: dict[object, ShoppingLine] = {}
    for fitted in hoses:
        if not fitted.is_bought or fitted.advice is None:
            continue
        line = _shopping_line(fitted.advice)._replace(must_be_clean=fitted.figures.hose.tag in rich)
        key = line._replace(tags=(), stocked=None)
        known = shopping.get(key)
        shopping[key] = known._replace(tags=(*known.tags, *line.tags)) if known else line
    return tuple(sorted(shopping.values(), key=lambda line: (line.service != "LP", line.length_m)))


def _shopping_line(advice: Advice) -> ShoppingLine:
    hose, ends, buy = advice.hose, ends_of(advice.hose), advice.buy
    stocked = buy.stocked if buy else None
    return ShoppingLine(
        tags=(hose.tag,),
        length_m=stocked.length_m if stocked else buy.length_m if buy else advice.made_m,
        measured=stocked.measured if stocked else hose.measured,
        is_made=buy is None,
        body=hose.body,
        service=advice.figures.service,
        at_first_stage=ends.at_first_stage,
        at_device=ends.at_device,
        stocked=stocked,
    )
