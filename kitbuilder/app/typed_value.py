"""What a typed or chosen text means in a file."""

import re

from kitbuilder.kit.fields import Field, ValueKind
from kitbuilder.kitfile.edits import TomlValue

_BETWEEN = re.compile(r"(?<![0-9]),|,(?![0-9])")
"""A comma between two words of a list; between two digits it belongs to a number."""


def value_of(field: Field, text: str) -> TomlValue | None:
    """Find what a typed or chosen text means in the file; None for an empty one."""
    if text == "" and not field.required:
        return None
    match field.kind:
        case ValueKind.FLAG:
            return text == "true"
        case ValueKind.WHOLE:
            return int(text) if text.isdigit() else text
        case ValueKind.PORTS | ValueKind.PORT_NAMES | ValueKind.QUANTITIES | ValueKind.LANDMARKS:
            return [word.strip() for word in _BETWEEN.split(text) if word.strip()]
        case ValueKind.TAGS | ValueKind.FILES:
            return [word.strip() for word in text.split(";" if ";" in text else ",") if word.strip()]
        case _:
            return text.strip()
