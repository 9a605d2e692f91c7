"""The measures of a body: what the survey has published of them, and what must hold for every body.

The published percentiles are those of single measures. Somebody of the 5th percentile in stature and mass is not of the
5th in everything else, but nearer to the middle, the more the less a measure goes by stature and mass: so an estimate
for this body must lie between the measure's percentile and its median, and no further from the percentile than single
bodies lie about it.
"""

from math import degrees, hypot, sqrt
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.body import assess_body, mass_of, stature_of
from kitbuilder.assess.fit.measures import MEASURE_OF_KEY, TAPES, Wearer, wearer_of
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import Diver, DiverHeader
from kitbuilder.kit.items import Drysuit, Header, Item, Kit, Suit
from kitbuilder.kit.resolved import LinkedFiles, resolve
from tests.assess.fit.bodies import BARE, STATURE_AND_MASS, body, percentile
from tests.each import each

pytestmark = pytest.mark.usefixtures("usual_values")

MM = 0.001
SEXES = ("male", "female")
SURVEY = catalogue().survey.measures


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a table beside this file."""
    lines = (Path(__file__).parent / name).read_text(encoding="utf-8").splitlines()
    keys, *given = (line.split("\t") for line in lines if not line.startswith("#"))
    return [dict(zip(keys, row, strict=True)) for row in given]


PUBLISHED = {(row["measure"], row["sex"]): row for row in rows("survey_percentiles.tsv")}
NECK = {row["movement"]: (float(row["low"]), float(row["high"])) for row in rows("neck_motion.tsv")}
HEIGHTS = [name for name in SURVEY if name.endswith("height")]
GIRTHS = [name for name in SURVEY if name.endswith(("circumference", "breadth", "depth"))]

sexes = st.sampled_from((*SEXES, None))
statures = st.floats(1.2, 2.2)
masses = st.floats(30.0, 200.0)


def published(name: str, sex: str, key: str) -> float:
    """A figure of the survey [m]."""
    return float(PUBLISHED[name, sex][key]) * MM


def wearing(*items: Item, neck: str | None = None) -> Wearer:
    """Somebody in these suits."""
    return wearer_of(resolve(Kit(Header(format=1, name="suits", layout="single", neck=neck), items)))


def foam(cut: str, thickness_m: float, tag: str = "suit") -> Suit:
    """A suit of foam."""
    return Suit(tag=tag, cut=cut, thickness_m=thickness_m)


# ---- what is published ----


@each("sex", SEXES)
@each("name", SURVEY)
def test_of_a_body_of_which_only_the_sex_is_given_all_is_usual(name: str, sex: str) -> None:
    """Mean and two standard deviations of the survey, though both go by way of stature; to the survey's last digit."""
    figure = body(sex).measures[name]
    assert figure.value == pytest.approx(published(name, sex, "mean"), abs=0.2 * MM)
    assert figure.spread == pytest.approx(2 * published(name, sex, "sd"), rel=0.02)


@each("sex", SEXES)
@each("name", SURVEY)
def test_every_estimate_of_the_survey_goes_through_its_means(name: str, sex: str) -> None:
    """As least squares do; to the digits that the factors are written with.

    And bodies lie about it no further than about the mean.
    """
    means = {
        key: float(PUBLISHED[key, sex]["mean"]) * (1 if key == "mass" else MM) for key, of in PUBLISHED if of == sex
    }
    for estimate in SURVEY[name].of[sex].estimates:
        value = estimate.plus + sum(factor * means[term] for term, factor in estimate.times.items())
        assert value == pytest.approx(means[name], abs=0.5 * MM), estimate
        assert 0 < estimate.sd <= published(name, sex, "sd")


@each("sex", SEXES)
@each("name", SURVEY)
def test_a_median_body_has_median_measures(name: str, sex: str) -> None:
    """To a tenth of the spread: heavy bodies are further out than light ones, which parts mean and median of girths."""
    figure = percentile(sex, 50).measures[name]
    assert figure.value == pytest.approx(published(name, sex, "p50"), abs=0.1 * figure.spread)


