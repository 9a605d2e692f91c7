"""Words that a reader of today would stumble over stand nowhere: not on a screen, in a text, a name or a comment."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
REFUSED = {
    "told, untold": "given, not given, default, reported",
    "surer": "more certain, narrower",
    "how sure, as sure as": "how certain, with the spread of",
    "unless said, unless told": "by default",
    "to be had": "available",
    "has to be got": "has to be bought",
    "give or take": "±",
    "at hand": "available, ready",
    "passed over, passes all": "ignored, long enough in every position",
    "dived": "used",
    "the dive ends on the bench": "it cannot be connected",
    "in the pose": "in the position",
    "rests at": "left alone, floats at",
    "nought": "zero",
    "mend, mends, mended, mending": "fix",
    "taken for granted": "assumed",
    "by custom": "by common practice",
    "lest, besides, hence, thereby, afresh, anew, whilst, upon": "a word of today",
    "a kit a file, a line a hose, one a hose, a key a line, one file a kit, one text file a kit": "per",
}
"""Each with what to write instead."""
SKIPPED = {
    "/__snapshots__/": "written by tests",
    "configs/FORMAT.md": "written by `kitbuilder format`",
    "tests/test_words.py": "the list itself",
    "tests/test_pyproject.py": "quotes the licence",
    "kitbuilder/app/": "the words of the app change with its screens",
    "tests/app/": "the words of the app change with its screens",
}
"""Parts of a path that is left out, each with the reason."""
SUFFIXES = {"", ".md", ".py", ".tcss", ".toml", ".tsv", ".txt"}
PHRASES = {phrase: instead for phrases, instead in REFUSED.items() for phrase in phrases.split(", ")}
PATTERN = re.compile(  # in a name an underscore stands between words
    rf"(?<![a-z])({'|'.join(phrase.replace(' ', '[ _]') for phrase in PHRASES)})(?![a-z])", re.IGNORECASE
)


def texts() -> Iterator[Path]:
    """Give every file that somebody wrote."""
    for top in (ROOT / each for each in ("kitbuilder", "tests", "configs", ".ci", "DEVELOPERS.md", "pyproject.toml")):
        for path in (top, *sorted(top.rglob("*"))):
            name = path.relative_to(ROOT).as_posix()
            if path.suffix in SUFFIXES and path.is_file() and not any(part in name for part in SKIPPED):
                yield path


def refused(text: str) -> list[str]:
    """Give each line with a refused word, its number, and what to write instead."""
    return [
        f'{number}: "{found[0]}": {PHRASES[found[0].lower().replace("_", " ")]}'
        for number, line in enumerate(text.splitlines(), 1)
        for found in PATTERN.finditer(line)
    ]


def test_no_text_has_a_word_that_nobody_uses_today():
    found = [f"{path.relative_to(ROOT)}:{line}" for path in texts() for line in refused(path.read_text("utf-8"))]
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    "text",
    [
        "a diver who is not told",
        "def test_a_run_told() -> None:",
        "Nothing passed over.",
        "one file a kit",
        "AT_HAND = 1",
    ],
)
def test_a_refused_word_is_noticed(text):
    assert len(refused(text)) == 1


@pytest.mark.parametrize("text", ["she is bold", "a resold hose", "untoldness", "at handles", "one file per kit"])
def test_parts_of_other_words_are_none(text):
    assert refused(text) == []
