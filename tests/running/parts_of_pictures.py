"""A picture's parts, and its paper: tests look at parts, not at pixels."""

from scoring.drawing.shapes import AnyShape, Box, Picture


def of_part(picture: Picture, part: str) -> list[AnyShape]:
    """Return the shapes of one part."""
    return [shape for shape in picture.shapes if shape.part == part]


def paper_of(picture: Picture) -> Box:
    """Return the paper of a picture."""
    return Box(0.0, 0.0, picture.width, picture.height)