@each("which", [5, 95])
@each("sex", SEXES)
@each("name", SURVEY)
def test_a_small_and_a_large_body_lie_between_the_percentile_and_the_median(name: str, sex: str, which: int) -> None:
    """A tenth of the spread is left for the shape of the distributions."""
    figure = percentile(sex, which).measures[name]
    edge, median = published(name, sex, f"p{which:02}"), published(name, sex, "p50")
    assert abs(figure.value - edge) <= 0.8 * figure.spread
    assert min(edge, median) - 0.1 * figure.spread <= figure.value <= max(edge, median) + 0.1 * figure.spread


@pytest.mark.parametrize("which", [5, 50, 95])
@pytest.mark.parametrize("sex", SEXES)
@pytest.mark.parametrize("name", ["waist breadth", "waist depth"])
def test_a_waist_of_a_percentile_is_as_broad_and_deep_as_that_percentile(name: str, sex: str, which: int) -> None:
    """These were not fitted: a correlation from memory. To 7 mm, a third of their spread or so."""
    figure = body(sex, waist_m=published("waist circumference", sex, f"p{which:02}")).measures[name]
    assert figure.value == pytest.approx(published(name, sex, f"p{which:02}"), abs=7 * MM)
    assert figure.spread > 19 * MM


@each("name", SURVEY)
def test_what_is_not_described_may_be_any_diver(name: str) -> None:
    """Half way between men and women; nine of ten of both lie in its spread, to within a tenth of it."""
    figure, sd = body().measures[name], {sex: published(name, sex, "sd") for sex in SEXES}
    men, women = (published(name, sex, "mean") for sex in SEXES)
    assert figure.value == pytest.approx((men + women) / 2, abs=0.2 * MM)
    assert figure.spread >= 2 * min(sd.values())
    assert figure.value - 1.1 * figure.spread <= min(published(name, sex, "p05") for sex in SEXES)
    assert figure.value + 1.1 * figure.spread >= max(published(name, sex, "p95") for sex in SEXES)


def test_stature_when_it_is_not_given_is_that_of_the_survey_whichever_the_sex() -> None:
    """Men and women as likely: the deviation of such a mixture is that of one sex and half the difference together."""
    (men, women), spread = ((published("stature", sex, "mean") for sex in SEXES), body().measures["stature"].spread)
    within = (published("stature", "male", "sd") + published("stature", "female", "sd")) / 2
    assert spread == pytest.approx(2 * hypot(within, (men - women) / 2), rel=0.001)


@pytest.mark.parametrize("row", rows("segment_fractions.tsv"), ids=lambda row: row["segment"])
def test_segments_agree_with_the_classic_proportions(row: dict[str, str]) -> None:
    """To 5 %, except breadths: the classic body has no sex, and its shoulders end between bone and muscle."""
    name, fraction = row["segment"], float(row["fraction"])
    for sex in SEXES:
        measures = percentile(sex, 50).measures
        part = {key: figure.value / measures["stature"].value for key, figure in measures.items()}
        if name == "shoulder breadth":
            assert part[name] < fraction < part["breadth over the upper arms"]
        elif name == "hip breadth" and sex == "female":
            assert fraction < part[name] < 1.2 * fraction
        else:
            assert part[name] == pytest.approx(fraction, rel=0.05)


def test_shoulder_breadth_is_from_bone_to_bone() -> None:
    """So that the ring of the harness, at 0.31 of it, lies 11 to 13 cm from the middle. Common practice, no source."""
    for sex in SEXES:
        measures = percentile(sex, 50).measures
        assert 0.11 < 0.31 * measures["shoulder breadth"].value < 0.13
        assert measures["breadth over the upper arms"].value > measures["shoulder breadth"].value + 0.06


