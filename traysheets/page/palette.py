"""The palette: eight fills that black letters read on, told apart by usual and colour-blind eyes."""

FILLS: tuple[str, ...] = ("#109EEB", "#E17D27", "#F1F309", "#81DFFF", "#B2907C", "#C5D8CF", "#9999AB", "#F8BA7E")


def fill(number: int, *, grey: bool = False) -> str:
    """The colour of the `number`-th variety of a sheet, from 0; white when the sheet is to do without colour."""
    return "#FFFFFF" if grey else FILLS[number % len(FILLS)]


def tint(colour: str) -> str:
    """The light ground that seeds stand on: 40 % of the colour on white."""
    parts = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return "#" + "".join(f"{round(255 - (255 - part) * 0.4):02X}" for part in parts)
