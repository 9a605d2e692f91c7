"""Where a rule begins to speak: at the limit of the catalogue, or where a figure leaves its own spread.

A kit is worked out, and then single figures are replaced by ones of which value and spread are known exactly.
"""

from math import radians

import pytest

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Figure, Range, Weight
from kitbuilder.assess.findings import About, Finding, Signal, Unchecked
from kitbuilder.assess.fit.verdict import judge
from kitbuilder.assess.rules.context import Context, make_context
from kitbuilder.assess.rules.registry import RULES
from kitbuilder.kit.resolved import NOTHING_LINKED
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import PLAIN, assessed, beside, lone_hose, with_keys, without
from tests.assess.rules.test_balance import DRY, STAGE

WARNING, CAUTION, NOTICE, DANGER = Signal.WARNING, Signal.CAUTION, Signal.NOTICE, Signal.DANGER
HAIR = 1e-6


def figure(value: float, spread: float) -> Figure:
    """Two independent sources, so that only their root sum of squares is the spread."""
    return Figure(value, {"one": 0.6 * spread, "other": -0.8 * spread}, "an example")


def context_of(found: Assessment) -> Context:
    kit, water, wearer = found.kit, found.water, found.wearer
    return make_context(kit, water, wearer, found.hoses, found.if_all, found.weights, found.balance)


def with_balance(context: Context, **figures: object) -> Context:
    assert context.balance is not None
    return context._replace(balance=context.balance._replace(**figures))


def said(rule: str, context: Context) -> list[Finding]:
    return [result for result in RULES[rule](context) if isinstance(result, Finding)]


def signals(rule: str, context: Context) -> list[Signal]:
    return [finding.signal for finding in said(rule, context)]


def ranges(rule: str, context: Context) -> list[tuple[float, float]]:
    """The range of each figure in what is wrong, low and high."""
    [finding] = said(rule, context)
    return [(piece.low, piece.high) for piece in finding.what if isinstance(piece, About)]


def within(value: float, spread: float) -> tuple[float, float]:
    return pytest.approx((value - spread, value + spread))


def spoken_by(rule: str, context: Context) -> str:
    """All sentences of what is wrong."""
    results = RULES[rule](context)
    return " ".join(
        sentence(each.because if isinstance(each, Unchecked) else each.what, System.METRIC) for each in results
    )


# --- lead -------------------------------------------------------------------------------------------------------------

WORN = context_of(assessed(PLAIN, beside()))
"""It carries 6 kg of lead."""
BARE = context_of(assessed(without(PLAIN, "belt"), beside()))
"""Without lead."""


@pytest.mark.parametrize(
    ("short", "spread", "signal"),
    [
        (0.3, 0.1, []),  # a breath makes up for it
        (0.3 + 1e-3, 0.1, [WARNING]),
        (0.3 + 1e-3, 2.0, [CAUTION]),
        (2.0 - 1e-3, 2.0, [CAUTION]),
        (2.0 + 1e-3, 2.0, [WARNING]),
        (0.3, 1.0, []),  # known to a piece of lead: the likely value decides
        (0.3, 1.0 + 1e-3, [CAUTION]),  # a coin toss
        (-2.2, 3.0, [CAUTION]),  # 2.5 kg beyond what is breathed away: 1.63 standard deviations, 94.9 %
        (-2.3, 3.0, []),  # 2.6: 1.70, 95.5 %
        (-2.0 + 1e-3, 1.0, []),  # not worth taking off
        (-2.0 - 1e-3, 1.0, [CAUTION]),
        (-3.0 + 1e-3, 3.0, []),  # may be needed
        (-3.0 - 1e-3, 3.0, [CAUTION]),
    ],
)
def test_lead_against_what_is_needed(short: float, spread: float, signal: list[Signal]) -> None:
    """Short beyond the spread is certain to be short; a surplus counts beyond 2 kg and beyond the spread.

    Held is what is held with 95 %, one-sided, by a table of the normal distribution: 1.645 standard deviations, of
    which a spread has 1.96.
    """
    found = with_balance(WORN, lead=figure(6.0 + short, spread))
    assert signals("lead for stop", found) == signal
    if signal:
        low, high = 6.0 + short - spread, 6.0 + short + spread
        assert ranges("lead for stop", found) == [(pytest.approx(max(low, 0.0)), pytest.approx(high))]


