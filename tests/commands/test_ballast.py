"""kitbuilder ballast: the lead for other waters and cylinders."""

import json
import re
from pathlib import Path
from subprocess import CompletedProcess
from typing import Any

import pytest

from kitbuilder.catalogue import catalogue
from tests.commands.run import DIVER, GOOD, TWINSET, run, run_process

CAUTION_WORDS = "kitbuilder advises and never certifies."
NO_CYLINDER = 'format = 1\nname = "bare"\nlayout = "single"\n'


@pytest.fixture
def bare(tmp_path: Path) -> str:
    """A kit without a cylinder."""
    path = tmp_path / "bare.toml"
    path.write_text(NO_CYLINDER, encoding="utf-8")
    return str(path)


def answers(*words: str) -> list[tuple[str, str | None]]:
    """What was answered, as JSON has it."""
    done = run("ballast", "--json", *words)
    assert (done.returncode, done.stderr) == (0, "")
    return [(answer["water"], answer["cylinders"]) for answer in result_of(done)["answers"]]


def result_of(done: CompletedProcess[str]) -> dict[str, Any]:
    """The answer without its envelope."""
    found: dict[str, Any] = json.loads(done.stdout)["result"]
    return found


# --- what is printed --------------------------------------------------------------------------------------------------


def test_the_lead_is_printed_with_what_would_narrow_it() -> None:
    """0; in the kit's water and in fresh, with its own cylinders and with those of the other metal."""
    done = run("ballast", TWINSET)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(f"{TWINSET}\nTwinset, coast · twinset · 2 × steel 12 L 232 long\n")
    assert re.search(r"^ocean +as in the kit +−?\d+\.\d ± \d+\.\d kg  ", done.stdout, re.MULTILINE)
    assert re.search(r"^fresh +as in the kit +−?\d+\.\d ± \d+\.\d kg  ", done.stdout, re.MULTILINE)
    assert len(re.findall(r"^(?:ocean|fresh) +aluminium 13 L 228 .* %$", done.stdout, re.MULTILINE)) == 2
    assert "make a float check in this kit" in done.stdout
    assert "Make a float check, and change the lead by what it shows." in " ".join(done.stdout.split())


def test_the_cautions_stand_under_the_text() -> None:
    """Once, apart, and not in JSON."""
    text = run("ballast", GOOD).stdout
    assert text.count(CAUTION_WORDS) == 1
    assert f"\n\n{CAUTION_WORDS}" in text
    assert CAUTION_WORDS not in run("ballast", "--json", GOOD).stdout


def test_the_first_lead_is_that_of_check() -> None:
    """The same kit, as it is."""
    [checked] = json.loads(run("check", "--json", TWINSET).stdout)["result"]["files"]
    first = result_of(run("ballast", "--json", TWINSET))["answers"][0]
    assert first["balance"]["lead_needed_kg"] == checked["balance"]["lead_needed_kg"]
    assert first["change_of_lead_kg"]["value"] == 0


def test_imperial_units() -> None:
    """Pounds, feet and psi; 5 m are 16 ft, 50 bar are 725 psi."""
    text = run("ballast", "--units", "imperial", GOOD).stdout
    assert "neutral at 16 ft with the reserve (725 psi)" in " ".join(text.split())
    assert re.search(r"as in the kit +−?\d+\.\d ± \d+\.\d lb", text)
    assert not {"bar", "m"} & set(text.split())
    assert set(re.findall(r"(\S+ \S+) kg", text)) <= {"× 1", "× 2"}, "only what is cast on the pieces"


# --- what is asked ----------------------------------------------------------------------------------------------------


