"""Raw values of TOML as texts: in messages, and as they stand in the file."""


def describe(raw: object) -> str:
    """Describe a value for a message."""
    if isinstance(raw, str):
        return f'"{shorten(raw)}"'
    if isinstance(raw, bool):
        return str(raw).lower()
    if isinstance(raw, int) and raw.bit_length() > 200:
        return "a number of very many digits"  # Python refuses to write out the longest
    if isinstance(raw, (int, float)):
        return str(raw)
    return "a list" if isinstance(raw, list) else "a table" if isinstance(raw, dict) else "a date or time"


def raw_text(raw: object) -> str:
    """Write a value as it stands in the file, without quotes and brackets; empty for one that is not given."""
    if isinstance(raw, list):
        return ("; " if "," in "".join(map(str, raw)) else ", ").join(map(str, raw))
    return "" if raw is None else str(raw).lower() if isinstance(raw, bool) else str(raw)


def shorten(text: str, most: int = 60) -> str:
    """Cut a text that is too long for a message."""
    return text if len(text) <= most else text[: most - 1] + "…"
