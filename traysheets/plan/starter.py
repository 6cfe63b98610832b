"""The starter plan: a file to write on in, that teaches the three ways of sowing and can be made as it is."""

from pathlib import Path

_TEMPLATE = Path(__file__).with_name("starter.toml")
_SEASON_OF_TEMPLATE = 2027


def starter_plan(season: int = _SEASON_OF_TEMPLATE) -> str:
    """The text of a starter plan whose days lie in that year."""
    return _TEMPLATE.read_text(encoding="utf-8").replace(str(_SEASON_OF_TEMPLATE), str(season))