def test_water_and_cylinder_may_be_repeated() -> None:
    """In the order they were named, each water with the kit's own cylinders first."""
    waters, cylinders = ["--water", "brackish", "--water", "fresh"], ["steel 15 L 232", "aluminium 11.1 L 207"]
    asked = [word for name in cylinders for word in ("--cylinder", name)]
    assert answers(TWINSET, *waters) == [
        (water, cylinder) for water in ("brackish", "fresh") for cylinder in (None, "aluminium 13 L 228")
    ]
    assert answers(TWINSET, *waters, *asked) == [
        (water, cylinder) for water in ("brackish", "fresh") for cylinder in (None, *cylinders)
    ]
    assert answers(TWINSET, "--water", "fresh", "--water", "fresh") == answers(TWINSET, "--water", "fresh")


@pytest.mark.parametrize(
    ("words", "near"),
    [
        (["--water", "occean"], '"ocean"'),
        (["--water", "fresh", "--water", "brakish"], '"brackish"'),
        (["--cylinder", "alumnium 13 L 228"], '"aluminium 13 L 228"'),
        (["--cylinder", "steel 12 L"], '"steel 12 L 232 long", "steel 12 L 232 short" or "steel 12 L 300"'),
    ],
)
def test_a_word_that_is_not_known(words: list[str], near: str) -> None:
    """2; what was found, what is near, and what is accepted, in one line."""
    done = run("ballast", TWINSET, *words)
    assert (done.returncode, done.stdout) == (2, "")
    said = f'kitbuilder: ballast: {words[-2]}: found "{words[-1]}". Did you mean {near}?'
    assert done.stderr.startswith(said)
    assert len(done.stderr.splitlines()) == 1
    if words[-2] == "--water":
        assert re.findall('"([^"]+)"', done.stderr[done.stderr.index("Accepted: ") :]) == list(catalogue().waters)
    else:
        assert done.stderr.strip() == said, "eighteen names are not read"


def test_a_cylinder_that_is_like_none_is_answered_with_an_example() -> None:
    done = run("ballast", TWINSET, "--cylinder", "foo")
    assert done.stderr == 'kitbuilder: ballast: --cylinder: no cylinder matches "foo". Example: "steel 3 L 232".\n'


def test_everyday_words_ask_the_same_as_the_names() -> None:
    """The capacity in cubic feet is that of the note of the preset; salt water is that of an ocean."""
    named = answers(TWINSET, "--water", "ocean", "--cylinder", "aluminium 11.1 L 207")
    assert answers(TWINSET, "--water", "Salt water", "--cylinder", "AL80") == named


def test_a_word_that_is_like_nothing_has_no_guess() -> None:
    """Only what is accepted."""
    done = run("ballast", TWINSET, "--water", "xyzzy")
    assert done.returncode == 2
    assert "Did you mean" not in done.stderr
    assert '"fresh"' in done.stderr


@pytest.mark.parametrize("words", [[], [TWINSET, GOOD], [TWINSET, "--water"], [TWINSET, "--units", "nautical"]])
def test_words_that_are_not_understood(words: list[str]) -> None:
    """2, with the usage and nothing on the standard output."""
    done = run("ballast", *words)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("usage: kitbuilder")


# --- files ------------------------------------------------------------------------------------------------------------


def test_a_kit_without_a_cylinder(bare: str) -> None:
    """1: nothing can be answered; it says what is missing, to people and to programs."""
    done = run("ballast", bare)
    assert (done.returncode, done.stderr) == (1, "")
    assert "The lead cannot be worked out." in done.stdout
    assert "Not given: lead and balance: the kit has no cylinder." in done.stdout
    assert done.stdout.count("Not given: ") == 1
    done = run("ballast", "--json", bare)
    assert done.returncode == 1
    found = result_of(done)
    assert found["answers"] == []
    assert [said.startswith("lead and balance: the kit has no cylinder.") for said in found["not_given"]] == [True]


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        ("nowhere.toml", None, "there is no such file"),
        ("half.toml", 'format = 1\nname = "Half"\nlayout = "singel"\n', 'Did you mean "single"?'),
        ("empty.toml", "", "format"),
    ],
)
def test_a_file_that_cannot_be_read(tmp_path: Path, name: str, text: str | None, says: str) -> None:
    """2, a line a problem on the error output, never a traceback."""
    path = tmp_path / name
    if text is not None:
        path.write_text(text, encoding="utf-8")
    done = run("ballast", str(path))
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith(str(path))
    assert says in done.stderr
    assert "Traceback" not in done.stderr
    done = run("ballast", "--json", str(path))
    assert (done.returncode, done.stderr) == (2, "")
    answer = json.loads(done.stdout)
    assert (answer["result"], answer["files"]) == (None, [])
    [problem] = [problem for problem in answer["problems"] if says in problem["message"]]
    assert problem["file"] == str(path)