# ---- the neck ----


def test_a_free_neck_turns_as_far_as_those_of_the_papers() -> None:
    """Both sides together as many degrees as published; two standard deviations, so twice those of either side."""
    turn = body().neck_turn
    low, high = NECK["both sides together"]
    assert low <= 2 * degrees(turn.value) <= high
    right, left = (NECK[f"to the {side}, one standard deviation about the mean"] for side in ("right", "left"))
    assert degrees(turn.value) == pytest.approx((sum(right) + sum(left)) / 4, abs=0.5)
    assert degrees(turn.spread) == pytest.approx(((right[1] - right[0]) + (left[1] - left[0])) / 2, abs=0.5)


def test_the_head_goes_back_by_less_than_from_chin_to_back() -> None:
    """About half of the way is back."""
    low, high = NECK["chin on chest to head back"]
    assert 0.4 * low < degrees(body().neck_back.value) < 0.6 * high


@pytest.mark.parametrize("which", ["neck_turn", "neck_back"])
def test_an_older_neck_turns_less_and_a_stiff_one_least(which: str) -> None:
    """The paper on 400 persons, for the older; common sense for the stiff."""
    free, older, stiff = (getattr(body(neck_turns=word), which) for word in ("free", "older", "stiff"))
    assert free.value > older.value > stiff.value > stiff.spread > 0
    assert getattr(body(), which) == free


@pytest.mark.parametrize(
    "covered",
    [
        pytest.param(wearing(neck="covered"), id="known"),
        pytest.param(wearing(foam("hood", 0.005)), id="hood"),
        pytest.param(wearing(foam("hooded vest", 0.005)), id="hooded vest"),
        pytest.param(wearing(Drysuit(tag="drysuit")), id="seal of a drysuit"),
    ],
)
def test_what_covers_the_neck_takes_off_a_turn(covered: Wearer) -> None:
    """By as much as is remembered; how much it is adds to the spread."""
    free, (least, most) = wearing(), NECK["taken off by hood and neck seal"]
    for less, full in ((covered.neck_turn, free.neck_turn), (covered.neck_back, free.neck_back)):
        assert least <= degrees(full.value - less.value) <= most
        evenly = 1.959964 / sqrt(3)
        assert degrees(less.combined) == pytest.approx(hypot(degrees(full.combined), evenly * (most - least) / 2))


# ---- the suit ----


def test_foam_over_the_trunk_adds_up() -> None:
    """5 mm and a vest of 3 mm below are 8 mm; hood, gloves and boots are not over the trunk."""
    worn = wearing(
        foam("full suit", 0.005),
        foam("vest", 0.003, "vest"),
        foam("hood", 0.007, "hood"),
        foam("gloves", 0.005, "gloves"),
        foam("boots", 0.005, "boots"),
    )
    assert worn.suit.value == pytest.approx(0.008)
    assert worn.suit.spread == pytest.approx(hypot(0.3 * MM, 0.3 * MM))


def test_a_two_piece_suit_lies_double_over_the_trunk() -> None:
    """Its jacket over its bib: the cut covers more than there is of the body."""
    assert wearing(foam("two-piece", 0.007)).suit.value == pytest.approx(0.014)


def test_below_a_drysuit_lofts_its_undersuit() -> None:
    """A shell of 2 mm over 5, 10 or 15 mm, all from memory; a suit of foam below it adds up too."""
    for undersuit, loft_mm in (("light", 5), ("medium", 10), ("heavy", 15)):
        worn = wearing(Drysuit(tag="drysuit", undersuit=undersuit))
        assert worn.suit.value == pytest.approx((2 + loft_mm) * MM, abs=0.6 * MM)
    assert wearing(Drysuit(tag="drysuit")).suit.value == pytest.approx(2 * MM, abs=0.6 * MM)
    assert wearing().suit.value == 0


