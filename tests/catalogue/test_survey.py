"""The survey of bodies: what other files take from it is there; a broken one is refused with file, entry and key."""

from pathlib import Path
from shutil import copy

import pytest

from kitbuilder.catalogue import CatalogueError, catalogue
from kitbuilder.catalogue.load import FOLDER, load_catalogue

C7 = 'survey.toml, measure "C7 height"'
SHOULDER = 'survey.toml, measure "acromion height"'
BREAKAGES = [
    pytest.param(
        'male   = { mean = "1756.2 mm"',
        'male   = { mean = "1756.2 kg"',
        'survey.toml, stature, male, mean: "1756.2 kg" is a mass, not a length',
        id="stature in kilograms",
    ),
    pytest.param(
        'male   = { mean = "85.5 kg", sd = "14.2 kg"',
        'male   = { mean = "85.5 kg", sd = "0 kg"',
        "survey.toml, mass, male, sd: is not above zero",
        id="no deviation",
    ),
    pytest.param(
        'female = { mean = "67.8 kg"',
        'women  = { mean = "67.8 kg"',
        "survey.toml, mass, female, mean: is missing",
        id="one sex missing",
    ),
    pytest.param(
        'where = "the bone that stands out at the root of the neck, above the ground"\n',
        "",
        f"{C7}, where: is missing",
        id="not said where it is measured",
    ),
    pytest.param(
        'mean       = "1517.3 mm"',
        "mean       = 1517.3",
        f"{C7}, male, mean: is not a text, or is blank",
        id="bare number",
    ),
    pytest.param(
        "by_stature = ", "by_height  = ", f"{C7}, male, by_stature, plus: is missing", id="no estimate by stature"
    ),
    pytest.param(
        "with_mass  = ",
        "with_mas   = ",
        f'{SHOULDER}, male, with_mas: unknown key; did you mean "with_mass"?',
        id="misspelt estimate",
    ),
    pytest.param(
        'per_kg = "0.4113 mm", ',
        "",
        f"{SHOULDER}, male, with_mass, per_kg: is missing",
        id="estimate without its factor",
    ),
    pytest.param(
        "per_stature = 0.9084",
        "per_stature = 0.9084, per_chest = 0.1",
        f"{C7}, male, by_stature, per_chest: unknown key",
        id="factor of another estimate",
    ),
    pytest.param(
        "per_stature = 0.9084",
        'per_stature = "0.9084"',
        f"{C7}, male, by_stature, per_stature: is not a number",
        id="factor in quotes",
    ),
    pytest.param(
        'per_kg = "0.4113 mm"',
        "per_kg = 0.4113",
        f"{SHOULDER}, male, with_mass, per_kg: is not a text, or is blank",
        id="factor of the mass without a unit",
    ),
    pytest.param(
        'sd = "11.2 mm" }',
        'sd = "-11.2 mm" }',
        f"{C7}, male, by_stature, sd: is not above zero",
        id="negative deviation",
    ),
    pytest.param(
        'name = "acromion height"',
        'name = "C7 height"',
        f"{C7}, name: is there twice",
        id="measure twice",
    ),
    pytest.param("[stature]\n", "[size]\n", "survey.toml, stature, male, mean: is missing", id="no stature"),
    pytest.param(
        'name = "armpit height"',
        'name = "axilla height"',
        'landmarks.toml, skin "right ribs", up, armpit height: unknown key',
        id="a measure gone that landmarks are made from",
    ),
]


@pytest.mark.parametrize(("old", "new", "message"), BREAKAGES)
def test_a_broken_survey_says_where(tmp_path: Path, old: str, new: str, message: str) -> None:
    """File, entry and key stand in the message, in this order."""
    for file in FOLDER.glob("*.toml"):
        copy(file, tmp_path)
    text = (tmp_path / "survey.toml").read_text(encoding="utf-8")
    assert old in text
    (tmp_path / "survey.toml").write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(CatalogueError) as refused:
        load_catalogue(tmp_path)
    assert str(refused.value).startswith(message)


def test_what_estimates_are_made_from_is_in_the_survey() -> None:
    """Stature and mass, or a measure that is there for both sexes; nothing is made from itself."""
    survey = catalogue().survey
    for measure in survey.measures.values():
        for statistics in measure.of.values():
            assert list(statistics.estimates[0].times) == ["stature"]
            for estimate in statistics.estimates:
                assert estimate.times.keys() <= {"stature", "mass", *survey.measures} - {measure.name}


def test_every_measure_of_a_landmark_is_in_the_survey() -> None:
    """Or is the stature, or the thickness of the suit."""
    trade = catalogue()
    asked = {
        name
        for mark in (*trade.skin.values(), *trade.landmarks.values())
        for terms in (mark.right, mark.forward, mark.up)
        for name, _ in terms.times
    }
    assert asked <= {"stature", "suit", *trade.survey.measures}
    assert len(asked & trade.survey.measures.keys()) > 10


def test_what_is_on_the_left_is_as_far_from_the_middle_as_on_the_right() -> None:
    """With every measure that it is made from, and the same height and depth."""
    landmarks = catalogue().landmarks
    pairs = [
        (mark, landmarks[name])
        for mark in landmarks.values()
        if "right" in mark.name and (name := mark.name.replace("right", "left")) in landmarks
    ]
    assert any(right.right.times for right, _ in pairs)
    for right, left in pairs:
        assert left.right.plus == -right.right.plus
        assert dict(left.right.times) == {name: -factor for name, factor in right.right.times}
        assert (left.forward, left.up) == (right.forward, right.up)
