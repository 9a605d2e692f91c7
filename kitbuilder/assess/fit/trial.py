"""A hose tried with other lengths: what each leaves in every pose and at rest, and the verdict on it."""

from itertools import count
from math import ceil
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, Range, difference, scaled, total
from kitbuilder.assess.fit.routed_hose import AT_REST, RequiredLength, RoutedHose, most_of
from kitbuilder.assess.fit.stand_off import least_stand_off, stand_off_range
from kitbuilder.assess.fit.stock_lengths import is_one_stock_length, stock_lengths
from kitbuilder.assess.fit.verdict import Test, Verdict, judge, odds_of
from kitbuilder.assess.hoses.hose_weight import reach
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Hose
from kitbuilder.kit.stock import StockHose

BY_STRING = "as measured"
"""The pose in which the string was laid, where no route says which one that was."""
HANGS, STOWED = "hangs", "stowed"
"""How slack at rest is meant to be used up."""


class Option(NamedTuple):
    """One length for a hose, tried in every pose."""

    length_m: float
    tests: tuple[Test, ...]
    spare: Figure
    """The margin in the position that needs the longest hose [m]."""
    rest_slack: Figure
    """What is left at rest [m]."""
    by_design: bool
    """Whether slack hangs or is folded away on purpose."""
    stand_off: Range | None
    """In the longest free span, at rest [m]; None when too short at rest, a loop, or slack on purpose."""
    held_stand_off: Range | None
    """The same if it were also held at `RoutedHose.hold`, with its slack shared between both sides [m]."""
    is_overdone: bool
    """Whether so much more of it than of the present hose is folded away, or hangs, that it is in the way."""
    verdict: Verdict
    stocked: StockHose | None
    """The hose a stock file has of this length; None without a stock file."""

    @property
    def failed(self) -> tuple[Test, ...]:
        """The required poses for which it is too short, as far as is known."""
        return tuple(test for test in self.tests if test.is_asked and not test.passes)

    @property
    def failed_worst_first(self) -> tuple[Test, ...]:
        """The same, the most too short first."""
        return tuple(sorted(self.failed, key=lambda test: test.margin.value))

    @property
    def odds(self) -> float:
        """The odds of the least likely pose that decides, from 0 to 1."""
        return min(test.odds for test in self.tests if test.decides)

    @property
    def is_loop(self) -> bool:
        """Whether it has so much slack at rest that it hangs in a loop and no stand-off can be computed."""
        return _is_loop(self.rest_slack, self.stand_off, by_design=self.by_design)


class Closest(NamedTuple):
    """The shortest length sold that is certain to be long enough."""

    length_m: float
    rest_slack_m: float
    stand_off: Range | None
    """[m]; None for a loop, or slack on purpose."""


class Trial(NamedTuple):
    """The lengths that a hose must have, for trying other lengths in its place."""

    hose: Hose
    """The present hose."""
    routed: RoutedHose | None
    """By the landmarks of its route; None when none is known."""
    needs: tuple[RequiredLength, ...]
    """At rest and in each pose, by string where that was measured."""
    demanded: RequiredLength
    left: tuple[Figure, ...]
    """The margin of the present hose in each pose if nothing of it were stowed [m]."""
    lacks_m: float
    """How much the present hose is too short as worn, with the stowed length given, in whole centimetres [m]."""
    slack_by_design: str
    """How slack at rest is meant to be used up: `HANGS`, `STOWED`, or empty."""
    span_m: float
    """The longest free stretch at rest, in which all the slack can gather [m]."""
    closest: Closest | None = None
    """None when no length sold is certain to be long enough."""

    @property
    def is_measured(self) -> bool:
        """Whether a string measured the run it must cover."""
        return self.hose.run_m is not None and self.demanded.is_worn

    @property
    def rest_is_strung(self) -> bool:
        """Whether a string measured the run at rest as well."""
        routed, is_strung = self.routed, self.hose.run_m is not None
        return is_strung and (self.hose.rest_run_m is not None or routed is None or routed.strung is routed.rest)


