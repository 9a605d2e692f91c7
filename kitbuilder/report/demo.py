"""The page of `kitbuilder demo`: where the kits were copied to, and how to open them."""

from collections.abc import Sequence

from kitbuilder.assess.findings import Tag
from kitbuilder.report.page import Page, Section, Text, Values, only_data, text
from kitbuilder.report.shapes import TEXT, listed, record

SHAPE = record(folder=TEXT, files=listed(TEXT))


def demo_page(folder: str, files: Sequence[str]) -> Page:
    """Build the page.

    Args:
        folder: As it was named.
        files: The names of the copied files.
    """
    return Page(
        [
            only_data(("folder", folder), ("files", Values([Tag(name) for name in files]))),
            text(f"{len(files)} files copied to {folder}: invented kits with divers, gear, stock and schemas."),
            Section("", [Text((f"Open them with: kitbuilder {folder}",))]),
        ]
    )
