"""How a hose's length suits its run: slack, stand-off, tightest bend, and the stock lengths around it."""

from bisect import bisect_left, bisect_right
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, Range
from kitbuilder.assess.hose_weight import reach, service_of
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.things import Hose
from kitbuilder.physics.elastica import LARGEST_RATIO, Bend, bend, curve

SHORT, RIGHT, LONG = "too short", "right", "too long"

SAME_STOCK_SHARE = 0.016
"""Hoses made to inches are sold by rounded centimetres: 30 in and 75 cm, 84 in and 210 cm are one hose."""


class StockOption(NamedTuple):
    """What a stock length would give on the same run."""

    length_m: float
    slack_m: float
    stand_off_m: float | None
    """None when the hose is too short, or a loop."""
    verdict: str


class Fit(NamedTuple):
    """How a hose fits a run that was measured."""

    run_m: float
    span_m: float
    """The longest free stretch, in which all the slack can gather [m]."""
    slack: Figure
    """What is left in the pose of the run: reach less run less what is stowed [m]."""
    rest_slack: Figure
    """What is left at rest; that of the run's pose when the rest was not measured [m]."""
    rest_is_measured: bool
    stand_off: Range | None
    """[m]; None when the hose is too short, or a loop."""
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
        """Whether the hose has so much slack that it hangs in a loop and no stand-off can be told."""
        return self.slack.value >= 0 and self.rest_slack.value > 0 and self.bend is None


def fit_hose(hose: Hose) -> Fit | None:
    """How the hose fits; None when its run was not measured."""
    if hose.run_m is None:
        return None
    rest_run = hose.run_m if hose.rest_run_m is None else hose.rest_run_m
    span = min(hose.span_m or rest_run, rest_run)
    slack = _slack(hose, hose.run_m)
    rest_slack = slack if hose.rest_run_m is None else _slack(hose, rest_run)
    is_short = slack.value < 0
    return Fit(
        run_m=hose.run_m,
        span_m=span,
        slack=slack,
        rest_slack=rest_slack,
        rest_is_measured=hose.rest_run_m is not None,
        stand_off=None if is_short else _stand_off_range(rest_slack, span),
        bend=None if is_short else _bend(rest_slack.value, span),
        verdict=_verdict(slack.value, rest_slack.value, span),
        shorter=_stock_option(hose, slack, rest_slack, span, -1),
        longer=_stock_option(hose, slack, rest_slack, span, +1),
        covering_stock=_covering_stock(hose, slack, rest_slack, span),
    )


def _slack(hose: Hose, run_m: float) -> Figure:
    length = reach(hose)
    shares = dict(length.shares) | {f"string over the run of {hose.tag}": catalogue().limits["string_spread"].value}
    left = _to_nanometre(length.value - run_m - (hose.stowed_m or 0.0))
    return Figure(left, shares, f"length {length.origin}; run by string")


def rest_curve(fit: Fit, points: int) -> tuple[tuple[float, float], ...]:
    """The hose at rest over its free span, from hold to hold: (along the body, away from it) [m].

    Empty for a hose that is too short, and for a loop.
    """
    return curve(fit.bend, points) if fit.bend else ()


def stock_lengths(hose: Hose) -> tuple[float, ...]:
    """The lengths in which such a hose is sold [m], shortest first."""
    return catalogue().stock_lengths[service_of(hose)]


def neighbour_length(hose: Hose, by: int) -> float | None:
    """The next stock length above (+1) or below (-1) the hose's own [m]; None at the end of the list."""
    lengths, same = stock_lengths(hose), SAME_STOCK_SHARE * hose.length_m
    index = bisect_right(lengths, hose.length_m + same) if by > 0 else bisect_left(lengths, hose.length_m - same) - 1
    return lengths[index] if 0 <= index < len(lengths) else None


def _to_nanometre(length_m: float) -> float:
    """Without the last bits of floats: a hose exactly as long as its run is not too short."""
    return round(length_m, 9)


def _bend(slack_m: float, span_m: float) -> Bend | None:
    length = span_m + max(slack_m, 0.0)
    return bend(length, span_m) if length <= span_m * LARGEST_RATIO else None


def _stand_off(slack_m: float, span_m: float) -> float | None:
    shape = _bend(slack_m, span_m)
    return shape.stand_off_m if shape and slack_m >= 0 else None


def _stand_off_range(slack: Figure, span_m: float) -> Range | None:
    value = _stand_off(slack.value, span_m)
    if value is None:
        return None
    low = _stand_off(max(0.0, slack.value - slack.spread), span_m)
    # More slack than a stand-off can be told for is a loop; the range then ends where loops begin.
    most_slack = (LARGEST_RATIO - 1) * span_m * (1 - 1e-9)
    high = _stand_off(min(slack.value + slack.spread, most_slack), span_m)
    return Range(value, low if low is not None else 0.0, max(value, high if high is not None else value))


def _verdict(slack_m: float, rest_slack_m: float, span_m: float) -> str:
    if slack_m < 0:
        return SHORT
    stand_off = _stand_off(rest_slack_m, span_m)
    too_far = stand_off is None or stand_off > catalogue().limits["stand_off_caution"].value
    return LONG if too_far else RIGHT


def _option(length_m: float, hose: Hose, slack: Figure, rest_slack: Figure, span_m: float) -> StockOption:
    longer = length_m - hose.length_m
    changed, at_rest = _to_nanometre(slack.value + longer), _to_nanometre(rest_slack.value + longer)
    stand_off = _stand_off(at_rest, span_m) if changed >= 0 else None
    return StockOption(length_m, changed, stand_off, _verdict(changed, at_rest, span_m))


def _stock_option(hose: Hose, slack: Figure, rest_slack: Figure, span_m: float, by: int) -> StockOption | None:
    length = neighbour_length(hose, by)
    return None if length is None else _option(length, hose, slack, rest_slack, span_m)


def _covering_stock(hose: Hose, slack: Figure, rest_slack: Figure, span_m: float) -> StockOption | None:
    options = (_option(length, hose, slack, rest_slack, span_m) for length in stock_lengths(hose))
    return next((option for option in options if option.verdict != SHORT), None)
