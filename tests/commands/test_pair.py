"""kitbuilder pair: what two or three divers must agree on before the dive."""

import json
import shutil
from pathlib import Path

import pytest

from tests.commands.run import CONFIGS, GOOD, TWINSET, run

HOST, GUEST = "configs/pair/host.toml", "configs/pair/guest.toml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the shipped pair."""
    return Path(shutil.copytree(CONFIGS / "pair", tmp_path / "pair"))


def answer(*words: str, cwd: Path) -> dict[str, object]:
    found: dict[str, object] = json.loads(run("pair", *words, "--json", cwd=cwd).stdout)
    return found


def test_the_shipped_pair_fits_one_page_of_80_columns(monkeypatch: pytest.MonkeyPatch) -> None:
    """1, since there is something to agree on. A page of A4 with margins of 2 cm has 80 lines of 9 points."""
    monkeypatch.setenv("COLUMNS", "80")
    done = run("pair", HOST, GUEST)
    assert (done.returncode, done.stderr) == (1, "")
    lines = done.stdout.splitlines()
    assert max(map(len, lines)) <= 80
    assert len(lines) <= 80
    assert "never certifies" in done.stdout


def test_the_first_lines_say_what_to_agree_on_and_then_who_hands_over_what() -> None:
    lines = run("pair", HOST, GUEST).stdout.splitlines()
    assert lines[4] == "Agree on these 5 before the dive"
    start = lines.index("Gas given")
    assert [line.split()[:3] for line in lines[start + 2 : start + 4]] == [
        ["host", "primary", "150"],
        ["guest", "alternate", "36.0"],
    ]


def test_each_diver_reads_the_own_units_first_whatever_the_reader_has() -> None:
    """By definition 50 bar are 725.2 psi and 700 psi are 48.3 bar."""
    for units in ("metric", "imperial"):
        text = run("pair", HOST, GUEST, "--units", units).stdout
        assert "50 bar (725 psi)" in text
        assert "700 psi (48 bar)" in text
        assert "reserve is 19.0 ft³ (538 L) at the surface, that of host 750 L (26.5 ft³)" in " ".join(text.split())


def test_a_pair_as_json() -> None:
    """The same in all units; who is named first changes the order of the rows alone."""
    done = run("pair", HOST, GUEST, "--json")
    assert (done.returncode, done.stderr) == (1, "")
    assert run("pair", HOST, GUEST, "--json", "--units", "imperial").stdout == done.stdout
    one, two = json.loads(done.stdout)["result"], json.loads(run("pair", GUEST, HOST, "--json").stdout)["result"]
    assert one["agree"] == two["agree"]
    assert [diver["name"] for diver in one["divers"]] == ["host", "guest"]

    def rows(found: dict[str, object], key: str) -> list[str]:
        return sorted(json.dumps(row) for row in found[key])  # type: ignore[attr-defined]

    for key in ("gas_given", "gases", "reserves_elsewhere", "feeds", "regulators", "lead", "bladder_fails"):
        assert rows(one, key) == rows(two, key), key


def test_gas_is_judged_at_the_shallower_depth() -> None:
    """By the files 30 m, 100 ft, which are 30.48 m, and 45 m."""
    assert "Judged at 30 m (98 ft), the shallower of the two." in run("pair", HOST, GUEST).stdout
    assert "Judged at 30 m (98 ft), the shallowest of the three." in run("pair", TWINSET, HOST, GUEST).stdout


def test_three_divers() -> None:
    """A row for each diver and other diver, and one for the gas of a stage: nitrox 47 at 1.4 bar down to 19 m."""
    done = run("pair", HOST, GUEST, TWINSET)
    assert done.returncode == 1
    lines = done.stdout.splitlines()
    start = next(number for number, line in enumerate(lines) if line.startswith("  reserve of"))
    assert [line.split()[:2] for line in lines[start + 1 : start + 3]] == [["host", "guest"], ["host", "the"]]
    assert "nitrox 47 stage" in " ".join(done.stdout.split())
    assert "19 m (62 ft)" in done.stdout
    assert "host to the diver" in done.stdout
    assert "guest to host" in done.stdout


# ---- what cannot be a pair, or hardly is one ----


@pytest.mark.parametrize("words", [("host.toml", "host.toml"), ("host.toml", "guest.toml", "../pair/host.toml")])
def test_one_file_twice_is_refused(words: tuple[str, ...], folder: Path) -> None:
    done = run("pair", *words, cwd=folder)
    assert (done.returncode, done.stdout) == (2, "")
    assert f"{words[-1]} is given twice" in done.stderr
    assert "name another kit" in done.stderr


@pytest.mark.parametrize("text", ['format = 1\nname = "half"\nlayout = "singel"\n', "format = ", "\x00"])
def test_a_kit_that_cannot_be_read_is_named(text: str, folder: Path) -> None:
    (folder / "half.toml").write_text(text)
    done = run("pair", "host.toml", "half.toml", "gone.toml", cwd=folder)
    assert (done.returncode, done.stdout) == (2, "")
    assert [line.split(":")[0] for line in done.stderr.splitlines()] == ["half.toml", "gone.toml"]


