"""The fitting of a kit: advice for every hose, and the list of what to buy."""

from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Finding, Signal
from kitbuilder.assess.fit.advice import Advice, advise, fitting_stock
from kitbuilder.assess.fit.hose_figures import HoseFigures, with_hose
from kitbuilder.assess.fit.trial import Option, try_length
from kitbuilder.assess.fit.verdict import must_measure
from kitbuilder.assess.gas.hose_flow import Flow, flow_through
from kitbuilder.assess.gas.oxygen_clean import needs_clean
from kitbuilder.assess.hoses.hose_weight import ends_of
from kitbuilder.assess.hoses.joints import is_only_from_maker, right_hoses, usual_by_adapter
from kitbuilder.assess.rules.joints import JOINT_RULES
from kitbuilder.catalogue import Fitting
from kitbuilder.kit.items import Hose
from kitbuilder.kit.stock import StockHose

LENGTH_KEYS = {"length", "run", "rest_run", "span", "stowed"}
"""The keys of a hose that findings about its length name; the fitting says the same in its own words."""


class FittedHose(NamedTuple):
    """One hose of a kit, and what there is to say about its length."""

    figures: HoseFigures
    advice: Advice | None
    """None when its run was neither measured nor can be estimated."""
    flow: Flow | None
    """None for a hose nobody breathes through."""
    is_bought: bool
    """Whether a hose has to be bought to replace it."""
    bought: Hose
    """The hose that is, or would be, bought in its place: with ends that join, and the adapters it needs."""

    @property
    def joins(self) -> bool | None:
        """Whether the present hose joins its port and its device; None when too little is known to say so."""
        return self.figures.joints.joins

    @property
    def is_stuck(self) -> bool:
        """Whether no hose joins port and device, since they are of two pressure classes or offer unknown threads."""
        return self.joins is False and not self.is_bought

    @property
    def only_from_maker(self) -> bool:
        """Whether no stock has the hose that is bought: the maker of the device does."""
        return self.is_bought and is_only_from_maker(self.bought)

    @property
    def other_ends(self) -> dict[str, str | None]:
        """The keys of ends and adapters in which the hose that is bought differs from the present one."""
        present, bought = self.figures.hose, self.bought
        keys = ("from_end", "from_adapter", "to_end", "to_adapter")
        return {key: getattr(bought, key) for key in keys if getattr(bought, key) != getattr(present, key)}

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
    adapters: tuple[str, ...]
    """What sits between it and its port or its device."""
    or_adapters: tuple[str, ...]
    """Adapters with which a hose with the usual ends would do as well."""
    only_from_maker: bool
    """Whether no stock has it: the maker of the device does."""
    odds: float | None
    """How likely each is to be long enough, at the least, from 0 to 1; None where the run is not known."""
    stocked: StockHose | None
    """The hose of the stock file; None without one."""
    must_be_clean: bool = False
    """Whether oxygen-rich gas reaches them, so that they have to be clean for it."""

    @property
    def pieces(self) -> int:
        """How many."""
        return len(self.tags)

    @property
    def must_measure(self) -> bool:
        """Whether the run of one of them has to be measured before it is bought."""
        return must_measure(self.odds)

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

    def beside_length(self, fitted: FittedHose) -> tuple[Finding, ...]:
        """Give what else is a caution or worse of a hose: it may be long enough, and not clean for its gas."""
        return tuple(
            finding
            for finding in self.assessment.findings
            if finding.item == fitted.figures.number
            and finding.signal is not Signal.NOTICE
            and finding.key not in LENGTH_KEYS
            and finding.rule not in JOINT_RULES
        )

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
    stock, joints = assessment.kit.linked.stock, figures.joints
    flow = flow_through(figures.hose, assessment.kit, assessment.water)
    hoses = list(right_hoses(joints))
    advice = advise(with_hose(figures, hoses[0] if hoses else figures.hose), stock)
    is_due = joints.joins is False or (advice is not None and (buy_all or advice.is_replaced))
    is_bought = is_due and bool(hoses)
    if is_bought and stock is not None:
        # The first that the stock has: with the present ends, then with others, then with an adapter.
        hoses = [hose for hose in hoses if fitting_stock(hose, stock)] or hoses
        advice = advise(with_hose(figures, hoses[0]), stock)
    return FittedHose(figures, advice, flow, is_bought, hoses[0] if hoses else figures.hose)


def _shopping_list(hoses: tuple[FittedHose, ...], rich: frozenset[str]) -> tuple[ShoppingLine, ...]:
    shopping: dict[object, ShoppingLine] = {}
    for fitted in hoses:
        if not fitted.is_bought:
            continue
        line = _shopping_line(fitted)._replace(must_be_clean=fitted.figures.hose.tag in rich)
        key = line._replace(tags=(), odds=None, stocked=None)
        known = shopping.get(key)
        if known:
            line = known._replace(tags=(*known.tags, *line.tags), odds=_least(known.odds, line.odds))
        shopping[key] = line
    return tuple(sorted(shopping.values(), key=lambda line: (line.service != "LP", line.length_m)))


def _shopping_line(fitted: FittedHose) -> ShoppingLine:
    hose, ends, advice = fitted.bought, ends_of(fitted.bought), fitted.advice
    buy = advice.buy if advice else None
    stocked = buy.stocked if buy else None
    length_m = stocked.length_m if stocked else fitted.length_to_have_m
    return ShoppingLine(
        tags=(hose.tag,),
        length_m=hose.length_m if length_m is None else length_m,  # as long as now, where its run is not known
        measured=stocked.measured if stocked else hose.measured,
        is_made=advice is not None and buy is None,
        body=hose.body,
        service=fitted.figures.service,
        at_first_stage=ends.at_first_stage,
        at_device=ends.at_device,
        adapters=tuple(adapter.name for adapter in ends.adapters),
        or_adapters=usual_by_adapter(fitted.figures.joints, hose),
        only_from_maker=fitted.only_from_maker,
        odds=_odds_of(advice),
        stocked=stocked,
    )


def _odds_of(advice: Advice | None) -> float | None:
    """Give how likely the length to buy, or to have made, is long enough; None where the run is not known."""
    if advice is None:
        return None
    return (advice.buy or try_length(advice.trial, advice.made_m)).odds


def _least(one: float | None, other: float | None) -> float | None:
    known = [odds for odds in (one, other) if odds is not None]
    return min(known, default=None)
