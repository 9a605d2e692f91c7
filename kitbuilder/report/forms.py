"""The forms in which an answer can be written."""

FORMS = ("text", "json")
"""Each by the name of its file in `renderers/`; what `--form` accepts."""
