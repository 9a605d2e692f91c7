"""Which length to buy, as a specification: the shortest available that is certain enough, and how certain each is.

Where a number follows by hand, the hose has a run by string and no usual route: length and string are known to
hypot(1, 1.5) = 1.8 cm, which holds 95 %. Odds are held against a table of the normal distribution.
"""

from collections import defaultdict
from dataclasses import replace
from math import hypot, pi, sqrt
from random import Random
from statistics import NormalDist, stdev
from typing import NamedTuple

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.fit.advice import Advice, advise, fitting_stock
from kitbuilder.assess.fit.hose_figures import HoseFigures, work_out_hose
from kitbuilder.assess.fit.measures import Wearer
from kitbuilder.assess.fit.routed_hose import AT_REST, measure_route
from kitbuilder.assess.fit.trial import BY_STRING, trial_of, try_length
from kitbuilder.assess.fit.verdict import CANNOT_BE_SAID, DOES_NOT_FIT, FITS, TOO_LONG, TOO_SHORT
from kitbuilder.assess.water import assess_water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import LAYOUTS, Header, Hose
from kitbuilder.kit.stock import Stock, StockHeader, StockHose
from kitbuilder.kitfile.starters import starter_text
from tests.assess.fit.bodies import STATURE_AND_MASS, body
from tests.assess.kits import assessed, beside, hose_figures, kit_of, with_keys

pytestmark = pytest.mark.usefixtures("usual_values")

CM = 1e-2
SURE, CERTAIN = 0.75, 0.975
"""How certain a length is that is bought by landmarks, and one that fits: 95 % of a normal distribution lie within a
spread, so one spread to spare.
"""
DEVIATIONS = NormalDist().inv_cdf(CERTAIN)
"""To each side, within which 95 % of a normal distribution lie: 1.96."""
STRING = hypot(1.0, 1.5) * CM
"""How far a stated length and a string may be off together, in 95 % of cases [m]."""
WAYS = {
    f"{role}: {route.name}, {layout}": (route, layout, role)
    for route in catalogue().routes.values()
    for layout in route.layouts
    for role in route.roles
}
"""Every way in which a hose is led."""
STOWED = [name for name, (route, _, _) in WAYS.items() if route.stowed]
FREE = [name for name, (route, _, _) in WAYS.items() if not (route.stowed or route.hangs)]
OVER_SHOULDER = "primary: over the right shoulder, single"
UNDER_ARM = "alternate: under the right arm to the chest, single"
ROUND_NECK = "long hose: under the right arm and round the neck, single"
TO_HIP = "gauge: down to the left hip ring, single"
ROUND_HIP = "long hose: round the hip and behind the neck, twinset"
INFLATOR = "wing inflator: inflator from the left post, twinset"
NECKLACE = "necklace: necklace behind the neck, twinset"


class Known(NamedTuple):
    """What is given of a body."""

    sex: str | None = None
    stature_m: float | None = None
    mass_kg: float | None = None
    neck_turns: str | None = None


MAN = Known("male", *STATURE_AND_MASS["male", 50])
ways = st.sampled_from(sorted(WAYS))
bodies = st.builds(
    lambda sex, stature, index, neck: Known(sex, stature, index * stature**2, neck),
    st.sampled_from(("male", "female", None)),
    st.floats(1.45, 2.0),
    st.floats(18.0, 34.0),
    st.sampled_from((None, "older", "stiff")),
)
lengths = st.integers(10, 250).map(lambda length: length * CM)


def figures(way: str, known: Known, length_m: float = 0.75, **keys: float | str) -> HoseFigures:
    """A rubber hose led one way over a body."""
    route, layout, role = WAYS[way]
    hose = Hose(**({"tag": "hose", "role": role, "body": "rubber", "route": route.name} | keys), length_m=length_m)
    routed = measure_route(route, layout, body(**known._asdict()))
    return work_out_hose(0, hose, assess_water(Header(format=1, name="kit", layout=layout)), routed)


def advice(way: str, known: Known, length_m: float = 0.75, **keys: float | str) -> Advice:
    """What to buy for it, of all that is in trade."""
    found = advise(figures(way, known, length_m, **keys), None)
    assert found is not None
    return found


def by_string(length: str, run: str, *shelf: StockHose, **keys: str) -> Advice:
    """What to buy for a hose of which only a string tells, from a shelf when something is on it."""
    found = advise(hose_figures(role="other LP", length=length, run=run, **keys), stock_of(*shelf) if shelf else None)
    assert found is not None
    return found


