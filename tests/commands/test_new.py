"""`kitbuilder new`: complete kits by answers, none of which the tool itself finds fault with.

No answer of the code is an expected value here: a hose does not fit, a finding is loud, or lead is off by a piece, by
the same judgement that every kit gets.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from kitbuilder.catalogue.styles import styles
from kitbuilder.commands.exit_codes import DONE, UNREADABLE
from tests.commands.run import run

STYLES = tuple(styles().styles)
MEDIAN = ("--stature", "178 cm", "--mass", "82 kg", "--sex", "male")
SMALL = ("--stature", "158 cm", "--mass", "52 kg", "--sex", "female")
LARGE = ("--stature", "195 cm", "--mass", "110 kg", "--sex", "male")
BODIES = {"unknown": (), "median": MEDIAN, "small": SMALL, "large": LARGE}
DRY = ("drysuit, light undersuit", "drysuit, medium undersuit")
WET = ("5 mm wetsuit", "7 mm wetsuit", "7 mm two-piece")
PIECE_KG = 1.0
"""The usual piece of lead, where no diver file lists others."""


def made(folder: Path, *words: str) -> dict[str, Any]:
    """Make a kit, and give what the answer says to a program."""
    done = run("new", "own", *words, "--json", cwd=folder)
    assert (done.returncode, done.stderr) == (DONE, "")
    found: dict[str, Any] = json.loads(done.stdout)["result"]
    return found


def checked(folder: Path) -> dict[str, Any]:
    """What `check` says of the kit that was made: read from its file, as every kit is."""
    [kit] = json.loads(run("check", "own.toml", "--json", cwd=folder).stdout)["result"]["files"]
    return dict(kit)


def assert_is_sound(folder: Path, said: dict[str, Any]) -> None:
    """No hose that does not fit, nothing loud but what only the water tells, and the lead that is needed."""
    kit = checked(folder)
    outcomes = {hose["tag"]: hose["fit"]["verdict"]["outcome"] for hose in kit["hoses"]}
    assert "does not fit" not in outcomes.values(), outcomes
    loud = {finding["rule"] for finding in kit["findings"] if finding["signal"].lower() in ("warning", "danger")}
    assert not loud
    assert said["findings"]["warning"] == said["findings"]["danger"] == 0
    needed = max(0.0, said["lead_needed_kg"]["value"])
    assert abs(said["lead_carried_kg"] - needed) <= PIECE_KG
    assert len(said["measure"]) == 3
    assert json.loads(run("ballast", "own.toml", "--json", cwd=folder).stdout)["result"]["answers"]


@pytest.mark.parametrize("body", BODIES.values(), ids=BODIES)
@pytest.mark.parametrize("style", STYLES)
def test_the_usual_kit_of_every_style_is_sound(style: str, body: tuple[str, ...], tmp_path: Path) -> None:
    assert_is_sound(tmp_path, made(tmp_path, "--style", style, *body))


@pytest.mark.parametrize(
    ("style", "suit"),
    [
        *((style, suit) for style in STYLES for suit in DRY),
        # A twinset without a drysuit has one lift for all that its gas weighs: that is a warning, and stays one.
        *((style, suit) for style in STYLES if not style.startswith("twinset") for suit in WET),
    ],
)
def test_a_style_is_sound_in_other_suits(style: str, suit: str, tmp_path: Path) -> None:
    assert_is_sound(tmp_path, made(tmp_path, "--style", style, "--suit", suit, *MEDIAN))


ONLY_THE_WATER_TELLS = {"lead for stop"}
OF_STAGES = {"failed wing", "flooded drysuit", "lost stage"}
"""Four cylinders are heavy, and two of them can be lost: true of every such kit."""


@pytest.mark.parametrize("style", STYLES)
def test_a_new_kit_opens_without_an_avoidable_caution(style: str, tmp_path: Path) -> None:
    """What is left is what only a float check tells, and what the answers themselves make heavy."""
    made(tmp_path, "--style", style, *MEDIAN)
    found = checked(tmp_path)["findings"]
    loud = {finding["rule"] for finding in found if finding["signal"].lower() != "notice"}
    assert loud <= ONLY_THE_WATER_TELLS | (OF_STAGES if style == "twinset with stages" else set())


@pytest.mark.parametrize("body", ["rubber", "braided", "polyurethane"])
@pytest.mark.parametrize("water", ["fresh", "salty sea"])
def test_other_answers_are_in_the_file(body: str, water: str, tmp_path: Path) -> None:
    said = made(tmp_path, "--layout", "sidemount", "--body", body, "--water", water, *MEDIAN)
    assert_is_sound(tmp_path, said)
    text = (tmp_path / "own.toml").read_text("utf-8")
    assert f'water  = "{water}"' in text
    bodies = {line.split('"')[1] for line in text.splitlines() if line.startswith("body ")}
    assert bodies == {body}


def test_a_wetsuit_takes_the_drysuit_its_hose_and_its_port_away(tmp_path: Path) -> None:
    made(tmp_path, "--layout", "twinset", "--suit", "5 mm wetsuit")
    text = (tmp_path / "own.toml").read_text("utf-8")
    assert "drysuit" not in text
    assert 'plugged = ["LP2", "LP3", "LP4", "HP2"]' in text


def test_a_heavy_flooded_drysuit_keeps_its_warning(tmp_path: Path) -> None:
    """What the answers themselves make dangerous is said, not hidden."""
    said = made(tmp_path, "--style", "jacket", "--suit", "drysuit, heavy undersuit", *MEDIAN)
    assert said["findings"]["warning"] == 1
    done = run("check", "own.toml", cwd=tmp_path)
    assert "If the drysuit floods" in " ".join(done.stdout.split())


def test_everyday_words_are_written_as_the_names_they_mean(tmp_path: Path) -> None:
    """A layout, a water, a suit and a cylinder, each as one says it."""
    words = ("--layout", "doubles", "--water", "lake", "--suit", "heavy drysuit", "--cylinder", "steel 15")
    made(tmp_path, *words)
    text = (tmp_path / "own.toml").read_text("utf-8")
    for value in ('layout = "twinset"', 'water  = "fresh"', 'undersuit = "heavy"', 'preset = "steel 15 L 232"'):
        assert " ".join(value.split()) in " ".join(text.split())


def test_a_stamped_cylinder_is_written_as_it_is_stamped(tmp_path: Path) -> None:
    made(tmp_path, "--cylinder", "Steel 12 L 232 bar 14.2 kg")
    text = (tmp_path / "own.toml").read_text("utf-8")
    for value in ('"steel"', '"12 L"', '"232 bar"', '"14.2 kg"'):
        assert f"= {value}" in text
    assert "aluminium" not in text


def test_pounds_are_written_for_a_reader_of_pounds(tmp_path: Path) -> None:
    done = run("new", "own", "--units", "imperial", cwd=tmp_path)
    assert done.returncode == DONE
    text = (tmp_path / "own.toml").read_text("utf-8")
    assert [line for line in text.splitlines() if line.startswith("mass") and line.endswith(' lb"')]


def test_the_answer_to_a_program_does_not_depend_on_the_units_that_people_see(tmp_path: Path) -> None:
    """The pieces of lead did; the file is the same as well. Pounds are written where somebody asks for them."""
    answers, files = [], []
    for units in ("metric", "imperial"):
        folder = tmp_path / units
        folder.mkdir()
        answers.append(made(folder, *MEDIAN, "--units", units))
        files.append((folder / "own.toml").read_bytes())
    assert answers[0] == answers[1]
    assert files[0] == files[1]
    run("new", "pounds", "--file-units", "imperial", "--json", cwd=tmp_path)
    assert ' lb"' in (tmp_path / "pounds.toml").read_text("utf-8")


def test_a_body_becomes_a_diver_file_of_a_free_name(tmp_path: Path) -> None:
    """And the lead pieces of an existing file are those that are carried."""
    (tmp_path / "diver.toml").write_text('format = 1\nholds = "diver"\nname = "A"\nlead_sizes = ["1.5 kg"]\n', "utf-8")
    said = made(tmp_path, *MEDIAN)
    assert said["diver"] == "diver2.toml"
    text = (tmp_path / "diver2.toml").read_text("utf-8")
    assert 'stature = "178 cm"' in text
    run("new", "theirs", "--diver", "diver.toml", cwd=tmp_path)
    assert '"1.5 kg"' in (tmp_path / "theirs.toml").read_text("utf-8")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--layout", "triple"), 'new: --layout: found "triple". Accepted: "single", "twinset", "sidemount"'),
        (("--style", "wnig"), 'found "wnig". Did you mean "wing" or "wing with long hose"?'),
        (("--layout", "twinset", "--style", "jacket"), 'Accepted: "twinset", "twinset with stages"'),
        (("--suit", "6 mm wetsuit"), 'new: --suit: found "6 mm wetsuit"'),
        (("--water", "lava"), 'new: --water: found "lava". Accepted: "fresh"'),
        (("--cylinder", "steel 12"), 'Did you mean "steel 12 L 232 long", "steel 12 L 232 short" or "steel 12 L 300"?'),
        (("--body", "rubbber"), 'Did you mean "rubber"?'),
        (("--cylinder", "steel 12 L 232"), '"steel 12 L 232 bar 14.2 kg"'),
        (("--cylinder", "steel 12 L 232 bar 14.2 g"), "stamped mass: found"),
        (("--stature", "178"), 'stature: "178" has no unit. Write "178 cm".'),
        (("--mass", "180"), 'mass: "180" has no unit. Write "180 kg" or "180 lb".'),
        (("--mass", "8 kg"), 'mass: found "8 kg". Accepted: from 30 to 200 kg'),
        (("--sex", "x"), 'sex: found "x"'),
        (("--diver", "gone.toml"), "diver: gone.toml: there is no such file"),
        (("--diver", "../diver.toml"), "Name a diver file in the same folder"),
        (("--diver", "diver.toml", "--mass", "80 kg"), "found --diver and --mass"),
    ],
)
def test_a_refused_answer_leaves_nothing_behind(words: tuple[str, ...], said: str, tmp_path: Path) -> None:
    done = run("new", "own", *words, cwd=tmp_path)
    assert done.returncode == UNREADABLE
    assert said in done.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize(
    "words",
    [
        ("--stature", "2.2 m", "--mass", "200 kg", "--suit", "drysuit, heavy undersuit"),
        ("--stature", "1.2 m", "--mass", "30 kg", "--suit", "no suit", "--cylinder", "aluminium 0.3 L 50 bar 0.5 kg"),
        ("--suit", "7 mm two-piece", "--cylinder", "steel 30 L 300 bar 40 kg", "--units", "imperial"),
    ],
    ids=["largest", "smallest", "heaviest cylinder"],
)
def test_the_ends_of_what_is_accepted_make_kits_that_read(style: str, words: tuple[str, ...], tmp_path: Path) -> None:
    assert run("new", "own", "--style", style, *words, cwd=tmp_path).returncode == DONE
    assert run("check", "own.toml", cwd=tmp_path).returncode != UNREADABLE


def test_more_pieces_than_an_item_may_have_are_several_items(tmp_path: Path) -> None:
    """A file takes up to 24 pieces in an item; in pieces of 100 g a diver carries more."""
    (tmp_path / "diver.toml").write_text(
        'format = 1\nholds = "diver"\nname = "A"\nlead_sizes = ["100 g"]\n', encoding="utf-8"
    )
    said = made(tmp_path, "--suit", "7 mm two-piece", "--diver", "diver.toml")
    assert said["lead_carried_kg"] > 5
    assert abs(said["lead_carried_kg"] - said["lead_needed_kg"]["value"]) <= PIECE_KG


@pytest.mark.parametrize("name", ["own", "own.toml"])
@pytest.mark.parametrize("trap", ["file", "folder", "link"])
def test_what_is_there_stays(name: str, trap: str, tmp_path: Path) -> None:
    place = tmp_path / "own.toml"
    if trap == "file":
        place.write_text("mine")
    elif trap == "folder":
        place.mkdir()
    else:
        place.symlink_to("elsewhere.toml")
    done = run("new", name, *MEDIAN, cwd=tmp_path)
    assert done.returncode == UNREADABLE
    assert "A file with this name exists already. Nothing was written." in done.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["own.toml"]
    assert trap != "file" or place.read_text() == "mine"


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    done = run("new", "none/own", cwd=tmp_path)
    assert done.returncode == UNREADABLE
    assert 'There is no folder "none"' in done.stderr