@pytest.mark.parametrize(("heavy", "signal"), [(3.0 - 1e-3, []), (3.0 + 1e-3, [NOTICE])])
def test_a_kit_without_lead_that_is_too_heavy(heavy: float, signal: list[Signal]) -> None:
    """Beyond its spread of 3 kg this is certain; there is nothing to take off."""
    found = with_balance(BARE, lead=figure(-heavy, 3.0))
    assert signals("lead for stop", found) == signal
    assert not signal or ranges("lead for stop", found) == [within(heavy, 3.0)]


def test_without_a_diver_the_doubt_about_the_lead_is_said() -> None:
    """As wide as it is."""
    alone = with_balance(context_of(assessed(PLAIN, NOTHING_LINKED)), lead=figure(5.0, 7.0))
    assert "known only to ± 7.0 kg" in spoken_by("balance", alone)


# --- lift and what may fail -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lift", "signal"),
    [
        (10.0 - 1e-3, [DANGER]),
        (10.0 + 1e-3, [WARNING]),
        (12.0 - 1e-3, [WARNING]),
        (12.0 + 1e-3, [CAUTION]),
        (17.0 - 1e-3, [CAUTION]),
        (17.0 + 1e-3, []),
    ],
)
def test_the_lift_of_the_wing(lift: float, signal: list[Signal]) -> None:
    """10 kg heavy ± 3 and a lift ± 4: 5 between them; 2 kg hold the head above the water."""
    assert WORN.balance is not None
    heavy = tuple(moment._replace(buoyancy=figure(-10.0, 3.0)) for moment in WORN.balance.moments)
    buoyancy_model = WORN.balance.buoyancy_model._replace(lift=figure(lift, 4.0))
    found = with_balance(WORN, moments=heavy, buoyancy_model=buoyancy_model)
    assert signals("lift of the wing", found) == signal
    assert not signal or ranges("lift of the wing", found) == [within(10.0, 3.0), within(lift, 4.0)]


@pytest.mark.parametrize(("lift", "signal"), [(10.0 - 1e-3, [WARNING]), (15.0 - 1e-3, [CAUTION]), (15.0 + 1e-3, [])])
def test_a_flooded_drysuit(lift: float, signal: list[Signal]) -> None:
    """10 kg heavy ± 3, a lift ± 4."""
    dry = context_of(assessed(DRY, beside()))
    assert dry.balance is not None
    what_ifs = tuple(each._replace(buoyancy=figure(-10.0, 3.0)) for each in dry.balance.what_ifs)
    found = with_balance(
        dry, what_ifs=what_ifs, buoyancy_model=dry.balance.buoyancy_model._replace(lift=figure(lift, 4.0))
    )
    assert signals("flooded drysuit", found) == signal
    assert not signal or ranges("flooded drysuit", found) == [within(10.0, 3.0), within(lift, 4.0)]


@pytest.mark.parametrize(
    ("floats", "spread", "signal"),
    [
        (0.3, 1.0, []),  # breathed away
        (0.3 + 1e-3, 2.0, [CAUTION]),
        (2.0 - 1e-3, 2.0, [CAUTION]),
        (2.0 + 1e-3, 2.0, [WARNING]),
        (-2.2, 3.0, [CAUTION]),
        (-2.3, 3.0, []),
    ],
)
def test_a_lost_stage(floats: float, spread: float, signal: list[Signal]) -> None:
    """Floating by more than the spread is certain; it is held as the stop with all stages is."""
    staged = context_of(assessed(PLAIN + STAGE, beside()))
    assert staged.balance is not None
    what_ifs = tuple(each._replace(buoyancy=figure(floats, spread)) for each in staged.balance.what_ifs)
    found = with_balance(staged, what_ifs=what_ifs)
    assert signals("lost stage", found) == signal
    assert not signal or ranges("lost stage", found) == [within(floats, spread)]


@pytest.mark.parametrize(("floats", "signal"), [(0.0, []), (1.0, [NOTICE])])
def test_dropped_lead(floats: float, signal: list[Signal]) -> None:
    """Floating up is said, with its spread."""
    kit = context_of(assessed(with_keys(PLAIN, "belt", droppable=True), beside()))
    assert kit.balance is not None
    what_ifs = tuple(each._replace(buoyancy=figure(floats, 2.0)) for each in kit.balance.what_ifs)
    found = with_balance(kit, what_ifs=what_ifs)
    assert signals("dropped lead", found) == signal
    assert not signal or ranges("dropped lead", found) == [(0.0, pytest.approx(3.0))]  # no less than nothing


