"""kitbuilder check: figures and findings of files, and an exit code a script can use."""

import json
import re
import subprocess
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.cli import main
from kitbuilder.commands.check import shape
from kitbuilder.kit.file_kinds import FileKind
from kitbuilder.kit.resolved import resolve
from kitbuilder.kitfile.read import read, read_written, resolve_at
from kitbuilder.kitfile.reader import ParseResult
from kitbuilder.report.shapes import answer_schema
from tests.commands.run import CAUTIOUS, CONFIGS, DIVER, GOOD, PYTHON, ROOT, TWINSET, WRONG, run, run_process

CAUTION_WORDS = "kitbuilder advises and never certifies."


@pytest.fixture
def broken(tmp_path: Path) -> str:
    """A file that is no kit: an unknown body on line 7."""
    path = tmp_path / "broken.toml"
    path.write_text(
        'format = 1\nname = "x"\nlayout = "single"\n[[hose]]\ntag = "hose"\nrole = "primary"\nbody = "ruber"\n'
        'length = "75 cm"\n',
        encoding="utf-8",
    )
    return str(path)


def answered(*names: str) -> dict[str, Any]:
    """What check prints as JSON about files."""
    found: dict[str, Any] = json.loads(run("check", "--json", *names).stdout)
    return found


def checked(*names: str) -> list[dict[str, Any]]:
    """What check says of each file that can be read, as JSON."""
    found: list[dict[str, Any]] = answered(*names)["result"]["files"]
    return found


# --- exit codes -------------------------------------------------------------------------------------------------------


