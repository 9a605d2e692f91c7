"""What is given on the command line in place of a file: the same keys, limits and words."""

import pytest

from kitbuilder.kit.diver import Diver, DiverHeader
from kitbuilder.kit.file_kinds import DIVER_FILE
from kitbuilder.kitfile.overrides import BODY_FIELDS, override_diver, override_runs
from kitbuilder.kitfile.reader import parse_as, read_kit
from kitbuilder.kitfile.starters import starter_text
from kitbuilder.kitfile.values import Refusal
from tests.assess.kits import with_keys

DIVER = Diver(DiverHeader(format=1, holds="diver", name="somebody", stature_m=1.8, mass_kg=80.0), ())
KIT = read_kit(starter_text("single", "a single")).kit


def test_every_measure_of_a_body_can_be_given():
    """And nothing of a diver file that is not of the body."""
    keys = {field.key for field in BODY_FIELDS}
    assert {"stature", "mass", "sex", "chest", "waist", "back_length", "shoulders", "neck", "neck_turns"} == keys


def test_what_is_given_replaces_what_the_file_says_and_the_rest_stays():
    given = override_diver(DIVER, {"stature": "170 cm", "neck_turns": "stiff"})
    assert given is not None
    assert given.header.stature_m == pytest.approx(1.7)
    assert (given.header.neck_turns, given.header.mass_kg, given.header.name) == ("stiff", 80.0, "somebody")


def test_nothing_given_leaves_the_diver_as_he_is():
    assert override_diver(DIVER, {}) is DIVER
    assert override_diver(None, {}) is None


def test_a_diver_can_be_made_of_what_is_given():
    given = override_diver(None, {"chest": "40 in"})
    assert given is not None
    assert given.header.chest_m == pytest.approx(1.016)


@pytest.mark.parametrize(
    ("key", "text", "says"),
    [
        ("stature", "20 cm", "from 120 to 220 cm"),
        ("chest", "4 m", "from 60 to 180 cm"),
        ("stature", "178", "has no unit"),
        ("back_length", "2 kg", "back length: "),
        ("sex", "x", '"male", "female"'),
    ],
)
def test_what_a_file_refuses_is_refused(key, text, says):
    with pytest.raises(Refusal, match=says):
        override_diver(None, {key: text})


def test_a_run_is_that_of_one_hose():
    given = override_runs(KIT, {"gauge hose": "62 cm"})
    assert [hose.run_m for hose in given.hoses] == [None, None, None, pytest.approx(0.62)]
    assert [item.tag for item in given.items] == [item.tag for item in KIT.items]


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("stature", "20 cm"),
        ("stature", "221 cm"),
        ("mass", "2 m"),
        ("mass", "1 kg"),
        ("chest", "4 m"),
        ("waist", "90"),
        ("neck", "forty cm"),
        ("shoulders", ""),
        ("sex", "mail"),
        ("neck_turns", "stif"),
    ],
)
def test_it_is_refused_in_the_words_of_the_file(key: str, text: str) -> None:
    """But for the place, which is no line; both what was found and what is accepted."""
    reading = parse_as(f'format = 1\nholds = "diver"\nname = "x"\n{key} = "{text}"\n', DIVER_FILE)
    [problem] = reading.problems
    with pytest.raises(Refusal) as refused:
        override_diver(None, {key: text})
    assert refused.value.found == f"{key.replace('_', ' ')}: {problem.found}"
    assert refused.value.accepted == problem.accepted


@pytest.mark.parametrize(
    ("key", "text"), [("stature", "120 cm"), ("stature", "220 cm"), ("mass", "180 lb"), ("sex", "female")]
)
def test_what_a_file_accepts_is_accepted_as_the_file_has_it(key: str, text: str) -> None:
    """The limits themselves, pounds too."""
    filed = parse_as(f'format = 1\nholds = "diver"\nname = "the diver"\n{key} = "{text}"\n', DIVER_FILE).diver
    assert override_diver(None, {key: text}) == filed


@pytest.mark.parametrize("text", ["62 cm", "24.5 in", "3 cm", "500 cm"])
def test_a_run_is_the_one_a_kit_file_would_say(text: str) -> None:
    """Once it stands there."""
    filed = read_kit(with_keys(starter_text("single", "a single"), "gauge hose", run=text)).kit
    assert filed is not None
    assert filed != KIT
    assert override_runs(KIT, {"gauge hose": text}) == filed


def test_no_run_leaves_the_kit_as_it_is() -> None:
    """Item by item."""
    assert override_runs(KIT, {}) == KIT


def test_a_run_given_replaces_that_of_the_file() -> None:
    """Its other keys stay."""
    given = override_runs(override_runs(KIT, {"gauge hose": "62 cm"}), {"gauge hose": "24 in"})
    assert given.hoses[3].run_m == pytest.approx(0.6096)
    assert given.hoses[3].length_m == KIT.hoses[3].length_m


def test_a_tag_that_is_nearly_one_is_guessed() -> None:
    """And all hoses of the kit are named."""
    with pytest.raises(Refusal) as refused:
        override_runs(KIT, {"primry hose": "62 cm"})
    assert refused.value.accepted.endswith('Did you mean "primary hose"?')
    assert all(f'"{hose.tag}"' in refused.value.accepted for hose in KIT.hoses)


@pytest.mark.parametrize(("tag", "text"), [("gauge", "62 cm"), ("gauge hose", "62"), ("gauge hose", "2 cm")])
def test_a_run_of_no_hose_or_no_length_is_refused(tag, text):
    """A gauge is no hose."""
    with pytest.raises(Refusal):
        override_runs(KIT, {tag: text})