def test_the_foam_of_a_suit_is_as_unsure_here_as_where_it_is_weighed() -> None:
    """The same unknown has the same name."""
    assert list(wearing(foam("full suit", 0.005, "long john")).suit.components) == ["thickness of long john"]


# ---- laws ----


@given(sex=sexes, stature=statures, mass=st.none() | masses, taller=st.floats(0.0, 1.0))
def test_nobody_is_lower_anywhere_for_being_taller(
    sex: str | None, stature: float, mass: float | None, taller: float
) -> None:
    """Every height, at the same mass."""
    short, tall = body(sex, stature, mass), body(sex, min(stature + taller, 2.2), mass)
    assert all(tall.measures[name].value >= short.measures[name].value - 1e-12 for name in HEIGHTS)


@given(sex=sexes, stature=st.none() | statures, mass=masses, heavier=st.floats(0.0, 170.0))
def test_nobody_is_thinner_anywhere_for_being_heavier(
    sex: str | None, stature: float | None, mass: float, heavier: float
) -> None:
    """Every girth, breadth and depth, at the same stature."""
    light, heavy = body(sex, stature, mass), body(sex, stature, min(mass + heavier, 200.0))
    assert all(heavy.measures[name].value >= light.measures[name].value - 1e-12 for name in GIRTHS)


@given(
    sex=sexes,
    stature=st.none() | statures,
    mass=st.none() | masses,
    chest=st.none() | st.floats(0.6, 1.8),
    waist=st.none() | st.floats(0.45, 1.9),
)
def test_no_body_that_a_file_may_tell_has_a_measure_that_nobody_has(
    sex: str | None, stature: float | None, mass: float | None, chest: float | None, waist: float | None
) -> None:
    """However odd it is, two fifths of the usual are left of each, and what was estimated is never certain."""
    found = body(sex, stature, mass, chest_m=chest, waist_m=waist)
    assert set(found.measures) == {"stature", *SURVEY}
    for name, figure in found.measures.items():
        assert figure.value >= 0.4 * min(published(name, of, "mean") for of in SEXES)
        assert figure.spread > 0


@given(sex=sexes, deviations=st.floats(-3.0, 3.0), index=st.none() | st.floats(16.0, 40.0))
def test_a_body_of_the_survey_is_put_together_in_order(sex: str | None, deviations: float, index: float | None) -> None:
    """From the ground up; the notch of the breastbone is between armpit and C7. From starved to very stout."""
    survey = catalogue().survey.stature[sex or "female"]
    stature = survey.mean + deviations * survey.sd
    measures = body(sex, stature, index and index * stature**2).measures
    order = ("knee", "crotch", "hip crest", "tenth rib", "chest", "armpit", "acromion", "C7")
    heights = [measures[f"{name} height"].value for name in order]
    assert heights == sorted(heights)
    assert measures["armpit height"].value < measures["breastbone height"].value < measures["C7 height"].value < stature
    assert measures["shoulder breadth"].value < measures["breadth over the upper arms"].value
    depth, breadth, girth = (measures[f"waist {part}"].value for part in ("depth", "breadth", "circumference"))
    assert 2 * hypot(depth, breadth) < girth < 2 * (depth + breadth)  # a tape lies outside the rhomb, inside the box


@given(stature=statures, mass=masses)
def test_where_the_sex_is_not_given_all_is_between_both(stature: float, mass: float) -> None:
    """Half way, no narrower than the narrower of both, and what is not known of the sex is how far they are apart."""
    either, (man, woman) = body(None, stature, mass), (body(sex, stature, mass) for sex in SEXES)
    for name, figure in either.measures.items():
        values = [other.measures[name].value for other in (man, woman)]
        spreads = [other.measures[name].spread for other in (man, woman)]
        assert figure.value == pytest.approx(sum(values) / 2)
        assert figure.spread >= min(spreads)
        assert abs(figure.components.get("sex of somebody", 0.0)) == pytest.approx(abs(values[0] - values[1]))


