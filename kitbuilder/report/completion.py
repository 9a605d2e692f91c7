"""The answer of `kitbuilder completion` for programs; people get the script as it is."""

from kitbuilder.report.page import Page, only_data
from kitbuilder.report.shapes import TEXT, record

SHAPE = record(shell=TEXT, script=TEXT)


def completion_page(shell: str, script: str) -> Page:
    """Build the page.

    Args:
        shell: The name of the shell.
        script: What it has to load.
    """
    return Page([only_data(("shell", shell), ("script", script))])