def test_a_file_that_is_no_kit_is_refused(folder: Path) -> None:
    done = run("pair", "host.toml", "host-diver.toml", cwd=folder)
    assert (done.returncode, done.stdout) == (2, "")
    assert "host-diver.toml" in done.stderr


def test_two_divers_of_one_name(folder: Path) -> None:
    diver = (folder / "guest-diver.toml").read_text("utf-8")
    (folder / "guest-diver.toml").write_text(diver.replace('"guest"', '"host"'), "utf-8")
    text = " ".join(run("pair", "host.toml", "guest.toml", cwd=folder).stdout.split())
    assert 'More than one diver is called "host".' in text
    assert "host (guest)" in text


def test_a_missing_body_is_named_with_its_key_and_file(folder: Path) -> None:
    """A kit without a diver file; one that names a file that is gone; one whose diver has neither body nor units."""
    text = (folder / "guest.toml").read_text("utf-8")
    (folder / "none.toml").write_text(text.replace('diver   = "guest-diver.toml"\n', ""), "utf-8")
    (folder / "lost.toml").write_text(text.replace("guest-diver", "gone"), "utf-8")
    (folder / "bare.toml").write_text(text.replace("guest-diver", "bare-diver"), "utf-8")
    (folder / "bare-diver.toml").write_text('format = 1\nholds = "diver"\nname = "bare"\n', "utf-8")

    def says(name: str) -> str:
        return " ".join(run("pair", "host.toml", name, cwd=folder).stdout.split())

    assert "Set diver in none.toml" in says("none.toml")
    assert "Not used: lost.toml: gone.toml is not in this folder" in says("lost.toml")
    for keys in ("units", "stature, mass"):
        assert f"Set {keys} in bare-diver.toml" in says("bare.toml")


def test_gas_that_is_not_given_is_marked_as_assumed(folder: Path) -> None:
    """207 bar are full in the preset of this cylinder; 50 bar are the reserve by common practice: 725 psi."""
    text = (folder / "guest.toml").read_text("utf-8")
    given = [line for line in text.splitlines() if line.split("=")[0].strip() not in ("gas", "filled", "reserve")]
    (folder / "guest.toml").write_text("\n".join(given), "utf-8")
    said = run("pair", "host.toml", "guest.toml", cwd=folder).stdout
    row = next(line for line in said.splitlines() if line.startswith("  guest  assumed air"))
    assert "assumed 3002 psi" in row
    assert "2000 psi" in row
    assert row.count("assumed") == 3
    assert "assumed 725 psi" in row
    assert 'Set gas, filled, reserve of "boat cylinder" in guest.toml: they say' in " ".join(said.split())


def test_a_diver_without_second_stages_keeps_a_row_in_each_table(folder: Path) -> None:
    text = (folder / "guest.toml").read_text("utf-8")
    start, end = text.index("[[second_stage]]"), text.index("[[gauge]]")
    (folder / "guest.toml").write_text(text[:start] + text[end:], "utf-8")
    lines = run("pair", "host.toml", "guest.toml", cwd=folder).stdout.splitlines()
    gas = lines[lines.index("Gas") : lines.index("What fits the other's kit")]
    assert [line.split() for line in gas if line.startswith("  guest")] == [["guest", *["not", "known"] * 4]] * 2
    assert any("guest  not known: no item" in line for line in lines)


def test_kits_that_share_no_function(folder: Path) -> None:
    """One of them has lead and nothing else: no gas, no lift, nothing to feed."""
    lead = 'format = 1\nname = "lead"\nlayout = "single"\n\n[[lead]]\ntag = "belt"\nmass = "1 kg"\n'
    (folder / "lead.toml").write_text(lead, "utf-8")
    done = run("pair", "host.toml", "lead.toml", cwd=folder)
    assert (done.returncode, done.stderr) == (1, "")
    assert "has no second stage to hand over" in " ".join(done.stdout.split())
    found = answer("host.toml", "lead.toml", cwd=folder)["result"]
    assert isinstance(found, dict)
    assert [(row["giver"], row["second_stage"]) for row in found["gas_given"]][1] == ("diver of lead", None)
    assert found["lead"][1]["lead_needed_kg"] is None


def test_two_kits_of_one_diver_are_no_pair() -> None:
    """A kit that is lent gets the diver file of the one who dives it."""
    done = run("pair", GOOD, TWINSET)
    assert (done.returncode, done.stdout) == (2, "")
    assert "both kits belong to the diver of diver.toml; a pair is two people" in done.stderr
    of_three = run("pair", GOOD, HOST, TWINSET)
    assert of_three.returncode == 2
    assert f"{GOOD} and {TWINSET} belong to the diver of diver.toml" in of_three.stderr
