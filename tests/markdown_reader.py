"""Markdown as a program reads it that is not ours: markdown-it-py, which passes the tests of CommonMark 0.31."""

from collections.abc import Iterator

from markdown_it import MarkdownIt
from markdown_it.token import Token

READER = MarkdownIt("commonmark").enable(["table", "strikethrough"])


def structure(markdown: str) -> list[str]:
    """What a reader makes of it, part by part, without the words: "heading_open h1", "tr_open tr", "text"."""
    return [f"{token.type} {token.tag}".rstrip() for token in _tokens(markdown)]


def words(markdown: str) -> str:
    """The words that are shown, a line for each paragraph, heading, item or cell."""
    return "\n".join(
        "".join(child.content for child in token.children or ())
        for token in READER.parse(markdown)
        if token.type == "inline"
    )


def _tokens(markdown: str) -> Iterator[Token]:
    for token in READER.parse(markdown):
        yield from (token.children or ()) if token.type == "inline" else (token,)
