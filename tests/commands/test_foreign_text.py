"""Text from files, names of files and arguments: printed, and obeyed by no terminal."""

import json
import os
import shutil
from pathlib import Path

import pytest

from kitbuilder.cli import main
from kitbuilder.commands import NAMES, all_commands
from kitbuilder.commands.parser import parser_of
from kitbuilder.kit.file_kinds import FILE_KINDS
from tests.hostile import MARKUP, OBEYED, broken_toml, hostile_folder, raw_in
from tests.markdown_reader import words as shown

SEEN = r"\x1b[2J"
"""How the beginning of every hostile text is printed."""
ARGUMENT = f"nope\x1b[31m{''.join(OBEYED[1:])}\udcff"
"""All but null, which no argument has. A byte that is no UTF-8 reaches Python as half a character."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    """Files with hostile texts, files with everything wrong, and a kit that names those."""
    made = tmp_path_factory.mktemp("hostile")
    twinset = hostile_folder(made)["twinset"].read_text(encoding="utf-8")
    for name, file in FILE_KINDS.items():
        (made / f"broken-{name}.toml").write_text(broken_toml(file), encoding="utf-8")
        for linked in (f'"{name}.toml"', f'"{name}.csv"'):
            twinset = twinset.replace(f"= {linked}", f'= "broken-{name}.toml"')
    (made / "linked.toml").write_text(twinset, encoding="utf-8")
    return made


@pytest.fixture(autouse=True)
def here(folder, monkeypatch):
    """In that folder, so that no path has anything of ours."""
    monkeypatch.chdir(folder)


@pytest.fixture
def printed(capsys):
    """Everything a command printed to both streams, none of it raw; an end by `argparse` is an end as well."""

    def run(*words: str) -> tuple[str, str]:
        try:
            main(words)
        except SystemExit as end:
            assert end.code in (0, 2)
        found = capsys.readouterr()
        assert not raw_in(found.out), words
        assert not raw_in(found.err), words
        return found.out, found.err

    return run


ASKED = {
    "check": ("check", "every-kit.toml", "wrong-on-purpose.toml", "diver.toml", "gear.toml", "stock.toml"),
    "compare": ("compare", "twinset.toml", "sidemount.toml"),
    "pair": ("pair", "twinset.toml", "wrong-on-purpose.toml"),
    "ballast": ("ballast", "twinset.toml"),
    "fit": ("fit", "sidemount.toml", "--stock", "stock.toml"),
    "changeover": ("changeover", "cold-single.toml", "warm-single.toml", "--gear", "gear.toml"),
    "fewest": ("fewest", "cold-single.toml", "warm-single.toml", "--gear", "gear.toml", "--stock", "stock.toml"),
    "gear": ("gear", "gear.toml"),
    "losses": ("losses", "twinset.toml"),
    "trip": ("trip", "trip-wreck.toml"),
    "swaps": ("swaps", "twinset.toml"),
    "card": ("card", "trip-wreck.toml"),
    "spares": ("spares", "twinset.toml", "sidemount.toml", "--level", "remote"),
    "report": ("report", "twinset.toml", "gear.toml", "diver.toml"),
}
"""A question for each command that reads files."""
WITH_ANOTHER_WORD = {"new": ("new", "own"), "completion": ("completion", "bash")}
"""Commands that cannot do without a word that names no file to read; no file is written for a word that is refused."""
WITHOUT_FILES = {"demo", "new", "threads", "format", "settings", "completion"}


def test_every_command_is_asked():
    assert {*ASKED, *WITHOUT_FILES} == set(NAMES)


def test_what_a_trip_does_about_too_little_room_is_printed_as_text(folder, printed):
    """Options, what is bought, and the airline's own rule, each with hostile tags of items, bags and legs."""
    trip = (folder / "trip-wreck.toml").read_text(encoding="utf-8")
    tight = trip.replace('"20 kg"', '"14 kg"').replace('"35 kg"', '"20 kg"')
    tag = next(line for line in trip.splitlines() if line.startswith('"item" = '))
    rule = f'[[rule]]\n{tag}\ngoes = "hold"\nsource = "\\u001b[2J\\u202e{MARKUP}"\nread = "2031-05"\n'
    (folder / "tight.toml").write_text(tight + rule, encoding="utf-8")
    out, _ = printed("trip", "tight.toml", "--json", "--time", "1")
    found = json.loads(out)["result"]
    assert found["bought"]
    assert found["instead"]
    words, _ = printed("trip", "tight.toml", "--time", "1")
    assert SEEN in words
    assert MARKUP in words


@pytest.mark.parametrize("words", ASKED.values(), ids=ASKED)
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_no_text_of_a_file_is_printed_raw(printed, words, units):
    out, _ = printed(*words, "--units", units)
    assert SEEN in out


@pytest.mark.parametrize("words", ASKED.values(), ids=ASKED)
def test_no_text_of_a_file_is_markdown(printed, words):
    """It is written out as in the text, and every sign of that is escaped."""
    out, _ = printed(*words, "--form", "markdown")
    assert r"\\x1b\[2J" in out
    assert SEEN in shown(out)
    assert MARKUP in shown(out)