def stock_of(*shelf: StockHose) -> Stock:
    """A shop's stock."""
    return Stock(StockHeader(format=1, holds="stock", name="a shelf", currency="EUR"), shelf)


def shelved(tag: str, length_cm: float, **keys: object) -> StockHose:
    """A rubber hose on the shelf."""
    return StockHose(**({"tag": tag, "body": "rubber", "length_m": length_cm * CM} | keys))  # type: ignore[arg-type]


def in_trade(way: str) -> tuple[float, ...]:
    """All customary lengths of hoses of that role [m]."""
    _, _, role = WAYS[way]
    return catalogue().stock_lengths[catalogue().roles[role].service]


# --- which length -----------------------------------------------------------------------------------------------------


@given(way=ways, known=bodies, length=lengths)
def test_the_length_to_buy_is_the_shortest_that_is_sure_enough(way: str, known: Known, length: float) -> None:
    """Each shorter one is not; and what is said of it is what would be said if it were the present hose.

    In place of one that is only too long, a shorter one that is certain to be long enough.
    """
    found = advice(way, known, length)
    odds = {each: advice(way, known, each).present.odds for each in in_trade(way)}
    is_long = found.verdict.fault == TOO_LONG
    enough = [each for each in odds if odds[each] >= (CERTAIN if is_long else SURE) and (each < length or not is_long)]
    assert (found.buy.length_m if found.buy else None) == min(enough, default=None)
    if found.buy:
        assert found.buy.odds == pytest.approx(odds[found.buy.length_m])


@given(way=ways, known=bodies)
@example(way=ROUND_HIP, known=Known("female", 1.80, 80.0, "older"))
def test_it_is_sure_enough_in_every_pose_that_is_asked_for(way: str, known: Known) -> None:
    """Not only in the one that needs most: one that needs less may be known less well.

    This woman's long hose must go farther to a partner ahead than round her turned neck, of which less is known.
    """
    found = advice(way, known)
    assume(found.buy is not None)
    assert found.buy is not None
    assert all(test.odds >= SURE for test in found.buy.tests if test.is_asked)
    assert found.buy.odds <= min(test.odds for test in found.buy.tests if test.is_asked)


@given(way=ways, known=bodies)
def test_around_it_stand_the_next_lengths_in_trade(way: str, known: Known) -> None:
    """One shorter and one longer, as far as there are."""
    found, trade = advice(way, known), sorted(in_trade(way))
    assume(found.buy is not None)
    assert found.buy is not None
    place = trade.index(found.buy.length_m)
    assert (found.shorter.length_m if found.shorter else None) == (trade[place - 1] if place else None)
    assert (found.longer.length_m if found.longer else None) == (trade[place + 1] if place + 1 < len(trade) else None)


@given(way=ways, known=bodies, length=lengths)
def test_one_that_is_made_is_as_short_as_whole_centimetres_allow(way: str, known: Known, length: float) -> None:
    """Sure enough, and one centimetre less is not; whatever the present hose is."""
    made = advice(way, known, length).made_m
    assert made / CM == pytest.approx(round(made / CM))
    enough = CERTAIN if advice(way, known, length).verdict.fault == TOO_LONG else SURE
    assert advice(way, known, made).present.odds >= enough
    assert advice(way, known, made - CM).present.odds < enough


def test_by_hand() -> None:
    """50 cm of run and 1.8 cm of spread: 52 made and 56 bought."""
    found = by_string("40 cm", "50 cm")
    assert pytest.approx(1.8 * CM, abs=0.05 * CM) == STRING
    assert found.made_m == pytest.approx(0.52)
    assert found.buy is not None and found.shorter is not None and found.longer is not None
    assert [each.length_m for each in (found.shorter, found.buy, found.longer)] == pytest.approx([0.50, 0.56, 0.61])


def test_no_available_length_is_long_enough() -> None:
    """LP hoses end at 210 cm: one has to be made."""
    found = by_string("210 cm", "230 cm")
    assert found.buy is None
    assert found.shorter is not None
    assert found.shorter.length_m == pytest.approx(2.10)
    assert found.made_m == pytest.approx(2.32)


def test_a_hose_without_route_and_run_has_no_advice() -> None:
    """Nothing tells what it must cover."""
    assert advise(hose_figures(role="other LP", length="50 cm"), None) is None