def test_a_problem_in_json_has_its_parts(tmp_path: Path) -> None:
    """File, line, place, what was found and what is accepted."""
    path = tmp_path / "half.toml"
    path.write_text('format = 1\nname = "Half"\nlayout = "singel"\n', encoding="utf-8")
    [problem] = json.loads(run("ballast", "--json", str(path)).stdout)["problems"]
    assert (problem["file"], problem["line"], problem["found"]) == (str(path), 3, '"singel"')
    assert "layout" in problem["place"]
    assert '"single"' in problem["accepted"]


@pytest.mark.parametrize("words", [["--water", "occean"], ["--cylinder", "steel"]])
def test_a_word_that_is_not_known_in_json(words: list[str]) -> None:
    """2, no result, and the complaint of the text among the problems."""
    done = run("ballast", "--json", TWINSET, *words)
    assert (done.returncode, done.stderr) == (2, "")
    answer = json.loads(done.stdout)
    assert answer["result"] is None
    [problem] = answer["problems"]
    assert run("ballast", TWINSET, *words).stderr == f"kitbuilder: {problem['message']}\n"


def test_a_diver_file_is_no_kit() -> None:
    """2, and it says what it holds."""
    done = run("ballast", DIVER)
    assert (done.returncode, done.stdout) == (2, "")
    assert "this file holds a diver, not a kit" in done.stderr


def test_a_diver_file_that_is_missing_is_reported_and_the_lead_is_worked_out(tmp_path: Path) -> None:
    """For a diver who is not given."""
    path = tmp_path / "kit.toml"
    path.write_text(Path(TWINSET).read_text(encoding="utf-8"), encoding="utf-8")
    done = run("ballast", str(path))
    assert done.returncode == 0
    assert "The diver file cannot be used: diver.toml" in " ".join(done.stdout.split())
    problems = json.loads(run("ballast", "--json", str(path)).stdout)["problems"]
    assert [problem["message"] for problem in problems] == [
        "diver.toml is not in this folder.",
        "gear.toml is not in this folder.",
    ]


def test_a_float_check_beside_it_narrows_it(tmp_path: Path) -> None:
    """Half as unsure at most."""
    path, diver = tmp_path / "twinset.toml", tmp_path / "diver.toml"
    path.write_text(Path(TWINSET).read_text(encoding="utf-8"), encoding="utf-8")
    spoken = Path(DIVER).read_text(encoding="utf-8")
    diver.write_text(spoken, encoding="utf-8")
    before = result_of(run("ballast", "--json", str(path)))["answers"][0]["balance"]
    check = '\n[[float_check]]\ntag = "ladder"\nkit = "twinset.toml"\nseen = "neutral"\nlead = "2 kg"\n'
    diver.write_text(spoken + check, encoding="utf-8")
    after = result_of(run("ballast", "--json", str(path)))["answers"][0]["balance"]
    assert after["lead_needed_kg"]["spread"] < before["lead_needed_kg"]["spread"] / 2
    assert after["float_checks"][0]["tag"] == "ladder"
    assert after["lead_needed_kg"]["value"] == pytest.approx(2.0, abs=after["lead_needed_kg"]["spread"])


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_a_terminal_without_the_signs_gets_plain_ones(encoding: str) -> None:
    """No traceback, and a negative number stays one."""
    done = run_process("ballast", GOOD, encoding=encoding)
    assert (done.returncode, done.stderr) == (0, "")
    assert re.search(r"-\d+\.\d", done.stdout)
    assert "\\u" not in done.stdout
