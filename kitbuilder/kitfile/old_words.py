"""The old words that are still read, and what has replaced them. No other part of the reader knows them.

A key goes by its new word from here on: in the values, in the blocks and so in every edit. Only an edit of that very
key writes the new word into the file; all other edits leave the old one where it stands.
"""

import re
from collections.abc import Mapping
from typing import Any, TypeVar

from kitbuilder.kit.old_words import OldWord
from kitbuilder.kitfile.blocks import Block
from kitbuilder.kitfile.syntax import is_toml_table

KEYS = {"kit": {"locker": "gear"}}
"""The old keys at the top of each kind of file, with the new ones."""
HOLDS = {"locker": "gear"}
"""The old words for what a file holds, with the new ones."""
COMMANDS = {"locker": "gear"}
"""The old names of commands, with the new ones."""


_Value = TypeVar("_Value")
_SPELLED = re.compile(r"""([ \t]*)("[^"\n]*"|'[^'\n]*'|[A-Za-z0-9_-]+)([ \t]*)""")


def renew_holds(data: dict[str, Any]) -> tuple[dict[str, Any], tuple[OldWord, ...]]:
    """Put the new word for what a file holds in the place of an old one."""
    said = data.get("holds")
    if not isinstance(said, str) or said not in HOLDS:
        return data, ()
    new = HOLDS[said]
    return data | {"holds": new}, (OldWord("holds", f'holds = "{said}"', f'holds = "{new}"'),)


def old_keys(data: Mapping[str, Any], holds: str) -> dict[str, str]:
    """Give the old keys at the top of a file that stand in the place of the new ones; a table is no key."""
    known = KEYS.get(holds, {})
    return {old: new for old, new in known.items() if old in data and new not in data and not is_toml_table(data[old])}


def renew_keys(keys: dict[str, _Value], old: Mapping[str, str]) -> dict[str, _Value]:
    """Put the new keys in the place of the old ones, in the same order."""
    return {old.get(key, key): value for key, value in keys.items()} if old else keys


def renew_heading(blocks: tuple[Block, ...], old: Mapping[str, str]) -> tuple[Block, ...]:
    """Let the lines of the heading be found by the new keys."""
    if not old:
        return blocks
    heading, *rest = blocks
    lines, spans = renew_keys(heading.key_lines, old), renew_keys(heading.key_spans, old)
    return (heading._replace(key_lines=lines, key_spans=spans), *rest)


def renew_statement(statement: str, key: str) -> str:
    """Write the new word for a key into its line; the equals sign stays in its column."""
    match = _SPELLED.match(statement)
    spelled = match[2].strip("\"'") if match else ""
    if match is None or not any(keys.get(spelled) == key for keys in KEYS.values()):
        return statement
    indent, name, gap = match.groups()
    if " " in gap:
        gap = " " * max(len(name + gap) - len(key), 1)
    return f"{indent}{key}{gap}{statement[match.end() :]}"