# --- how certain ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("spreads", "percent"), [(0.0, 50.0), (0.5, 83.65), (1.0, 97.50), (1.5, 99.84), (-0.5, 16.35), (-1.0, 2.50)]
)
def test_odds_are_those_of_a_table_of_the_normal_distribution(spreads: float, percent: float) -> None:
    """A spread holds 95 %, 1.96 deviations to each side: one spread to spare is 97.5 %; the others at 0.98 and 2.94."""
    length = 0.70 + spreads * STRING
    present = by_string(f"{length * 1000} mm", "70 cm").present
    assert present.spare.value == pytest.approx(spreads * STRING, abs=1e-6)
    assert present.odds * 100 == pytest.approx(percent, abs=0.005)


def test_nothing_is_quite_certain() -> None:
    """However long or short the hose is: 60 cm too much or too little, with a spread of about 2 cm."""
    for length, odds in (("140 cm", 1.0), ("20 cm", 0.0)):
        present = by_string(length, "80 cm").present
        assert present.odds == pytest.approx(odds, abs=1e-5)
        assert 0 < present.odds < 1


@given(way=ways, known=bodies, length=lengths)
def test_odds_follow_from_margin_and_spread_in_every_pose(way: str, known: Known, length: float) -> None:
    """Reach is the length, known to 1 cm; what the pose needs has a spread of its own."""
    found = advice(way, known, length)
    for need, test in zip(found.needs, found.present.tests, strict=True):
        assert (test.pose, test.is_asked) == (need.pose, need.is_asked)
        assert test.margin.value == pytest.approx(length - need.length.value, abs=1e-8)
        assert test.margin.combined == pytest.approx(hypot(CM, need.length.combined))
        assert test.odds == pytest.approx(NormalDist(0, test.margin.spread / DEVIATIONS).cdf(test.margin.value))
        assert test.passes == (test.margin.value >= 0)


@given(way=ways, known=bodies, length=lengths, longer=lengths)
def test_a_longer_hose_is_never_less_sure(way: str, known: Known, length: float, longer: float) -> None:
    """In any pose."""
    short, long = (advice(way, known, each).present for each in (length, length + longer))
    assert long.odds >= short.odds
    assert all(after.odds >= before.odds for before, after in zip(short.tests, long.tests, strict=True))
    assert {test.pose for test in long.failed} <= {test.pose for test in short.failed}


@pytest.mark.parametrize("known", [Known(), Known("male"), Known(None, 1.78, 82.0), MAN], ids=str)
@pytest.mark.parametrize("way", [OVER_SHOULDER, UNDER_ARM, ROUND_NECK, ROUND_HIP, TO_HIP])
def test_a_need_is_as_unsure_as_it_is_among_bodies_drawn_at_random(way: str, known: Known) -> None:
    """Two standard deviations over 500 bodies, each unknown drawn once for all it is part of (JCGM 101:2008, 7), and
    the places of the landmarks: 6.5 cm for a run of a metre, as the square root of the run. 500 draws tell a deviation
    to 3 %; that paths are not straight lines in the measures makes up for the rest of a fifth.
    """
    route, layout, _ = WAYS[way]
    wearer = body(**known._asdict())
    drawn = [measure_route(route, layout, drawn_body(wearer, Random(number))) for number in range(500)]
    routed = measure_route(route, layout, wearer)
    assert routed is not None
    for number, need in enumerate(routed.needs):
        sample = [each.needs[number].length.value for each in drawn if each is not None]
        expected = hypot(2 * stdev(sample), 0.065 * sqrt(need.length.value))
        assert need.length.spread == pytest.approx(expected, rel=0.2), need.pose


def drawn_body(wearer: Wearer, random: Random) -> Wearer:
    """One of the bodies that may be meant, all of it known."""
    deviations: dict[str, float] = defaultdict(lambda: random.gauss(0, 0.5))  # a share is two standard deviations

    def drawn(figure: Figure) -> Figure:
        return Figure(
            figure.value + sum(share * deviations[source] for source, share in figure.components.items()), {}, ""
        )

    return replace(
        wearer,
        measures={name: drawn(figure) for name, figure in wearer.measures.items()},
        neck_turn=drawn(wearer.neck_turn),
        neck_back=drawn(wearer.neck_back),
        suit=drawn(wearer.suit),
    )


def test_what_would_be_good_to_have_is_not_asked() -> None:
    """A partner held off with a straight arm: an octopus need not reach there, and the report says that it does not."""
    found = advice(UNDER_ARM, MAN, 1.0)
    wished = next(test for test in found.present.tests if test.pose == "partner at arm's length")
    assert (wished.is_asked, wished.passes) == (False, False)
    assert found.present.failed == ()
    assert found.demanded.pose != wished.pose


