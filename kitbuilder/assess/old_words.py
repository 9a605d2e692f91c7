"""What to say about a file that still uses an old word."""

from collections.abc import Iterator, Sequence

from kitbuilder.assess.findings import Finding, Signal, words
from kitbuilder.kit.old_words import OldWord

RULE = "old word"


def notice_old_words(old_words: Sequence[OldWord]) -> Iterator[Finding]:
    """Name each old word of a file with the word to write instead."""
    for old in old_words:
        yield Finding(
            Signal.NOTICE,
            None,
            old.key,
            words(f"the file says `{old.found}`, the old word for `{old.accepted}`"),
            words("The old word is still read. Help, forms and new files use the new word."),
            words(f"Write `{old.accepted}` instead."),
            RULE,
        )
