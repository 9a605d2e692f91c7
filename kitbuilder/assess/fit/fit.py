"""How a hose's length suits its run: slack, stand-off, tightest bend, and the stock lengths around it."""

from bisect import bisect_left, bisect_right
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, Range, difference
from kitbuilder.assess.fit.routed_hose import RoutedHose
from kitbuilder.assess.hoses.hose_weight import reach, service_of
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Hose
from kitbuilder.physics.elastica import LARGEST_RATIO, Bend, bend, curve

SHORT, RIGHT, LONG = "too short", "right", "too long"

SAME_STOCK_SHARE = 0.016
"""Hoses made to inches are sold by rounded centimetres: 30 in and 75 cm, 84 in and 210 cm are one hose."""


TRADE_INCH_M, SAME_M = 0.025, 1e-6
"""What an inch of a hose is sold as in centimetres; and two lengths that differ by less are one in two units."""


def is_one_stock_length(one_m: float, other_m: float) -> bool:
    """Say whether two lengths [m] are sold as one: to the micrometre, so that a length just at the limit always is."""
    return round(abs(one_m - other_m) - SAME_STOCK_SHARE * max(one_m, other_m), 6) <= 0


class StockOption(NamedTuple):
    """What a stock length would give on the same run."""

    length_m: float
    slack_m: float
    stand_off_m: float | None
    """None when the hose is too short, a loop, or slack on purpose."""
    verdict: str


class Fit(NamedTuple):
    """How a hose fits its run: by string where it was measured, else by the landmarks of its route."""

    run: Figure
    """What it must cover in the pose that needs most [m]."""
    is_estimated: bool
    """Whether the run comes from landmarks, since nobody has laid a string."""
    slack_by_design: str
    """How slack at rest is meant to be used up: "hangs", "stowed", or empty."""
    span_m: float
    """The longest free stretch, in which all the slack can gather [m]."""
    slack: Figure
    """What is left in the pose of the run: reach less run less what is stowed [m]."""
    rest_slack: Figure
    """What is left at rest; that of the run's pose when the rest was not measured [m]."""
    rest_is_measured: bool
    stand_off: Range | None
    """[m]; None when the hose is too short, a loop, or slack on purpose."""
    bend: Bend | None
    verdict: str
    shorter: StockOption | None
    """The nearest stock length below the present one."""
    longer: StockOption | None
    """The nearest stock length above the present one."""
    covering_stock: StockOption | None
    """The shortest stock length that covers the run; None when none does."""

    @property
    def best_stock(self) -> StockOption | None:
        """The shortest stock length that covers the run; None when none does or it stands off too far."""
        return self.covering_stock if self.covering_stock and self.covering_stock.verdict == RIGHT else None

    @property
    def tightest_radius_m(self) -> float | None:
        """With both holds keeping the hose along the body: the smaller, careful figure [m]."""
        return self.bend.tightest_radius_clamped_m if self.bend and self.rest_slack.value > 0 else None

    @property
    def is_loop(self) -> bool:
        """Whether the hose has so much slack that it hangs in a loop and no stand-off can be computed."""
        return not self.slack_by_design and self.slack.value >= 0 and self.rest_slack.value > 0 and self.bend is None


def fit_hose(hose: Hose, routed: RoutedHose | None = None) -> Fit | None:
    """Say how the hose fits.

    Args:
        hose: The hose.
        routed: The hose by landmarks; what its run is taken from when no string was laid.

    Returns:
        None when its run was neither measured nor can be estimated.
    """
    if hose.run_m is not None:
        measured = _Demand(string_run(hose, hose.run_m), _measured_rest(hose, hose.run_m), hose.run_m)
        return _fit(hose, measured, is_estimated=False)
    if routed is None:
        return None
    by_design = "hangs" if routed.route.hangs else "stowed" if routed.route.stowed and hose.stowed_m is None else ""
    rest = routed.demanded.length if by_design else routed.rest.length
    return _fit(hose, _Demand(routed.demanded.length, rest, routed.span_m, by_design), is_estimated=True)


def string_run(hose: Hose, run_m: float) -> Figure:
    """Give a length measured by string [m]."""
    components = {f"string over the run of {hose.tag}": catalogue().limits["string_spread"].value}
    return Figure(run_m, components, "string")


def _measured_rest(hose: Hose, run_m: float) -> Figure:
    return string_run(hose, run_m if hose.rest_run_m is None else hose.rest_run_m)


class _Slacks(NamedTuple):
    """What all that is given of a length follows from; another length changes the first two alike."""

    slack: Figure
    rest: Figure
    span_m: float
    by_design: str
    stowed_m: float

    def of_length(self, longer_m: float) -> tuple[float, float]:
        """Give the slack in the pose of the run and at rest of a hose longer by so much, part of it folded away [m]."""
        stowed = stowed_of(self.stowed_m, longer_m, max(0.0, -self.slack.value))
        more = longer_m - (stowed - self.stowed_m)
        return _to_nanometre(self.slack.value + more), _to_nanometre(self.rest.value + more)


def stowed_of(stowed_m: float, longer_m: float, lacks_m: float) -> float:
    """Find how much of another length is folded away: now plus the extra length, or less the missing length [m].

    Args:
        stowed_m: What is folded away of the present hose; of one that has nothing folded, all slack stays slack.
        longer_m: How much longer the other is.
        lacks_m: What the present one lacks; of a longer hose that goes to the run first.
    """
    if not stowed_m:
        return 0.0
    return max(0.0, stowed_m + (longer_m if longer_m < 0 else max(0.0, longer_m - lacks_m)))