# --- a string ---------------------------------------------------------------------------------------------------------


@given(way=ways, known=bodies, run=st.integers(10, 250))
def test_a_string_tells_what_the_worn_pose_needs_to_a_centimetre_and_a_half(way: str, known: Known, run: int) -> None:
    """However unsure the landmarks are; the other worn poses move along with it."""
    routed = figures(way, known).routed
    assert routed is not None
    found = advice(way, known, run_m=run * CM)
    moved = run * CM - routed.strung.length.value
    for before, after in zip(routed.needs, found.needs, strict=True):
        assert after.length.value == pytest.approx(before.length.value + (moved if before.is_worn else 0))
        if before == routed.strung:
            assert after.length.spread == pytest.approx(1.5 * CM)
    assert found.string_less_estimate is not None
    assert found.string_less_estimate.value == pytest.approx(moved)
    assert found.is_measured == found.demanded.is_worn


@given(way=ways, known=bodies)
def test_a_string_as_long_as_the_landmarks_say_narrows_the_spread(way: str, known: Known) -> None:
    """Wherever the landmarks are less certain than a string, and a worn pose asks for most."""
    before = advice(way, known)
    assume(before.demanded.is_worn and before.demanded.length.spread > 1.5 * CM)
    after = advice(way, known, run_m=before.demanded.length.value)
    assert after.demanded.pose == before.demanded.pose
    assert after.demanded.length.value == pytest.approx(before.demanded.length.value)
    assert after.demanded.length.spread < before.demanded.length.spread
    assert after.present.spare.spread < before.present.spare.spread


@given(way=st.sampled_from(STOWED), known=bodies, run=st.integers(10, 250))
def test_a_string_over_the_worn_kit_does_not_tell_how_far_a_stowed_hose_must_go(
    way: str, known: Known, run: int
) -> None:
    """To a partner ahead or at arm's length: that stays the landmarks' word."""
    before, after = advice(way, known), advice(way, known, run_m=run * CM)
    handed_over = [need for need in before.needs if not need.is_worn]
    assert handed_over == [need for need in after.needs if not need.is_worn]
    assert {need.pose for need in handed_over} == {reach.pose for reach in WAYS[way][0].reaches}
    assert all(need.is_worn for need in after.needs if need.pose == AT_REST)


def test_a_long_hose_must_go_to_a_partner_ahead_whatever_the_string_says() -> None:
    """A string of 1 m leaves that as what asks for most."""
    before, after = advice(ROUND_HIP, MAN, 2.10), advice(ROUND_HIP, MAN, 2.10, run_m=1.0)
    assert after.demanded.pose == "deployed in full"
    assert not after.is_measured
    assert after.demanded in before.needs


def test_a_string_at_rest_tells_the_rest() -> None:
    """Of a primary: 70 cm with the head turned, 52 cm at rest."""
    found = advice(OVER_SHOULDER, MAN, 0.75, run_m=0.70, rest_run_m=0.52)
    needs = {need.pose: need.length for need in found.needs}
    assert needs[AT_REST].value == pytest.approx(0.52)
    assert needs[AT_REST].spread == pytest.approx(1.5 * CM)
    assert found.present.rest_slack.value == pytest.approx(0.23)


def test_where_only_a_string_tells_there_is_one_pose() -> None:
    """That in which it was laid."""
    found = by_string("56 cm", "50 cm")
    assert [need.pose for need in found.needs] == [BY_STRING]
    assert found.string_less_estimate is None
    assert found.is_measured


def everything(assessment: Assessment) -> dict[str, Advice | None]:
    """The advice for every hose, by tag."""
    return {each.hose.tag: advise(each, assessment.kit.linked.stock) for each in assessment.hoses}


STARTERS = {layout: starter_text(layout, "new") for layout in LAYOUTS}
STARTING_HOSES = [(layout, hose.tag) for layout, text in STARTERS.items() for hose in kit_of(text).hoses]


@pytest.mark.parametrize(("layout", "tag"), STARTING_HOSES)
def test_a_string_moves_only_the_advice_for_its_own_hose(layout: str, tag: str) -> None:
    """Of every other hose of the kit everything stays."""
    before = everything(assessed(STARTERS[layout], beside()))
    after = everything(assessed(with_keys(STARTERS[layout], tag, run="40 cm"), beside()))
    assert {other for other in before if before[other] != after[other]} == {tag}