@pytest.mark.parametrize("words", ASKED.values(), ids=ASKED)
def test_programs_get_the_texts_as_they_are(printed, words):
    """In ASCII, every character as JSON escapes it."""
    out, _ = printed(*words, "--json")
    assert out.isascii()
    assert "\x1b[2J" in str(json.loads(out)) or "\\x1b[2J" in str(json.loads(out))


@pytest.mark.parametrize(
    "words",
    [
        *(("check", f"broken-{kind}.toml") for kind in FILE_KINDS),
        ("check", "linked.toml"),
        ("compare", "linked.toml", "broken-kit.toml"),
        ("pair", "linked.toml", "broken-kit.toml"),
        ("ballast", "linked.toml"),
        ("spares", "linked.toml"),
        ("spares", "twinset.toml", "broken-kit.toml"),
        ("ballast", "broken-kit.toml"),
        ("fit", "linked.toml"),
        ("fit", "twinset.toml", "--stock", "broken-stock.toml"),
        ("changeover", "linked.toml", "twinset.toml"),
        ("changeover", "twinset.toml", "wrong-on-purpose.toml"),
        ("changeover", "twinset.toml", "sidemount.toml", "--gear", "broken-gear.toml"),
        ("fewest", "linked.toml", "wrong-on-purpose.toml", "broken-kit.toml"),
        ("fewest", "twinset.toml", "--stock", "broken-stock.toml", "--gear", "broken-gear.toml"),
        ("gear", "broken-gear.toml"),
        ("losses", "broken-kit.toml"),
        ("trip", "broken-trip.toml"),
        ("swaps", "broken-kit.toml"),
        ("card", "broken-trip.toml"),
        ("report", "linked.toml", "broken-kit.toml", "broken-trip.toml"),
    ],
    ids=" ".join,
)
def test_no_problem_is_printed_raw(printed, words):
    """What is wrong with a file repeats what stands in it."""
    out, err = printed(*words)
    assert SEEN in out + err
    printed(*words, "--json")


# ---- names of files ----


@pytest.mark.parametrize("words", ASKED.values(), ids=ASKED)
def test_no_name_of_a_file_is_printed_raw(printed, tmp_path, folder, words):
    """A name may have every character but a slash and a null, and bytes that are no text."""
    parts = [os.fsdecode(b"a\xff\x1b[31m\x9b1m\x08\r\n\xe2\x80\xae%d.toml" % number) for number in range(len(words))]
    named = []
    for part, word in zip(parts, words, strict=True):
        if word.endswith(".toml"):
            shutil.copy(folder / word, tmp_path / part)
        named.append(str(tmp_path / part) if word.endswith(".toml") else word)
    for json_too in ((), ("--json",)):
        out, err = printed(*named, *json_too)
        assert "udcff" in out + err
        assert "\r" not in out


def test_a_line_feed_in_a_name_begins_no_line(printed):
    """Else a file could be named so that a finding of danger seems to be taken back."""
    for word in ("gone\nkitbuilder: all is well", "gone\r\nkitbuilder: all is well"):
        for command in (
            (),
            ("check",),
            ("fit",),
            ("compare", "twinset.toml"),
            ("changeover", "twinset.toml"),
            ("gear",),
        ):
            out, err = printed(*command, word)
            assert not any(line.startswith("kitbuilder: all") for line in (out + err).splitlines())


# ---- arguments ----


OPTIONS = [
    (command.name, action.option_strings[-1])
    for command in all_commands()
    for action in parser_of(command)._actions  # a parser has no public list of them
    if action.option_strings and action.nargs != 0
]


OTHER_WORDS = {("fit", "--layout"): ("fit",), ("trip", "--new"): ("trip", "new-trip")}
"""What stands before an option where that is not the usual question: no file, or one that is not there yet."""


@pytest.mark.parametrize("command", NAMES)
def test_no_argument_is_printed_raw(printed, command):
    """Each option that takes a word gets a hostile one; so do the place of a file, and an option that is not there."""
    words = ASKED.get(command, WITH_ANOTHER_WORD.get(command, (command,)))
    options = [option for name, option in OPTIONS if name == command]
    for more in ([f"--{ARGUMENT}"], [ARGUMENT], *([option, ARGUMENT] for option in options)):
        out, err = printed(*OTHER_WORDS.get((command, more[0]), words), *more)
        assert r"\x1b[31m" in out + err, more
    if "--run" in options:
        _, err = printed(*words, "--run", f"{ARGUMENT}=1 m")
        assert r"\x1b[31m" in err


def test_options_are_found():
    """The list above is asked of the parser's inside."""
    assert {("fit", "--run"), ("fit", "--stature"), ("changeover", "--gear"), ("gear", "--day")} <= set(OPTIONS)


def test_no_word_before_a_command_is_printed_raw(printed):
    for words in ((ARGUMENT,), (f"--{ARGUMENT}",), ("--units", ARGUMENT), (".", ARGUMENT)):
        _, err = printed(*words)
        assert r"\x1b[31m" in err


# ---- files that are written ----


def test_no_text_is_drawn_raw(printed, tmp_path):
    picture = tmp_path / "routes.svg"
    printed("fit", "sidemount.toml", "--svg", str(picture))
    text = picture.read_text(encoding="utf-8")
    assert not raw_in(text)
    assert SEEN in text