def trial_of(hose: Hose, routed: RoutedHose | None) -> Trial | None:
    """Find the lengths that a hose must have; None when its run is neither measured nor can be estimated."""
    needs = needs_of(hose, routed)
    if not needs:
        return None
    covers, rest_m = reach(hose), needs[0].length.value
    left = tuple(difference(covers, need.length, f"length less what it needs: {need.length.origin}") for need in needs)
    trial = Trial(
        hose=hose,
        routed=routed,
        needs=needs,
        demanded=most_of(needs),
        left=left,
        lacks_m=0.0,
        slack_by_design=_slack_by_design(hose, routed),
        span_m=min(hose.span_m or (routed.span_m if routed else rest_m), rest_m),
    )
    trial = trial._replace(lacks_m=_lacking(trial))
    return trial._replace(closest=_closest(trial))


def _slack_by_design(hose: Hose, routed: RoutedHose | None) -> str:
    if routed is None or hose.rest_run_m is not None:
        return ""
    if routed.route.hangs:
        return HANGS
    return STOWED if routed.route.stowed and hose.stowed_m is None else ""


def _lacking(trial: Trial) -> float:
    """Find how much a partly stowed hose is too short to be certain enough where it is worn [m]."""
    stowed_m = trial.hose.stowed_m
    if not stowed_m:
        return 0.0
    pairs = zip(trial.needs, trial.left, strict=True)
    worn = [_moved_by(each, -stowed_m) for need, each in pairs if need.is_worn and _decides(need)]
    margins = [(each.value, each.spread) for each in worn]
    is_certain = trial.hose.run_m is not None
    tried = (n / 100 for n in count())
    return next(
        more
        for more in tried
        if all(_is_enough(_sum_m(margin, more), spread, is_certain=is_certain) for margin, spread in margins)
    )


def _closest(trial: Trial) -> Closest | None:
    """Find the shortest length sold that is certain to be long enough in every required pose."""
    asked = _asked(trial)
    for length_m in stock_lengths(trial.hose):
        more = _more_left(trial, length_m)
        if all(_sum_m(left.value, more[place]) >= spread for place, left, spread in asked):
            rest_slack = _moved_by(trial.left[0], more[0])
            stand_off = None if trial.slack_by_design else stand_off_range(rest_slack, trial.span_m)
            return Closest(length_m, rest_slack.value, stand_off)
    return None


def _asked(trial: Trial) -> list[tuple[int, Figure, float]]:
    """List the poses that decide: the place of each, what the present hose leaves, and the spread of that.

    The spread takes time to work out, and does not change with the length.
    """
    return [
        (place, trial.left[place], trial.left[place].spread) for place, need in enumerate(trial.needs) if _decides(need)
    ]


def needs_of(hose: Hose, routed: RoutedHose | None) -> tuple[RequiredLength, ...]:
    """Say what a hose needs at rest and in each pose: the landmarks' lengths, all moved by what a string found.

    A string measures the worn pose that needs most, so the other worn poses need no more; how much less stays the
    landmarks' word, and so does how far a stowed hose must go.
    """
    if hose.run_m is None:
        return routed.needs if routed else ()
    run = string_run(hose, hose.run_m)
    strung = RequiredLength(BY_STRING, "In the position in which the string was laid.", (), run, is_asked=True)
    if routed is None:
        return (*_rest_by_string(hose, strung), strung)
    moved = tuple(by_string(need, hose, routed) for need in routed.needs)
    if routed.strung is routed.rest and hose.rest_run_m is not None:
        return (*_rest_by_string(hose, moved[0]), strung, *moved[1:])
    return moved