# --- slack and stand-off ----------------------------------------------------------------------------------------------


@given(way=st.sampled_from(FREE), known=bodies, spare=st.floats(0, 0.5), longer=st.floats(0, 0.5))
def test_more_slack_never_stands_off_less(way: str, known: Known, spare: float, longer: float) -> None:
    """Up to where it hangs in a loop, out of which no more slack leads."""
    enough = advice(way, known).demanded.length.value + 1e-6
    less, more = (advice(way, known, enough + each).present for each in (spare, spare + longer))
    if more.stand_off is not None:
        assert less.stand_off is not None
        assert more.stand_off.value >= less.stand_off.value
    assert more.verdict.has_slack >= less.verdict.has_slack


@given(way=st.sampled_from(FREE), known=bodies, spare=st.floats(0, 0.25))
def test_one_more_hold_halves_the_stand_off(way: str, known: Known, spare: float) -> None:
    """Half the span with half the slack is the same shape at half the size; a landmark near the middle will do."""
    found = advice(way, known, advice(way, known).demanded.length.value + 1e-6 + spare)
    whole, held = found.present.stand_off, found.present.held_stand_off
    assume(whole is not None)
    assert whole is not None and held is not None and found.figures.routed is not None
    share = found.figures.routed.hold.share
    assert 0.5 <= share <= 0.55
    assert held == pytest.approx(tuple(share * each for each in whole), rel=1e-6, abs=1e-9)


def test_one_more_hold_by_hand() -> None:
    """6 cm over 50 cm stand (2 / pi) sqrt(6 x 50) = 11 cm off, and a little; 3 cm over 25 cm half of that."""
    present = by_string("56 cm", "50 cm").present
    assert present.stand_off is not None and present.held_stand_off is not None
    assert present.stand_off.value == pytest.approx(2 / pi * sqrt(6 * 50) * CM, rel=0.03)
    assert present.held_stand_off.value == pytest.approx(2 / pi * sqrt(3 * 25) * CM, rel=0.03)


# --- what is stowed ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("length", "left", "overdone"),
    [
        (58, 0, False),  # nothing is folded of 58: just the run
        (60, 2, False),  # nor of 60
        (70, 2, False),  # 10 cm folded
        (80, 2, False),  # as it is: 20 cm
        (120, 2, False),  # 60 cm, 40 more than now
        (121, 2, True),  # 61 cm
        (50, -8, False),
    ],
)
def test_another_length_is_stowed_by_so_much_more_or_less(length: int, left: int, overdone: bool) -> None:
    """80 cm over a run of 58, 20 of them folded away: 2 cm are left, of any length that has as much to fold."""
    found = by_string("80 cm", "58 cm", shelved("other", length), stowed="20 cm")
    [other] = [each for each in (found.buy, found.shorter, found.longer) if each]
    assert other.spare.value == pytest.approx(left * CM)
    assert other.rest_slack.value == pytest.approx(left * CM)
    assert other.is_overdone == overdone
    assert other.verdict.has_slack == overdone


def test_what_has_nothing_stowed_keeps_all_its_slack() -> None:
    """As if the file did not say so."""
    none, said = (by_string("56 cm", "50 cm", shelved("other", 80), **keys) for keys in ({}, {"stowed": "0 cm"}))
    assert none.shorter is not None and said.shorter is not None
    assert none.shorter.rest_slack.value == said.shorter.rest_slack.value == pytest.approx(30 * CM)


def test_a_longer_hose_first_gets_what_the_present_one_lacks() -> None:
    """80 cm, 20 folded, over a run of 65: 5 short, and 7 in whole centimetres until it is certain.

    Of the 4 more of 84 none is folded; of the 20 more of 100 all but 7.
    """
    found = by_string("80 cm", "65 cm", shelved("a", 84), shelved("b", 100), stowed="20 cm")
    assert found.shorter is not None and found.buy is not None
    assert found.present.spare.value == pytest.approx(-5 * CM)
    assert found.shorter.spare.value == pytest.approx(-1 * CM)
    assert found.buy.spare.value == pytest.approx(2 * CM)
    assert found.made_m == pytest.approx(0.87)