@pytest.mark.parametrize(("heavy", "signal"), [(4.5, []), (4.5 + 1e-3, [WARNING])])
def test_a_failed_wing(heavy: float, signal: list[Signal]) -> None:
    """About 4.5 kg can be swum up against; nothing can be dropped and there is no other lift."""
    assert WORN.balance is not None
    what_ifs = tuple(each._replace(buoyancy=figure(-heavy, 2.0)) for each in WORN.balance.what_ifs)
    found = with_balance(WORN, what_ifs=what_ifs)
    assert signals("failed wing", found) == signal
    assert not signal or ranges("failed wing", found) == [within(heavy, 2.0)]


@pytest.mark.parametrize(
    ("moment", "low", "steady", "signal"),
    [
        (2.0 - 1e-3, 40, True, []),  # may be none
        (2.0 + 1e-3, 40, True, [CAUTION]),
        (-2.0 - 1e-3, 40, True, [CAUTION]),
        (2.0 + 1e-3, 9.9, True, []),  # he may come to rest as good as level
        (2.0 + 1e-3, 10.1, True, [CAUTION]),
        (2.0 + 1e-3, 9.9, False, [CAUTION]),  # he turns away from it
    ],
)
def test_trim(moment: float, low: float, steady: bool, signal: list[Signal]) -> None:
    """A turning moment beyond its spread of 2, unless he rests within 10 degrees."""
    assert WORN.balance is not None
    trim = WORN.balance.trim
    end = trim.end._replace(
        moment=figure(moment, 2.0),
        pitch_low_rad=radians(low),
        pitch_rad=radians(50),
        pitch_high_rad=radians(60),
        is_steady=steady,
    )
    found = with_balance(WORN, trim=trim._replace(end=end))
    assert signals("trim", found) == signal
    assert not signal or f"head-{'down' if moment > 0 else 'up'} with" in spoken_by("trim", found)
    assert not signal or ranges("trim", found) == [within(abs(moment), 2.0)]


# --- hoses ------------------------------------------------------------------------------------------------------------

HOSE = context_of(assessed(lone_hose(role="other LP", run="70 cm")))


def judged(context: Context, margin: Figure, stand_off: Range | None = None) -> Context:
    """The hose with that margin in the position that decides, and that stand-off at rest, counted as too much."""
    [hose] = context.hoses
    assert hose.fit is not None
    test = hose.fit.verdict.test._replace(margin=margin)
    verdict = judge((test,), has_slack=stand_off is not None, is_too_long=False)
    present = hose.fit.present._replace(verdict=verdict, stand_off=stand_off)
    return context._replace(hoses=(hose._replace(fit=hose.fit._replace(present=present)),))


@pytest.mark.parametrize(
    ("slack", "short", "just"),
    [
        (-0.03 - HAIR, [WARNING], []),
        (-0.03 + HAIR, [], [CAUTION]),
        (-HAIR, [], [CAUTION]),
        (0.0, [], [NOTICE]),
        (0.03 - HAIR, [], [NOTICE]),
        (0.03 + HAIR, [], []),
    ],
)
def test_too_short_or_just_reaching(slack: float, short: list[Signal], just: list[Signal]) -> None:
    """What lies within a spread of 3 cm may be the measurement."""
    found = judged(HOSE, figure(slack, 0.03))
    assert signals("too short", found) == short
    assert signals("just reaches", found) == just
    assert not short or ranges("too short", found) == [(pytest.approx(-slack - 0.03), pytest.approx(-slack + 0.03))]
    assert not just or ranges("just reaches", found) == [within(slack, 0.03)]


@pytest.mark.parametrize(
    ("stand_off", "signal"),
    [(0.1 + HAIR, [CAUTION]), (0.2, [CAUTION]), (0.2 + HAIR, [WARNING])],
)
def test_standing_off(stand_off: float, signal: list[Signal]) -> None:
    """A caution from where it is too much, a warning beyond 20 cm; its range is said with both ends."""
    found = judged(HOSE, figure(0.1, 0.03), Range(stand_off, 0.07, 0.33))
    assert signals("stands off", found) == signal
    assert ranges("stands off", found) == [(0.07, 0.33)]