def _rest_by_string(hose: Hose, need: RequiredLength) -> tuple[RequiredLength, ...]:
    """Give the run at rest where a string was laid for it as well."""
    if hose.rest_run_m is None:
        return ()
    rest = "Stand relaxed, as when the string was laid for the run at rest."
    return (need._replace(pose=AT_REST, how=rest, length=string_run(hose, hose.rest_run_m)),)


def by_string(need: RequiredLength, hose: Hose, routed: RoutedHose) -> RequiredLength:
    """Give a length by landmarks, moved by what a string over the same run found; the same where none was laid."""
    if hose.run_m is None or not need.is_worn:
        return need
    return _moved(need, routed.strung, string_run(hose, hose.run_m), hose)


def _moved(need: RequiredLength, strung: RequiredLength, run: Figure, hose: Hose) -> RequiredLength:
    if need is strung:
        return need._replace(length=run)
    if need.pose == AT_REST and hose.rest_run_m is not None:
        return need._replace(length=string_run(hose, hose.rest_run_m))
    less = difference(need.length, strung.length, "")
    return need._replace(length=total((run, less), "string, moved by landmarks"), is_covered=True)


def _decides(need: RequiredLength) -> bool:
    """Say whether a pose is required, and no string in another pose covers it."""
    return need.is_asked and not need.is_covered


def string_run(hose: Hose, run_m: float) -> Figure:
    """Give a length measured by string [m]."""
    components = {f"string over the run of {hose.tag}": catalogue().limits["string_spread"].value}
    return Figure(run_m, components, "string")


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


def try_length(trial: Trial, length_m: float, stocked: StockHose | None = None) -> Option:
    """Try a hose of another length, or of its own, in the place of the present one.

    Args:
        trial: What it must do.
        length_m: Its length, stated as the present one's is [m].
        stocked: The hose of the stock that it is.
    """
    margins = _margins(trial, length_m)
    is_strung = trial.hose.run_m is not None
    tests = tuple(
        Test(need.pose, need.how, margin, need.is_asked, _decides(need), need.length, is_strung and need.is_worn)
        for need, margin in zip(trial.needs, margins, strict=True)
    )
    rest_slack, by_design = margins[0], bool(trial.slack_by_design)
    stand_off, held = (None, None) if by_design or rest_slack.value < 0 else _stand_offs(trial, rest_slack)
    is_overdone, is_loop = _is_overdone(trial, length_m), _is_loop(rest_slack, stand_off, by_design=by_design)
    limit = catalogue().limits["stand_off_caution"].value
    has_slack = is_overdone or is_loop or (stand_off is not None and stand_off.value > limit)
    is_too_long = _is_too_long(trial, length_m, rest_slack, is_overdone=is_overdone)
    return Option(
        length_m=length_m,
        tests=tests,
        spare=margins[trial.needs.index(trial.demanded)],
        rest_slack=rest_slack,
        by_design=by_design,
        stand_off=stand_off,
        held_stand_off=held,
        is_overdone=is_overdone,
        verdict=judge(tests, has_slack=has_slack, is_too_long=is_too_long),
        stocked=stocked,
    )


def _is_loop(rest_slack: Figure, stand_off: Range | None, *, by_design: bool) -> bool:
    return not by_design and rest_slack.value > 0 and stand_off is None


def _is_too_long(trial: Trial, length_m: float, rest_slack: Figure, *, is_overdone: bool) -> bool:
    """Say whether it is certain to have too much slack, and a shorter length sold would fit and be worth having.

    That one lies within the limit, or closer by at least as much as the limit: a hose is not replaced for a few
    centimetres that one more hold takes away as well.
    """
    closest, limit = trial.closest, catalogue().limits["stand_off_caution"].value
    is_shorter = closest is not None and closest.length_m < length_m
    if closest is None or not is_shorter or is_one_stock_length(closest.length_m, length_m):
        return False
    if is_overdone or trial.slack_by_design:
        return is_overdone
    if closest.rest_slack_m >= rest_slack.value:
        return False  # what is folded away gets shorter, and the slack stays
    least = least_stand_off(rest_slack, trial.span_m)
    if least is None:
        return closest.stand_off is not None
    worth_having = max(limit, least - limit)
    return least > limit and closest.stand_off is not None and closest.stand_off.value <= worth_having