@given(way=st.sampled_from(STOWED), known=bodies, length=st.integers(80, 200), stowed=st.integers(1, 40), other=lengths)
def test_a_stowed_hose_never_has_more_left_where_it_is_worn_than_it_is_longer(
    way: str, known: Known, length: int, stowed: int, other: float
) -> None:
    """What is folded changes with the length and never falls below nothing; what is deployed has all of it."""
    hose = figures(way, known, length * CM, stowed_m=stowed * CM)
    trial = trial_of(hose.hose, hose.routed)
    assert trial is not None
    here, there = try_length(trial, length * CM), try_length(trial, other)
    longer = other - length * CM
    for need, before, after in zip(trial.needs, here.tests, there.tests, strict=True):
        gained = after.margin.value - before.margin.value
        if not need.is_worn:
            assert gained == pytest.approx(longer, abs=1e-8)
        elif longer < 0:
            assert gained == pytest.approx(min(0.0, stowed * CM + longer), abs=1e-8)
        else:
            assert -1e-8 <= gained <= longer + 1e-8
    assert there.odds >= here.odds if longer >= 0 else there.odds <= here.odds


@pytest.mark.parametrize(("longer", "tidy"), [(0.0, True), (0.20, True), (0.21, False), (-0.05, True)])
def test_a_loop_that_hangs_on_purpose_may_hang_so_much_lower(longer: float, tidy: bool) -> None:
    """Half of what is more in it: up to 10 cm lower than now."""
    trial = advice(NECKLACE, MAN, 0.61).trial
    assert try_length(trial, 0.61 + longer).verdict.has_slack == (not tidy)


@pytest.mark.parametrize(("longer", "tidy"), [(0.0, True), (0.40, True), (0.41, False), (-0.05, True)])
def test_what_is_stowed_on_purpose_may_be_so_much_more(longer: float, tidy: bool) -> None:
    """Where the file does not say how much that is now."""
    trial = advice(ROUND_HIP, MAN, 1.50).trial
    assert try_length(trial, 1.50 + longer).verdict.has_slack == (not tidy)


# --- what can stay ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("length", "run", "span", "outcome", "has_slack"),
    [
        ("56 cm", "50 cm", None, FITS, True),  # 11 cm off, but nothing shorter is certain to reach
        ("56 cm", "50 cm", "12 cm", FITS, False),  # 1.5 spans, which stand 0.49 spans off: 6 cm
        ("61 cm", "50 cm", None, FITS, True),  # 15 cm off, and 56 cm would be 4 cm closer: one more hold does that
        ("80 cm", "50 cm", None, DOES_NOT_FIT, True),  # 27 cm off at least, and 56 cm would be 15 cm closer
        ("61 cm", "50 cm", "12 cm", FITS, False),  # not quite two spans, 0.75 spans off at most: 9 cm
        ("50 cm", "50 cm", "12 cm", CANNOT_BE_SAID, False),  # lies close, and reaches as likely as not
        ("48 cm", "50 cm", "12 cm", DOES_NOT_FIT, False),  # 2 cm short, and 1.8 cm are uncertain
        ("80 cm", "50 cm", "12 cm", DOES_NOT_FIT, True),  # 3.5 spans: a loop
        ("76.2 cm", "70 cm", "12 cm", FITS, False),
    ],
)
def test_the_verdict_by_hand(length: str, run: str, span: str | None, outcome: str, has_slack: bool) -> None:
    """Long enough by more than 1.8 cm; slack only counts against a hose if a shorter one is worth having.

    By (2 / pi) sqrt(slack x span) and its next term, 3/16 of slack over span.
    """
    found = by_string(length, run, **({"span": span} if span else {}))
    assert (found.verdict.outcome, found.verdict.has_slack) == (outcome, has_slack)
    assert found.serves == (outcome != DOES_NOT_FIT)


@given(way=ways, known=bodies, length=lengths)
@example(way=INFLATOR, known=Known("male", 1.50, 40.5), length=0.55)
def test_the_verdict_follows_from_odds_and_slack(way: str, known: Known, length: float) -> None:
    """Of a hose that nobody has measured: certain to reach, certain not to, or neither."""
    found = advice(way, known, length)
    present, verdict = found.present, found.verdict
    assert present.by_design == (way not in FREE)
    if present.odds < 1 - CERTAIN:
        assert (verdict.outcome, verdict.fault) == (DOES_NOT_FIT, TOO_SHORT)
    elif present.odds < CERTAIN:
        assert (verdict.outcome, verdict.fault) == (CANNOT_BE_SAID, TOO_SHORT)
    else:
        assert verdict.fault in ("", TOO_LONG)
    if verdict.fault == TOO_LONG:
        shorter = [each for each in in_trade(way) if each < length and advice(way, known, each).present.odds >= CERTAIN]
        assert shorter and verdict.has_slack


