"""How a page is written: a file per form, each with `render(answer, system, width)`."""

NAMES = ("text", "json")
"""Every form, by the name of its file; what `--form` accepts."""