@pytest.fixture
def confirmed(tmp_path: Path) -> str:
    """The kit in order, its lead confirmed by a float check of its diver; without one it is a caution."""
    for path in CONFIGS.glob("*.toml"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    with (tmp_path / "diver.toml").open("a", encoding="utf-8") as file:
        file.write('\n[[float_check]]\ntag = "reef"\nkit = "warm-single.toml"\nseen = "neutral"\n')
    return str(tmp_path / "warm-single.toml")


def test_nothing_worse_than_a_notice_is_fine(confirmed: str) -> None:
    """0, though there is a notice."""
    done = run_process("check", confirmed)
    assert (done.returncode, done.stderr) == (0, "")
    assert re.search(r"^Findings: \d+ notices?$", done.stdout, re.MULTILINE)


@pytest.mark.parametrize("file", [CAUTIOUS, WRONG])
def test_a_caution_or_worse_is_found(file: str) -> None:
    """1, also when there are dangers."""
    assert run_process("check", file).returncode == 1


def test_an_unreadable_file_wins(broken: str) -> None:
    """2, whatever is found in the others, and in whatever order they stand."""
    assert run_process("check", broken).returncode == 2
    assert run("check", WRONG, broken).returncode == 2
    assert run("check", broken, WRONG).returncode == 2


def test_the_worst_of_several_files_counts() -> None:
    """One caution among them is enough."""
    assert run("check", GOOD, CAUTIOUS, GOOD).returncode == 1


@pytest.mark.parametrize("words", [[], ["--json"], ["--units", "nautical", GOOD], ["--jason", GOOD]])
def test_words_that_are_not_understood(words: list[str]) -> None:
    """2, with the usage and nothing on the standard output."""
    done = run("check", *words)
    assert done.returncode == 2
    assert done.stderr.startswith("usage: kitbuilder")
    assert done.stdout == ""


# --- what is printed --------------------------------------------------------------------------------------------------


def test_unreadable_files_go_to_the_error_output_and_the_rest_is_printed(broken: str) -> None:
    """With file, line and the nearest word."""
    done = run("check", broken, GOOD)
    assert done.stderr.startswith(f'{broken}:7: hose "hose", body: found "ruber".')
    assert 'Did you mean "rubber"?' in done.stderr
    assert "Reef single, warm water" in done.stdout
    assert "ruber" not in done.stdout


@pytest.mark.parametrize(
    ("name", "says"), [("nowhere.toml", "there is no such file"), (".", "this is a folder")], ids=["missing", "folder"]
)
def test_what_is_no_file_is_said_in_a_sentence(tmp_path: Path, name: str, says: str) -> None:
    """Never with a traceback."""
    done = run("check", str(tmp_path / name), GOOD)
    assert done.returncode == 2
    assert says in done.stderr
    assert "Traceback" not in done.stderr
    assert "Reef single, warm water" in done.stdout


def test_files_stand_in_the_order_they_were_named() -> None:
    """Each under its name."""
    text = run("check", WRONG, GOOD, CAUTIOUS).stdout
    places = [text.index(file) for file in (WRONG, GOOD, CAUTIOUS)]
    assert places == sorted(places)


def test_the_cautions_stand_under_the_text() -> None:
    """Once, last, and not in JSON."""
    text = " ".join(run("check", GOOD, CAUTIOUS).stdout.split())
    assert text.count(CAUTION_WORDS) == 1
    assert text.endswith("Local rules and a licensed technician come first.")
    assert CAUTION_WORDS not in run("check", "--json", GOOD).stdout


def test_no_cautions_follow_when_nothing_could_be_read(tmp_path: Path) -> None:
    """They belong to figures, which another file on the same line may have."""
    missing = str(tmp_path / "missing.toml")
    done = run("check", missing)
    assert (done.returncode, done.stdout) == (2, "")
    both = run("check", GOOD, missing)
    assert (both.returncode, both.stderr) == (2, done.stderr)
    assert both.stdout == run("check", GOOD).stdout


def without_oxygen(table: str) -> str:
    """A text without its section on gases."""
    before, gases = table.split("\nGases\n")
    assert "bar" in gases.split("\nLead and balance")[0]
    return before + gases.split("\nLead and balance")[1]


def test_imperial_units() -> None:
    """75 cm are 29.5 in; metric units are gone from the figures, but where a preset's name has them."""
    text = run("check", "--units", "imperial", GOOD).stdout
    table = text[text.index("hose ") : text.index("What to weigh next")]
    assert "29.5 in" in table
    assert " lb" in table
    assert " psi" in table
    assert not {"cm", "g", "m", "kg·m"} & set(table.split())
    # Limits of oxygen pressure are stated in bar wherever people dive; no other pressure is.
    assert "bar" not in without_oxygen(table).split()
    assert set(re.findall(r"(\S+ \S+) kg", table)) <= {"× 1", "× 2"}, "only what is cast on the pieces of lead"


# --- JSON -------------------------------------------------------------------------------------------------------------


def test_json_is_one_answer_for_all_files(broken: str, confirmed: str) -> None:
    """An object per file that can be read, the others among the problems, and nothing on the error output."""
    done = run("check", "--json", confirmed, broken, CAUTIOUS)
    assert (done.returncode, done.stderr) == (2, "")
    answer = json.loads(done.stdout)
    rows = answer["result"]["files"]
    assert [row["file"] for row in rows] == [row["file"] for row in answer["files"]] == [confirmed, CAUTIOUS]
    assert rows[0]["name"] == "Reef single, warm water"
    assert [row["worst"] for row in rows] == ["notice", "caution"]
    [problem] = [problem for problem in answer["problems"] if problem["file"] == broken]
    assert (problem["line"], problem["place"], problem["found"]) == (7, 'hose "hose", body', '"ruber"')
    assert '"rubber"' in problem["accepted"]


def test_json_of_one_file_is_a_list_too() -> None:
    """So that a program need not ask how many there were."""
    assert len(checked(GOOD)) == 1


def test_json_of_files_that_cannot_be_read_has_no_result(broken: str) -> None:
    """2, and a problem with file, line, place, what was found and what is accepted."""
    done = run("check", "--json", broken)
    assert (done.returncode, done.stderr) == (2, "")
    answer = json.loads(done.stdout)
    assert (answer["result"], answer["files"]) == (None, [])
    [problem] = answer["problems"]
    assert (problem["file"], problem["line"]) == (broken, 7)
    assert problem["place"]
    assert problem["found"]
    assert problem["accepted"]


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_json_of_every_shipped_file_keeps_to_the_schema(units: str) -> None:
    """Kits in order and not, a diver, a stock, a gear and a trip file; the reader's units change nothing."""
    names = sorted(map(str, CONFIGS.glob("*.toml")))
    answer = json.loads(run("check", "--json", "--units", units, *names).stdout)
    jsonschema.Draft202012Validator(answer_schema("check", shape())).validate(answer)
    assert [row["file"] for row in answer["result"]["files"]] == names
    assert {row["holds"] for row in answer["result"]["files"]} == {"kit", "diver", "stock", "gear", "trip"}
    assert answer["result"] == answered(*names)["result"]


def test_a_linked_file_that_cannot_be_used_stands_among_the_problems(tmp_path: Path) -> None:
    """With the name of the kit; the kit is answered all the same."""
    kit = Path(GOOD).read_text(encoding="utf-8").replace('diver  = "diver.toml"', 'stock = "shelf.csv"')
    path = tmp_path / "kit.toml"
    path.write_text(kit, encoding="utf-8")
    answer = answered(str(path))
    assert answer["result"]["files"]
    [problem] = answer["problems"]
    assert problem["message"].startswith(f"{path}: ")
    assert "shelf.csv" in problem["message"]


def test_json_is_plain_ascii_and_says_everything(tmp_path: Path) -> None:
    """A tag of another script comes through; a control character of the file does not reach the terminal."""
    path = tmp_path / "kit.toml"
    path.write_text('format = 1\nname = "Flöte\\u009b \\u202e長い"\nlayout = "single"\n', encoding="utf-8")
    done = run("check", "--json", str(path))
    assert done.stdout.isascii()
    assert json.loads(done.stdout)["result"]["files"][0]["name"] == "Flöte\x9b \u202e長い"


# --- the balance ------------------------------------------------------------------------------------------------------


def test_json_carries_the_balance_of_each_kit() -> None:
    """With the lead that was worked out for the diver whose file lies beside it."""
    [found] = checked(TWINSET)
    kit = read_written(Path(TWINSET)).kit
    assert kit is not None
    balance = assess(resolve(kit, resolve_at(Path(TWINSET), kit).linked)).balance
    assert balance is not None
    last_digit = 0.005 * balance.lead.spread  # three digits of the spread are printed
    assert found["balance"]["lead_needed_kg"]["value"] == pytest.approx(balance.lead.value, abs=last_digit)
    assert found["balance"]["lead_needed_kg"]["spread"] == pytest.approx(balance.lead.spread, abs=last_digit)
    assert [moment["name"] for moment in found["balance"]["moments"]] == [moment.name for moment in balance.moments]
    assert found["balance"]["trim"]["reserve"]["pitch_rad"] == pytest.approx(balance.trim.end.pitch_rad, rel=1e-5)


def test_the_diver_beside_it_counts(tmp_path: Path) -> None:
    """A larger diver displaces more; a diver file that is broken is reported, and the kit is checked all the same."""
    kit = Path(TWINSET).read_text(encoding="utf-8")
    (tmp_path / "kit.toml").write_text(kit, encoding="utf-8")
    body = 'format = 1\nholds = "diver"\nname = "x"\nstature = "178 cm"\nmass = '
    leads = []
    for mass in ("60 kg", "110 kg"):
        (tmp_path / "diver.toml").write_text(f'{body}"{mass}"\n', encoding="utf-8")
        [found] = checked(str(tmp_path / "kit.toml"))
        leads.append(found["balance"]["lead_needed_kg"]["value"])
    assert leads[0] != leads[1]
    (tmp_path / "diver.toml").write_text(f"{body}110\n", encoding="utf-8")
    done = run("check", str(tmp_path / "kit.toml"))
    assert done.returncode in (0, 1)
    assert "The diver file cannot be used: diver.toml:5: " in done.stdout


def test_a_diver_file_can_be_checked_too() -> None:
    """0: it can be read; what it says is checked with the kits that name it."""
    done = run("check", DIVER)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(f"{DIVER}\nthe diver of these kits · diver file, can be read · 0 float checks\n")
    [found] = checked(DIVER)
    assert found == {"file": DIVER, "holds": "diver", "name": "the diver of these kits", "entries": 0, "findings": []}
    assert run("check", DIVER, TWINSET).returncode == run("check", TWINSET).returncode


def test_a_diver_file_that_is_broken(tmp_path: Path) -> None:
    """2, with file and line."""
    path = tmp_path / "diver.toml"
    path.write_text('format = 1\nholds = "diver"\nname = "\\u001b[2J"\nmass = 82\n', encoding="utf-8")
    done = run("check", str(path))
    assert done.returncode == 2
    assert done.stderr.startswith(f"{path}:4: ")
    path.write_text('format = 1\nholds = "diver"\nname = "\\u001b[2J"\n', encoding="utf-8")
    assert "\x1b" not in run("check", str(path)).stdout


# --- stock files ------------------------------------------------------------------------------------------------------

STOCK = str(CONFIGS / "stock.toml")


@pytest.fixture
def half_broken(tmp_path: Path) -> str:
    """A stock of two hoses, the second of which has no unit, on line 3."""
    path = tmp_path / "shelf.csv"
    path.write_text("length,body\n75 cm,rubber\n75,rubber\n", encoding="utf-8")
    return str(path)


def test_a_stock_file_can_be_checked_too() -> None:
    """0: it can be read; it has as many hoses as tables."""
    hoses = Path(STOCK).read_text(encoding="utf-8").count("\n[[hose]]")
    done = run("check", STOCK)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(f"{STOCK}\nan invented shop's shelf · stock file, can be read · {hoses} hoses\n")
    [found] = checked(STOCK)
    assert found == {
        "file": STOCK,
        "holds": "stock",
        "name": "an invented shop's shelf",
        "entries": hoses,
        "findings": [],
    }


def test_a_broken_row_of_a_stock_is_found_and_the_others_count(half_broken: str) -> None:
    """1, in the error output with its line; in JSON beside the number of sound ones."""
    done = run("check", half_broken)
    assert done.returncode == 1
    assert done.stdout.startswith(f"{half_broken}\nshelf · stock file, can be read · 1 hose\n")
    assert done.stderr.startswith(f"{half_broken}:3: ")
    assert len(done.stderr.splitlines()) == 1
    done = run("check", "--json", half_broken)
    assert (done.returncode, done.stderr) == (1, "")
    answer = json.loads(done.stdout)
    assert [(row["holds"], row["entries"]) for row in answer["result"]["files"]] == [("stock", 1)]
    assert [(problem["file"], problem["line"]) for problem in answer["problems"]] == [(half_broken, 3)]


@pytest.mark.parametrize(
    ("name", "text"), [("s.csv", "colour\nred\n"), ("s.toml", 'format = 2\nholds = "stock"\nname = "x"\n')]
)
def test_a_stock_that_cannot_be_used_at_all(tmp_path: Path, name: str, text: str) -> None:
    """2: no column of a hose; another version of the format."""
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    done = run("check", str(path))
    assert (done.returncode, "can be read" in done.stdout) == (2, False)
    assert done.stderr.startswith(str(path))
    answer = answered(str(path))
    assert (answer["result"], bool(answer["problems"])) == (None, True)


def test_kits_and_stock_files_stand_in_the_order_they_were_named(half_broken: str) -> None:
    """And the worst of all counts."""
    done = run("check", "--json", GOOD, half_broken, DIVER)
    assert done.returncode == 1
    rows = json.loads(done.stdout)["result"]["files"]
    assert [row["holds"] for row in rows] == ["kit", "stock", "diver"]


def test_the_stock_that_a_kit_names_is_looked_at_with_it(tmp_path: Path) -> None:
    """A broken row is a notice, a file that is not there a caution."""
    kit = Path(GOOD).read_text(encoding="utf-8").replace('diver  = "diver.toml"', 'stock = "shelf.csv"')
    path = tmp_path / "kit.toml"
    path.write_text(kit, encoding="utf-8")
    for shelf, signal in ((None, "caution"), ("length,body\n75 cm,rubber\n75,rubber\n", "notice")):
        if shelf is not None:
            (tmp_path / "shelf.csv").write_text(shelf, encoding="utf-8")
        [found] = checked(str(path))
        described = [finding for finding in found["findings"] if finding["rule"] == "stock file"]
        assert [(finding["signal"], finding["key"]) for finding in described] == [(signal, "stock")]
        assert "shelf.csv" in described[0]["what"]


# --- where it is run --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "latin-1"])
def test_a_terminal_without_the_signs_gets_plain_ones(encoding: str) -> None:
    """A true minus sign is not in every encoding; no traceback, and a negative number stays one."""
    done = run_process("check", GOOD, encoding=encoding)
    assert (done.returncode, done.stderr) == (1, "")
    assert re.search(r" -\d+", done.stdout)
    assert "\\u" not in done.stdout


def test_each_file_is_printed_before_the_next_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ten thousand kits need no more memory than one, and `head` ends the run: nothing waits for the last file."""
    seen = list[str]()
    printed = list[str]()

    def read_file(path: Path, kind: FileKind | None = None) -> ParseResult:
        seen.append(f"{len(printed)} printed before {path.name}")
        return read(path, kind)

    monkeypatch.setattr("kitbuilder.kitfile.read.read", read_file)
    monkeypatch.setattr("kitbuilder.commands.response.write_out", printed.append)
    assert main(["check", GOOD, DIVER, CAUTIOUS]) == 1
    names = [Path(name).name for name in (GOOD, DIVER, CAUTIOUS)]
    assert seen == [f"{number} printed before {name}" for number, name in enumerate(names)]
    assert len(printed) == 4, "three files and the cautions"


def test_a_reader_that_goes_away_is_no_error() -> None:
    """As `head` does after its lines: no traceback, no message."""
    writer = subprocess.Popen(
        [PYTHON, "-m", "kitbuilder", "check", *[WRONG] * 20],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert writer.stdout is not None
    assert writer.stderr is not None
    assert writer.stdout.readline()
    writer.stdout.close()
    assert writer.stderr.read() == b""
    assert writer.wait(60) == 0


def test_checking_does_not_need_the_screen() -> None:
    """It takes longer to load than the whole check."""
    code = f"import sys\nfrom kitbuilder.cli import main\nmain(['check', {GOOD!r}])\nprint('LOADED', *sys.modules)"
    done = subprocess.run([PYTHON, "-c", code], cwd=ROOT, capture_output=True, encoding="utf-8", check=True)
    loaded = {name.split(".")[0] for name in done.stdout.split("LOADED")[1].split()}
    assert "kitbuilder" in loaded
    assert not loaded & {"textual", "rich", "tomlkit", "numpy", "highspy", "pint"}


# --- all items --------------------------------------------------------------------------------------------------------


def test_items_print_the_table_of_all_items():
    printed = run("check", "--items", GOOD).stdout
    assert "All items" in printed
    assert "lead ±" in printed
    assert "All items" not in run("check", GOOD).stdout


def test_items_are_sorted_by_a_column():
    """And --sort alone asks for them."""
    [found] = checked("--sort", "mass", GOOD)
    masses = [row["mass_kg"]["value"] for row in found["weigh_in"]["rows"] if row["mass_kg"]]
    assert found["weigh_in"]["sorted_by"] == "mass"
    assert masses == sorted(masses, reverse=True)
    assert checked(GOOD)[0]["weigh_in"] is None


def test_a_column_that_is_not_there_is_refused_with_those_that_are():
    done = run("check", "--sort", "colour", GOOD)
    assert done.returncode == 2
    assert "mass-uncertainty" in done.stderr


def test_other_files_have_no_items_to_weigh():
    assert run("check", "--items", DIVER).returncode == run("check", DIVER).returncode


def test_a_trip_is_checked_with_its_kits(tmp_path: Path) -> None:
    """Findings name the entry and its line; a caution or worse ends with 1, and a sound trip with 0."""
    sound = str(CONFIGS / "trip-reef.toml")
    assert run("check", sound).returncode == 0
    for name in ("warm-single.toml", "diver.toml"):
        (tmp_path / name).write_bytes((CONFIGS / name).read_bytes())
    path = tmp_path / "trip.toml"
    text = (CONFIGS / "trip-reef.toml").read_text(encoding="utf-8")
    path.write_text(text.replace('item = "first"', 'item = "frist"'), encoding="utf-8")
    done = run("check", "--json", str(path))
    assert done.returncode == 1
    [found] = json.loads(done.stdout)["result"]["files"][0]["findings"]
    line = 1 + path.read_text(encoding="utf-8").splitlines().index('item = "frist"')
    assert (found["signal"], found["item"], found["key"], found["line"]) == ("warning", "frist", "item", line)
    assert found["what"] == 'the kits of the trip have no item "frist".'
    assert found["do"] == "Write the tag of the item as it stands in its kit file."