@given(way=ways, known=bodies, length=lengths, odds=st.sampled_from((0.74, 0.76, 0.77, 0.90)))
def test_there_is_no_cliff_at_three_of_four(way: str, known: Known, length: float, odds: float) -> None:
    """A hose whose odds pass through 75 % is measured first on both sides, whatever longer one is sold."""
    need = advice(way, known, length).demanded.length
    here = need.value + NormalDist().inv_cdf(odds) * hypot(CM, need.spread) / DEVIATIONS
    found = advice(way, known, here)
    assert not found.is_replaced
    assert found.must_measure == (found.present.odds < CERTAIN)


@given(way=ways, known=bodies, length=lengths, longer=lengths)
def test_a_longer_hose_is_never_too_short_where_a_shorter_one_fits(
    way: str, known: Known, length: float, longer: float
) -> None:
    """Verdicts come in order as a hose grows: too short, cannot be said yet, fits, too long; none comes back."""
    order = {TOO_SHORT + DOES_NOT_FIT: 0, TOO_SHORT + CANNOT_BE_SAID: 1, FITS: 2, TOO_LONG + DOES_NOT_FIT: 3}
    trial = advice(way, known, length).trial
    short, long = (try_length(trial, each).verdict for each in (length, length + longer))
    assert order[short.fault + short.outcome] <= order[long.fault + long.outcome]


@given(length=st.integers(20, 200), run=st.integers(20, 200), longer=st.integers(0, 100))
def test_a_longer_run_never_turns_too_short_into_fits(length: int, run: int, longer: int) -> None:
    """By string, of any hose."""
    near, far = (by_string(f"{length} cm", f"{each} cm").verdict for each in (run, run + longer))
    if near.is_too_short:
        assert far.is_too_short
    if near.fault == TOO_SHORT:
        assert far.fault == TOO_SHORT


@given(way=ways, known=bodies, length=lengths)
def test_slack_never_leads_to_a_longer_hose(way: str, known: Known, length: float) -> None:
    """One that bows out is replaced by a shorter one, or is held; by landmarks also where it may be too short."""
    found = advice(way, known, length)
    if found.verdict.has_slack and found.is_replaced:
        assert found.verdict.fault == TOO_LONG
        assert (found.buy.length_m if found.buy else found.made_m) < length


def test_slack_on_purpose_ends_where_it_was_measured() -> None:
    """What was stowed, or the run at rest, tells what hangs free."""
    assert advice(ROUND_HIP, MAN, 2.10).present.by_design
    assert not advice(ROUND_HIP, MAN, 2.10, stowed_m=0.20).present.by_design
    assert advice(NECKLACE, MAN, 0.61).present.by_design
    assert not advice(NECKLACE, MAN, 0.61, run_m=0.58, rest_run_m=0.50).present.by_design


# --- what is available ------------------------------------------------------------------------------------------------


def bought(found: Advice) -> str | None:
    """The tag of the hose on the shelf that is advised."""
    return found.buy.stocked.tag if found.buy and found.buy.stocked else None


@given(shelf=st.lists(st.integers(20, 230), max_size=6, unique=True), run=st.integers(20, 200))
def test_only_what_is_on_the_shelf_is_advised(shelf: list[int], run: int) -> None:
    """The shortest there with 1.8 cm to spare, on whole centimetres two; none that would be too long itself."""
    stock = stock_of(*(shelved(f"S{length}", length) for length in shelf))
    found = advise(hose_figures(role="other LP", length="50 cm", run=f"{run} cm"), stock)
    assert found is not None
    most = 49 if found.verdict.fault == TOO_LONG else 230
    enough = [length for length in shelf if run + 2 <= length <= most]
    fits = [length for length in enough if by_string(f"{length} cm", f"{run} cm").verdict.outcome == FITS]
    expected = min(fits, default=None)
    assert bought(found) == (f"S{expected}" if expected else None)
    assert found.made_m == pytest.approx((run + 2) * CM)


def test_an_empty_shelf_has_nothing_but_one_can_be_made() -> None:
    """No lengths of the trade stand in for it."""
    found = advise(hose_figures(role="other LP", length="50 cm", run="70 cm"), stock_of())
    assert found is not None
    assert (found.buy, found.shorter, found.longer, found.is_best) == (None, None, None, False)
    assert found.made_m == pytest.approx(0.72)


