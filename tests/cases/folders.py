"""Where the case files of users stand."""

from pathlib import Path

TECHNICAL = Path(__file__).parent / "technical"
