"""kitbuilder losses: what still works when something fails."""

import json

from tests.commands.run import DIVER, TWINSET, WRONG, run


def test_what_each_valve_of_a_twinset_takes() -> None:
    """From the file: the right post feeds the long hose and the wing, the left one the rest."""
    said = json.loads(run("losses", TWINSET, "--json").stdout)
    right = next(row for row in said["losses"] if (row["tag"], row["cause"]) == ("right post", "valve closed"))
    assert right["functions"]["breathing"] == {"works": ["necklace"], "lost": ["primary"]}
    assert right["functions"]["inflation"] == {"works": [], "lost": ["wing"]}
    assert right["functions"]["drysuit"] == {"works": ["drysuit"], "lost": []}
    assert right["functions"]["gauge"] == {"works": ["gauge"], "lost": []}


def test_the_text_fits_a_small_terminal_and_has_the_cautions() -> None:
    done = run("losses", TWINSET)
    assert (done.returncode, done.stderr) == (0, "")
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "never certifies" in done.stdout
    assert "estimate" in done.stdout.lower()


def test_the_kit_wrong_on_purpose_gives_no_traceback() -> None:
    done = run("losses", WRONG)
    assert (done.returncode, done.stderr) == (0, "")


def test_another_kind_of_file_is_named() -> None:
    done = run("losses", DIVER)
    assert (done.returncode, done.stdout) == (2, "")
    assert "this file holds a diver, not a kit" in done.stderr
