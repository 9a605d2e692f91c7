"""kitbuilder threads: what a caliper reading allows."""

import json

import pytest

from tests.commands.run import run


def test_threads_names_what_the_caliper_saw() -> None:
    """0 when a thread is allowed."""
    done = run("threads", "--major", "9.5 mm")
    assert (done.returncode, done.stderr) == (0, "")
    assert "3/8-24 UNF: LP port" in done.stdout


def test_threads_reads_inches_and_threads_an_inch() -> None:
    """7/16-20: 0.433 in and 20 to the inch, shown in inches when asked."""
    done = run("threads", "--major", "0.433 in", "--pitch", "20 tpi", "--units", "imperial")
    assert "7/16-20 UNF" in done.stdout
    assert "0.4330 in; limits 0.4281 to 0.4362 in; 0.0032 in inside" in done.stdout


def test_threads_names_the_necks_that_an_m25_valve_is_forced_into() -> None:
    """Both necks of 3/4, with the danger."""
    done = run("threads", "--major", "24.8 mm", "--pitch", "2 mm")
    assert done.returncode == 0
    spoken = " ".join(done.stdout.split())
    assert "DANGER: an M25x2 valve starts in a 3/4-14 NPSM neck" in spoken
    for neck in ("3/4-14 NPSM", "G 3/4"):
        assert f"a male M25x2 starts in a female {neck}, then binds and strips the thread if it is forced" in spoken


def test_no_thread_is_a_finding() -> None:
    """1, so that a script notices."""
    done = run("threads", "--major", "11.7 mm")
    assert done.returncode == 1
    assert done.stdout.startswith("No known thread is allowed.")


def test_a_better_caliper_decides_differently() -> None:
    """9.5 mm is 0.003 mm too wide for 3/8-24."""
    assert run("threads", "--major", "9.5 mm", "--caliper", "0.001 mm").returncode == 1


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ([], "--major"),
        (["--major", "9.5"], '--major: "9.5" has no unit; write "9.5 mm".'),
        (["--pitch", "24"], '--pitch: "24" has no unit; write "24 tpi".'),
        (["--major", "9.5 kg"], "is a mass, not a length"),
        (["--major=-9.5 mm"], "above zero"),
        (["--pitch", "0 tpi"], '--pitch: "0 tpi" is not a'),
        (["--major", "9.5 mm", "--caliper", "fine"], '--caliper: "fine" is not a length'),
    ],
)
def test_a_reading_that_is_none(words: list[str], says: str) -> None:
    """2, and one sentence."""
    done = run("threads", *words)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("kitbuilder: threads: ")
    assert says in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_threads_as_json_is_in_metres():
    """7/16-20 UNF-2A: major 0.4281 to 0.4362 in (ASME B1.1-2003, table of limits of size, printed to 0.0001 in)."""
    words = ("threads", "--json", "--major", "0.433 in", "--pitch", "20 tpi", "--caliper", "0.1 mm")
    done = run(*words)
    assert (done.returncode, done.stderr) == (0, "")
    assert run(*words, "--units", "imperial").stdout == done.stdout
    said = json.loads(done.stdout)["result"]
    assert said["reading"] == {"major_m": pytest.approx(0.0109982), "minor_m": None, "pitch_m": pytest.approx(0.00127)}
    assert said["caliper_spread_m"] == pytest.approx(0.0001)
    assert [thread["thread"] for thread in said["threads"] if thread["allowed"]] == ["7/16-20 UNF"]
    best = said["threads"][0]
    assert best["thread"] == "7/16-20 UNF"
    major = best["sizes"][0]
    assert (major["low_m"], major["high_m"]) == pytest.approx((0.4281 * INCH, 0.4362 * INCH), abs=0.0001 * INCH)
    assert major["margin_m"] == pytest.approx(0.0032 * INCH, abs=0.0001 * INCH)


INCH = 0.0254


def test_threads_as_json_has_those_that_are_not_allowed():
    """Exit code 1, as with text, and the margin says by how much each is missed."""
    done = run("threads", "--json", "--major", "11.7 mm")
    assert done.returncode == 1
    threads = json.loads(done.stdout)["result"]["threads"]
    assert len(threads) > 5
    assert all(not thread["allowed"] and thread["margin_m"] < 0 for thread in threads)
    assert threads == sorted(threads, key=lambda thread: -thread["margin_m"])
