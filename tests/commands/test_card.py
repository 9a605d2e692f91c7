"""kitbuilder card: what to ask for where gear is rented."""

import json
from pathlib import Path

import pytest

from tests.commands.run import CONFIGS, DIVER, GOOD, TWINSET, run
from tests.each import each

TRIPS = ("trip-reef", "trip-wreck")
MOST_LINES, MOST_COLUMNS = 40, 60


def result(*words: str) -> dict:
    return json.loads(run("card", *words, "--json").stdout)["result"]


@each("name", ("warm-single", "cold-single", "twinset", "sidemount", *TRIPS))
def test_a_card_is_one_small_page(name: str) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("COLUMNS", str(MOST_COLUMNS))
        for units in ("metric", "imperial"):
            done = run("card", str(CONFIGS / f"{name}.toml"), "--units", units)
            lines = done.stdout.splitlines()
            assert (done.returncode, done.stderr) == (0, "")
            assert len(lines) <= MOST_LINES
            assert max(map(len, lines)) <= MOST_COLUMNS
            assert "never a certificate" in done.stdout


def test_both_units_stand_on_it() -> None:
    text = run("card", GOOD).stdout
    assert " kg (" in text
    assert " lb)" in text


@pytest.mark.parametrize("file", [GOOD, TWINSET])
def test_the_lead_is_that_of_ballast(file: str) -> None:
    """For the same cylinder and water, asked of the other command."""
    [card] = result(file)["cards"]
    assert card["leads"]
    for found in card["leads"]:
        words = ("ballast", file, "--water", card["water"], "--cylinder", found["cylinder"], "--json")
        answers = json.loads(run(*words).stdout)["result"]["answers"]
        [answer] = [each for each in answers if each["cylinders"] == found["cylinder"]]
        assert found["lead_needed_kg"] == answer["balance"]["lead_needed_kg"]


def test_a_trip_names_cylinder_and_water() -> None:
    [card] = result(str(CONFIGS / "trip-reef.toml"))["cards"]
    assert (card["file"], card["water"]) == ("warm-single.toml", "salty sea")
    assert [each["cylinder"] for each in card["leads"] if each["named_by_trip"]] == ["aluminium 11.1 L 207"]
    assert card["leads"][0]["named_by_trip"]


def test_a_kit_without_a_cylinder_has_a_card_without_lead(tmp_path: Path) -> None:
    (tmp_path / "kit.toml").write_text('format = 1\nname = "bare"\nlayout = "single"\n', encoding="utf-8")
    done = run("card", "kit.toml", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (1, "")
    assert "cannot be worked out" in done.stdout


def test_a_trip_with_a_kit_that_is_not_there_has_the_cards_of_the_others(tmp_path: Path) -> None:
    for name in ("trip-reef.toml", "warm-single.toml", "diver.toml"):
        text = (CONFIGS / name).read_text(encoding="utf-8")
        (tmp_path / name).write_text(text.replace('["warm-single.toml"]', '["warm-single.toml", "gone.toml"]'))
    done = run("card", "trip-reef.toml", cwd=tmp_path)
    assert done.returncode == 2
    assert "Not used: gone.toml is not in this folder." in done.stdout
    assert "aluminium 11.1 L 207" in done.stdout


def test_another_kind_of_file_is_named() -> None:
    done = run("card", DIVER)
    assert (done.returncode, done.stdout) == (2, "")
    assert "needs a kit or a trip" in done.stderr


@pytest.mark.parametrize(
    ("file", "says"),
    [
        ("warm-single", "Empty the jacket. Lie still"),
        ("twinset", "Empty the wing, then the suit until it just squeezes."),
    ],
)
def test_the_float_check_names_what_the_kit_has(file: str, says: str) -> None:
    """A jacket over a foam suit; a wing over a drysuit."""
    assert says in " ".join(run("card", f"configs/{file}.toml").stdout.split())


def test_a_trip_without_kits_says_why_it_has_no_card(tmp_path: Path) -> None:
    (tmp_path / "trip.toml").write_text('format = 1\nholds = "trip"\nname = "bare"\n', encoding="utf-8")
    done = run("card", "trip.toml", cwd=tmp_path)
    assert done.returncode == 1
    assert "The trip names no kit, so there is no card." in done.stdout
