"""The forms in which an answer can be written."""

FORMS = ("text", "markdown", "json")
"""Each by the name of its file in `renderers/`; what `--form` accepts."""
FOR_PEOPLE = ("text", "markdown")
"""Those that people read: complaints go to standard error, and what is long is printed in parts."""
