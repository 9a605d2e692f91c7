"""The lines of a file on which items and keys are, so that a finding can name its line."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines of one file, counted from 1."""

    blocks: tuple[tuple[int, Mapping[str, int]], ...] = field(default=(), hash=False)
    """The heading, then each item: its own line, and the line of each of its keys."""

    def of(self, item: int | None, key: str | None) -> int | None:
        """Give the line of a key, or of the item when the key is missing there or None.

        Args:
            item: The number of the item in the file; None for the heading.
            key: The key of the file.

        Returns:
            None when the file has no such item, or when there is no file.
        """
        number = 0 if item is None else item + 1
        if number >= len(self.blocks):
            return None
        line, keys = self.blocks[number]
        return line if key is None else keys.get(key, line)


NO_LINES = Lines()
"""For what does not come from a file."""