# ---- what is given counts ----


@pytest.mark.parametrize(("key", "name"), TAPES.items())
def test_a_given_tape_wins(key: str, name: str) -> None:
    """As given, to a centimetre, whatever else is given."""
    given = published(name, "male", "p95")
    figure = body("male", 1.70, 70.0, **{f"{key}_m": given}).measures[name]
    assert figure.value == given
    assert figure.spread == 0.01
    assert figure.origin == "diver file"


@pytest.mark.parametrize(("key", "name"), TAPES.items())
def test_a_given_tape_narrows_what_is_made_from_it_and_leaves_the_rest(key: str, name: str) -> None:
    """A chest tells of the depth of the chest, a waist of its breadth; a neck of nothing else."""
    before = percentile("male", 50)
    after = body("male", *STATURE_AND_MASS["male", 50], **{f"{key}_m": published(name, "male", "p50")})
    changed = {other for other in before.measures if after.measures[other] != before.measures[other]}
    made_from = {
        other for other in SURVEY if any(name in estimate.times for estimate in SURVEY[other].of["male"].estimates)
    }
    assert name in changed
    assert changed <= made_from | {name}
    assert all(after.measures[other].spread < before.measures[other].spread for other in changed)
    given_of = {"chest": {"chest depth", "chest breadth"}, "waist": {"waist depth", "waist breadth"}}
    assert given_of.get(key, set()) <= changed


def test_mass_narrows_girths_and_stature_narrows_heights() -> None:
    """Published correlations: 0.25 of chest and stature, 0.98 of C7 and stature; with mass 0.93 of the chest."""
    sex_only, stature, mass = body("male"), body("male", 1.756), body("male", None, 85.5)
    chest, root = "chest circumference", "C7 height"
    assert stature.measures[chest].spread > 0.95 * sex_only.measures[chest].spread
    assert mass.measures[chest].spread < 0.5 * sex_only.measures[chest].spread
    assert stature.measures[root].spread < 0.25 * sex_only.measures[root].spread


def test_stature_and_mass_are_the_same_unknowns_as_in_the_balance() -> None:
    """So that a body that is larger than given has more skin and longer runs at once."""
    given = Diver(DiverHeader(format=1, holds="diver", name="somebody", sex="male", stature_m=1.756, mass_kg=85.5), ())
    chest = wearer_of(resolve(BARE, LinkedFiles(diver=given))).measures["chest circumference"].components
    assert {stature_of("somebody"), mass_of("somebody")} < chest.keys()
    assert (
        assess_body(given).stature.components
        == wearer_of(resolve(BARE, LinkedFiles(diver=given))).measures["stature"].components
    )
    assert assess_body(given).mass.components.keys() < chest.keys()


def test_the_same_body_is_the_same_object() -> None:
    """Figures of it can be kept; what else the file says does not matter, what it says of the body does."""
    header = DiverHeader(format=1, holds="diver", name="somebody", stature_m=1.8)
    other = DiverHeader(format=1, holds="diver", name="somebody", stature_m=1.8, lead_sizes_kg=(2.0,), notes="cold")
    longer = DiverHeader(format=1, holds="diver", name="somebody", stature_m=1.81)
    first = wearer_of(resolve(BARE, LinkedFiles(diver=Diver(header, ()))))
    assert first is wearer_of(resolve(BARE, LinkedFiles(diver=Diver(other, ()))))
    assert first is not wearer_of(resolve(BARE, LinkedFiles(diver=Diver(longer, ()))))
    assert wearer_of(resolve(BARE)) is wearer_of(resolve(BARE))


@pytest.mark.parametrize(
    "known", [{"sex": "male"}, {"stature_m": 1.7}, {"mass_kg": 70.0}, {"waist_m": 0.8}, {"neck_m": 0.4}]
)
def test_anything_of_the_body_makes_it_given(known: dict[str, Any]) -> None:
    """Its name and how far its head turns say nothing of its size."""
    assert body(**known).is_given
    assert not body(neck_turns="stiff").is_given
    assert not wearer_of(resolve(BARE)).is_given