LONG = context_of(assessed(lone_hose(role="long hose", length="210 cm")))


@pytest.mark.parametrize(
    ("floats", "says"),
    [
        (-0.05 - HAIR, ""),
        (-0.05 + HAIR, "the hose may float"),
        (0.05 - HAIR, "the hose may float"),
        (0.05 + HAIR, "the hose floats"),
    ],
)
def test_a_long_hose_that_floats(floats: float, says: str) -> None:
    """For certain, or within a spread of 50 g."""
    [hose] = LONG.hoses
    weights = {body: Weight(each.mass, figure(floats, 0.05)) for body, each in hose.weights.items()}
    found = LONG._replace(hoses=(hose._replace(weights=weights),))
    spoken = spoken_by("long hose floats", found)
    assert spoken.startswith(says) and bool(spoken) is bool(says)
    assert not says or ranges("long hose floats", found) == [within(floats, 0.05)]


@pytest.mark.parametrize(("lighter", "signal"), [(0.1 - HAIR, []), (0.1 + HAIR, [NOTICE])])
def test_bodies_and_lead(lighter: float, signal: list[Signal]) -> None:
    """A gain in mass within its spread of 100 g is none."""
    heavy = Weight(figure(1.0 + lighter, 0.1), Figure(-0.3, {}, ""))
    light = Weight(Figure(1.0, {}, ""), Figure(-0.2, {}, ""))
    found = LONG._replace(if_all={"rubber": heavy, "braided": light})
    assert signals("bodies and lead", found) == signal
    assert not signal or ranges("bodies and lead", found) == [within(lighter, 0.1)]


SENDER = context_of(assessed(lone_hose(role="transmitter", length="15 cm")))
"""Nobody has laid a string: its run is that of its route by landmarks."""


@pytest.mark.parametrize(
    ("slack", "signal"), [(HAIR, []), (-HAIR, [NOTICE]), (-0.03 + HAIR, [NOTICE]), (-0.03 - HAIR, [CAUTION])]
)
def test_too_short_by_estimate(slack: float, signal: list[Signal]) -> None:
    """Certain beyond a spread of 3 cm."""
    found = judged(SENDER, figure(slack, 0.03))
    assert found.hoses[0].fit is not None and found.hoses[0].fit.is_estimated
    assert signals("short by estimate", found) == signal
    assert not signal or ranges("short by estimate", found) == [(max(-slack - 0.03, 0.0), pytest.approx(-slack + 0.03))]


def test_a_string_against_the_route_is_reported_from_twice_the_spread_on() -> None:
    """String 1.5 cm, and a route of 14.4 cm by landmarks 6.5 sqrt(0.144) = 2.5 cm: 2.9 cm, twice that is 5.8."""
    spoken = {
        run: bool(
            spoken_by("string against route", context_of(assessed(lone_hose(role="transmitter", run=f"{run} cm"))))
        )
        for run in (8.0, 9.5, 14.4, 19.5, 21.0)
    }
    assert spoken == {8.0: True, 9.5: False, 14.4: False, 19.5: False, 21.0: True}


@pytest.mark.parametrize(("left", "signal"), [(-1e-3, NOTICE), (1e-3, WARNING)])
def test_lead_that_is_dropped_lifts_by_what_it_weighs_in_water(left: float, signal: Signal) -> None:
    """6 kg of lead in water of 1025 kg/m3: 6 (1 - 1025/11340) = 5.46 kg; 4.5 kg more can be swum up against."""
    kit = context_of(assessed(with_keys(PLAIN, "belt", droppable=True), beside()))
    assert kit.balance is not None
    heavy = 4.5 + 6 * (1 - 1025 / 11340) + left
    what_ifs = tuple(each._replace(buoyancy=figure(-heavy, 2.0)) for each in kit.balance.what_ifs)
    found = with_balance(kit, what_ifs=what_ifs)
    assert signals("failed wing", found) == [signal]
    assert ("5.5 kg of that can be dropped" in spoken_by("failed wing", found)) is (signal is WARNING)


def test_a_hold_of_a_hose_without_a_route_is_left_alone() -> None:
    """Nothing is known of where it passes."""
    kit = context_of(assessed(lone_hose(role="other LP", holds=["left hip"])))
    assert [hose.routed for hose in kit.hoses] == [None]
    assert said("hold off the path", kit) == []