@pytest.mark.parametrize(
    ("unfit", "why"),
    [
        ({"body": "braided"}, "body"),
        ({"from_end": "LP 1/2"}, "end at the first stage"),
        ({"to_end": "second stage 9/16"}, "other end"),
        ({"in_stock": False}, "not available"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_hose_that_does_not_fit_is_ignored(unfit: dict[str, object], why: str) -> None:
    """For a longer one that does."""
    fits = shelved("fits", 80, from_end="LP 3/8", to_end="standard nipple coupling", in_stock=True)
    assert bought(by_string("50 cm", "70 cm", shelved("unfit", 75, **unfit), fits)) == "fits", why
    assert bought(by_string("50 cm", "70 cm", shelved("like", 75), fits)) == "like"


def test_ends_are_those_of_the_hose_where_its_file_tells_them() -> None:
    """Else those that are usual for its role."""
    shelf = (
        shelved("usual", 75, to_end="standard nipple coupling"),
        shelved("own", 80, to_end="industrial-profile coupling"),
    )
    assert bought(by_string("50 cm", "70 cm", *shelf)) == "usual"
    assert bought(by_string("50 cm", "70 cm", *shelf, to_end="industrial-profile coupling")) == "own"


def test_of_one_length_the_cheapest_is_advised() -> None:
    """In whatever unit it is written; one whose price is not given comes last."""
    shelf = (
        shelved("unknown", 76.2),
        shelved("dear", 76.2, price=31.0),
        StockHose(tag="cheap", body="rubber", length_m=30 * 0.0254, price=24.5),
        shelved("dearer", 76.2, price=40.0),
    )
    for turned in (shelf, shelf[::-1]):
        found = by_string("50 cm", "70 cm", *turned)
        assert bought(found) == "cheap"
        assert (found.shorter, found.longer) == (None, None)


def test_a_length_without_ends_gains_both() -> None:
    """4.4 cm for an LP hose with a coupling: 68 cm of hose reach 72.4 cm far, and a run of 70 cm asks for 71.8."""
    for length, is_bought in ((68, True), (67, False)):
        found = by_string("50 cm", "70 cm", shelved("bare", length, measured="hose only"))
        assert (bought(found) == "bare") == is_bought
    assert found.shorter is not None
    assert found.shorter.length_m == pytest.approx((67 + 4.4) * CM)


def test_a_hose_stated_without_its_ends_is_advised_in_that_measure() -> None:
    """75 cm from end to end are 70.6 cm of hose."""
    found = by_string("50 cm", "70 cm", shelved("whole", 75), measured="hose only")
    assert found.buy is not None
    assert found.buy.length_m == pytest.approx((75 - 4.4) * CM)
    assert found.buy.spare.value == pytest.approx(5 * CM)


def test_what_the_shelf_does_not_tell_is_taken_to_fit() -> None:
    """Neither ends nor whether it is in stock."""
    hose = hose_figures(role="other LP", length="50 cm", run="70 cm").hose
    every = stock_of(shelved("plain", 75), shelved("sold", 75, in_stock=False), shelved("there", 80, in_stock=True))
    assert [each.tag for each in fitting_stock(hose, every)] == ["plain", "there"]


# --- what all this is for ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize(("stature_m", "mass_kg"), [(1.55, 52.0), (1.78, 82.0), (1.95, 110.0)])
def test_who_tells_stature_mass_and_layout_gets_a_length_for_every_hose(
    layout: str, stature_m: float, mass_kg: float
) -> None:
    """To buy, with how far what it must cover may be off and how certain the length is."""
    found = everything(assessed(STARTERS[layout], beside(stature_m=stature_m, mass_kg=mass_kg, sex=None)))
    assert found
    for tag, hose in found.items():
        assert hose is not None, tag
        assert hose.buy is not None, tag
        assert hose.demanded.length.spread > 0
        assert SURE <= hose.buy.odds <= 1


def test_a_taller_diver_is_never_sold_a_shorter_hose() -> None:
    """Of the same build, in every layout."""
    for layout in LAYOUTS:
        statures = (1.50, 1.60, 1.70, 1.80, 1.90)
        sold = [everything(assessed(STARTERS[layout], beside(stature_m=s, mass_kg=25 * s * s))) for s in statures]
        for tag in sold[0]:
            lengths_m = [hose.buy.length_m for each in sold if (hose := each[tag]) and hose.buy]
            assert len(lengths_m) == len(statures)
            assert lengths_m == sorted(lengths_m), tag