# ---- what does not go together ----


@pytest.mark.parametrize("which", [5, 50, 95])
@pytest.mark.parametrize("sex", SEXES)
def test_nobody_of_the_survey_is_doubted(sex: str, which: int) -> None:
    """All tapes of one percentile, with the stature and mass of that percentile, or of no stature at all."""
    tapes = {f"{key}_m": published(name, sex, f"p{which:02}") for key, name in TAPES.items()}
    stature, mass = STATURE_AND_MASS[sex, which]
    for diver in (body(sex, stature, mass, **tapes), body(None, stature, mass, **tapes), body(sex, **tapes)):
        assert diver.implausible == ()
        assert not diver.is_outside_survey


@pytest.mark.parametrize(
    ("key", "given"),
    [("chest", 1.50), ("waist", 1.50), ("back_length", 0.62), ("shoulders", 0.53), ("neck", 0.60)],
)
def test_a_tape_that_does_not_go_with_stature_and_mass_is_doubted(key: str, given: float) -> None:
    """Each read by 10 to 60 cm wrong on a slight man; what is expected is what it would be without the tape."""
    slight = (1.70, 65.0)
    (doubtful,) = body("male", *slight, **{f"{key}_m": given}).implausible
    assert (doubtful.key, doubtful.given, doubtful.measure) == (key, given, "length")
    assert doubtful.expected == body("male", *slight).measures[MEASURE_OF_KEY[key]]


@pytest.mark.parametrize(("key", "name"), TAPES.items())
def test_a_tape_is_doubted_from_four_standard_deviations(key: str, name: str) -> None:
    """From what the others tell, to both sides; the spread of that is two."""
    stature, mass = STATURE_AND_MASS["female", 50]
    expected = body("female", stature, mass).measures[name]
    for factor, implausible in ((-2.1, 1), (-1.9, 0), (1.9, 0), (2.1, 1)):
        tape = {f"{key}_m": expected.value + factor * expected.spread}
        assert len(body("female", stature, mass, **tape).implausible) == implausible


def test_a_chest_and_a_waist_that_contradict_each_other_are_doubted_without_a_mass() -> None:
    """A chest of 90 cm does not go with a waist of 140 cm."""
    assert "waist" in {doubtful.key for doubtful in body("male", 1.756, chest_m=0.90, waist_m=1.40).implausible}


@pytest.mark.parametrize(("stature", "mass"), [(2.0, 45.0), (1.5, 150.0)])
def test_a_mass_that_no_living_body_has_is_doubted(stature: float, mass: float) -> None:
    """Mass over stature squared of 11 and of 67 kg/m2; the expected mass is the survey's at this stature."""
    for sex in (*SEXES, None):
        (doubtful,) = body(sex, stature, mass).implausible
        assert (doubtful.key, doubtful.given, doubtful.measure) == ("mass", mass, "body mass")
        assert 22 < doubtful.expected.value / stature**2 < 29
        assert "mass" in MEASURE_OF_KEY


@pytest.mark.parametrize(("stature", "mass"), [(1.25, None), (2.1, None), (None, 35.0), (None, 150.0)])
def test_a_body_beyond_the_survey_is_reported(stature: float | None, mass: float | None) -> None:
    """Three standard deviations: 1.55 to 1.96 m and 43 to 128 kg men, 1.44 to 1.82 m and 35 to 101 kg women."""
    assert body("male", stature, mass).is_outside_survey


def test_of_unknown_sex_only_what_is_beyond_both_is_outside() -> None:
    """1.50 m is far out for a man only."""
    assert body("male", 1.50).is_outside_survey
    assert not body("female", 1.50).is_outside_survey
    assert not body(None, 1.50).is_outside_survey