class _Demand(NamedTuple):
    """The run and the bends that the route of a hose asks for."""

    run: Figure
    """In the pose that needs most. [m]"""
    rest: Figure
    """[m]"""
    free_m: float
    """The longest stretch that nothing holds."""
    by_design: str = ""
    """Why slack is left on purpose: "hangs" or "stowed"; nothing where none is."""


def _fit(hose: Hose, demand: _Demand, *, is_estimated: bool) -> Fit:
    span = min(hose.span_m or demand.free_m, demand.rest.value)
    by_design = demand.by_design
    slacks = _Slacks(_slack(hose, demand.run), _slack(hose, demand.rest), span, by_design, hose.stowed_m or 0.0)
    slack, rest_slack = slacks.slack, slacks.rest
    lies = slack.value >= 0 and not by_design
    return Fit(
        run=demand.run,
        is_estimated=is_estimated,
        slack_by_design=by_design,
        span_m=span,
        slack=slack,
        rest_slack=rest_slack,
        rest_is_measured=hose.rest_run_m is not None,
        stand_off=stand_off_range(rest_slack, span) if lies else None,
        bend=_bend(rest_slack.value, span) if lies else None,
        verdict=_verdict(slack.value, rest_slack.value, slacks),
        shorter=_stock_option(hose, slacks, -1),
        longer=_stock_option(hose, slacks, +1),
        covering_stock=_covering_stock(hose, slacks),
    )


def _slack(hose: Hose, run: Figure) -> Figure:
    length = reach(hose)
    left = difference(length, run, f"length {length.origin}; run by {run.origin}")
    return left._replace(value=_to_nanometre(left.value - (hose.stowed_m or 0.0)))


def rest_curve(fit: Fit, points: int) -> tuple[tuple[float, float], ...]:
    """Give the hose at rest over its free span, from hold to hold: (along the body, away from it) [m].

    Empty for a hose that is too short, and for a loop.
    """
    return curve(fit.bend, points) if fit.bend else ()


def stock_lengths(hose: Hose) -> tuple[float, ...]:
    """Give the lengths in which such a hose is sold [m], shortest first."""
    return catalogue().stock_lengths[service_of(hose)]


def neighbour_length(hose: Hose, by: int) -> float | None:
    """Give the next stock length above (+1) or below (-1) the hose's own [m]; None at the end of the list."""
    lengths, same = stock_lengths(hose), SAME_STOCK_SHARE * hose.length_m
    index = bisect_right(lengths, hose.length_m + same) if by > 0 else bisect_left(lengths, hose.length_m - same) - 1
    return lengths[index] if 0 <= index < len(lengths) else None


def inches_sold_by(length_m: float) -> int | None:
    """Tell the whole inches by which a stock hose of a length is sold, 30 for 75 cm; None for any other length."""
    known = (length for lengths in catalogue().stock_lengths.values() for length in lengths)
    if not any(abs(length_m - length) < SAME_M for length in known):
        return None
    return round(length_m / TRADE_INCH_M)


def _to_nanometre(length_m: float) -> float:
    """Drop the last bits of a float: a hose exactly as long as its run is not too short."""
    return round(length_m, 9)


def _bend(slack_m: float, span_m: float) -> Bend | None:
    length = span_m + max(slack_m, 0.0)
    return bend(length, span_m) if length <= span_m * LARGEST_RATIO else None


def _stand_off(slack_m: float, span_m: float) -> float | None:
    shape = _bend(slack_m, span_m)
    return shape.stand_off_m if shape and slack_m >= 0 else None


def stand_off_range(slack: Figure, span_m: float) -> Range | None:
    """Say how far slack over a free span stands off, and within which range [m]; None for a loop."""
    value = _stand_off(slack.value, span_m)
    if value is None:
        return None
    low = _stand_off(max(0.0, slack.value - slack.spread), span_m)
    # More slack than a stand-off can be computed for is a loop; the range then ends where loops begin.
    most_slack = (LARGEST_RATIO - 1) * span_m * (1 - 1e-9)
    high = _stand_off(min(slack.value + slack.spread, most_slack), span_m)
    return Range(value, low if low is not None else 0.0, max(value, high if high is not None else value))


def _verdict(slack_m: float, rest_slack_m: float, slacks: _Slacks) -> str:
    if slack_m < 0:
        return SHORT
    if slacks.by_design:
        return RIGHT
    stand_off = _stand_off(rest_slack_m, slacks.span_m)
    too_far = stand_off is None or stand_off > catalogue().limits["stand_off_caution"].value
    return LONG if too_far else RIGHT


def _option(length_m: float, hose: Hose, slacks: _Slacks) -> StockOption:
    changed, at_rest = slacks.of_length(length_m - hose.length_m)
    lies = changed >= 0 and not slacks.by_design
    stand_off = _stand_off(at_rest, slacks.span_m) if lies else None
    return StockOption(length_m, changed, stand_off, _verdict(changed, at_rest, slacks))


def _stock_option(hose: Hose, slacks: _Slacks, by: int) -> StockOption | None:
    length = neighbour_length(hose, by)
    return None if length is None else _option(length, hose, slacks)


def _covering_stock(hose: Hose, slacks: _Slacks) -> StockOption | None:
    options = (_option(length, hose, slacks) for length in stock_lengths(hose))
    return next((option for option in options if option.verdict != SHORT), None)