def _margins(trial: Trial, length_m: float) -> tuple[Figure, ...]:
    """Say what is left of a hose in each pose, less what is stowed."""
    return tuple(_moved_by(left, more) for left, more in zip(trial.left, _more_left(trial, length_m), strict=True))


def _more_left(trial: Trial, length_m: float) -> tuple[float, ...]:
    """Say how much more than of the present hose, were nothing of that stowed, is left in each pose [m].

    What is deployed to a partner was stowed before.
    """
    longer, stowed = length_m - trial.hose.length_m, _stowed(trial, length_m)
    return tuple(longer - stowed if need.is_worn else longer for need in trial.needs)


def _stowed(trial: Trial, length_m: float) -> float:
    """Say how much of a length is folded away [m]."""
    return stowed_of(trial.hose.stowed_m or 0.0, length_m - trial.hose.length_m, trial.lacks_m)


def _is_overdone(trial: Trial, length_m: float) -> bool:
    """Say whether more is folded away than there is room for, or a loop hangs too low: it drops by half the excess."""
    hose, limits = trial.hose, catalogue().limits
    if hose.stowed_m:
        return round(_stowed(trial, length_m) - hose.stowed_m, 9) > limits["stow_more"].value
    more = round(length_m - hose.length_m, 9)
    if trial.slack_by_design == HANGS:
        return more / 2 > limits["stand_off_caution"].value
    return trial.slack_by_design == STOWED and more > limits["stow_more"].value


def _moved_by(figure: Figure, by_m: float) -> Figure:
    return figure._replace(value=_sum_m(figure.value, by_m))


def _sum_m(one_m: float, other_m: float) -> float:
    """Add two lengths [m] without the last bits of floats: a hose just as long as its run is not too short."""
    return round(one_m + other_m, 9)


def _stand_offs(trial: Trial, rest_slack: Figure) -> tuple[Range | None, Range | None]:
    """Say how far a hose stands off at rest, as held now and with one more hold in its longest free span."""
    span, routed = trial.span_m, trial.routed
    share = routed.hold.share if routed and trial.hose.span_m is None else 0.5
    return stand_off_range(rest_slack, span), stand_off_range(scaled(rest_slack, share), share * span)


def made_length(trial: Trial, *, is_certain: bool = False) -> float:
    """Find the shortest length in whole centimetres that would be certain enough if it were made [m].

    Args:
        trial: What it must do.
        is_certain: Whether it must be certain, as where a string was laid, even if the run is an estimate.
    """
    least = trial.hose.length_m - trial.left[trial.needs.index(trial.demanded)].value
    # Rounded before it is rounded up: the last bits of a float would add a whole centimetre.
    centimetres = count(ceil(round(least * 100, 6)))
    asked, is_strung = _asked(trial), trial.hose.run_m is not None

    def is_enough(length_m: float) -> bool:
        more = _more_left(trial, length_m)
        return all(
            _is_enough(
                _sum_m(left.value, more[place]),
                spread,
                is_certain=is_certain or (is_strung and trial.needs[place].is_worn),
            )
            for place, left, spread in asked
        )

    return next(n / 100 for n in centimetres if is_enough(n / 100))


def is_enough(option: Option) -> bool:
    """Say whether a length is certain enough to be bought: as `sure_enough` says where no string was laid."""
    deciding = [test for test in option.tests if test.decides]
    return all(_is_enough(test.margin.value, test.margin.spread, is_certain=test.by_string) for test in deciding)


def _is_enough(margin_m: float, spread_m: float, *, is_certain: bool) -> bool:
    if is_certain:
        return margin_m >= spread_m
    return odds_of(margin_m, spread_m) >= catalogue().limits["sure_enough"].value
