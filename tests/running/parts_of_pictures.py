"""What of a picture belongs to one part: tests look at parts, not at pixels."""

from scoring.drawing.shapes import AnyShape, Picture


def of_part(picture: Picture, part: str) -> list[AnyShape]:
    """Return the shapes of one part."""
    return [shape for shape in picture.shapes if shape.part == part]
