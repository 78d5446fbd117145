"""What a printer and an eye make of a sheet: pictures of its pages, its letters, its codes."""

from ctypes import c_double
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import zxingcpp
from PIL import Image

PT_MM = 25.4 / 72


@dataclass(frozen=True)
class Letter:
    """One letter on a page, in points; y runs upward."""

    page: int
    letter: str
    size: float
    left: float
    bottom: float
    right: float
    top: float


def letters_of(pdf: bytes) -> list[Letter]:
    """Return each letter that is set as text, with its size as it is seen on paper."""
    found = []
    document = pypdfium2.PdfDocument(pdf)
    try:
        for number, page in enumerate(document):
            text = page.get_textpage()
            for place in range(text.count_chars()):
                letter = chr(pdfium.FPDFText_GetUnicode(text, place))
                if letter.isspace():
                    continue
                box = [c_double() for _ in range(4)]
                pdfium.FPDFText_GetCharBox(text, place, *box)
                left, right, bottom, top = (one.value for one in box)
                matrix = pdfium.FS_MATRIX()
                pdfium.FPDFText_GetMatrix(text, place, matrix)
                size = (
                    pdfium.FPDFText_GetFontSize(text, place)
                    * abs(matrix.a * matrix.d - matrix.b * matrix.c) ** 0.5
                )
                found.append(Letter(number, letter, size, left, bottom, right, top))
            text.close()
    finally:
        document.close()
    return found


def smallest_letter_pt(pdf: bytes) -> float:
    """Return the size of the smallest letter [pt]."""
    return min(letter.size for letter in letters_of(pdf))


def overlapping_letters(pdf: bytes) -> list[tuple[Letter, Letter]]:
    """Return letters that lie over one another by more than a quarter of the smaller one."""
    over = []
    by_page: dict[int, list[Letter]] = {}
    for letter in letters_of(pdf):
        by_page.setdefault(letter.page, []).append(letter)
    for letters in by_page.values():
        box = np.array([[one.left, one.bottom, one.right, one.top] for one in letters])
        area = np.maximum((box[:, 2] - box[:, 0]) * (box[:, 3] - box[:, 1]), 1e-6)
        order = np.argsort(box[:, 0], kind="stable")
        for nth, one in enumerate(order[:-1]):
            later = order[nth + 1 :]
            later = later[: np.searchsorted(box[later, 0], box[one, 2])]
            wide = np.minimum(box[one, 2], box[later, 2]) - box[later, 0]
            high = np.minimum(box[one, 3], box[later, 3]) - np.maximum(box[one, 1], box[later, 1])
            shared = np.clip(wide, 0, None) * np.clip(high, 0, None)
            hidden = later[shared > 0.25 * np.minimum(area[one], area[later])]
            over += [(letters[one], letters[other]) for other in hidden]
    return over


def beyond_the_edge(pdf: bytes, margin_mm: float = 5.0) -> list[Letter]:
    """Return letters nearer to the edge of the paper than a printer reaches."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        sizes = [page.get_size() for page in document]
    finally:
        document.close()
    edge = margin_mm / PT_MM
    return [
        one
        for one in letters_of(pdf)
        if one.left < edge
        or one.bottom < edge
        or one.right > sizes[one.page][0] - edge
        or one.top > sizes[one.page][1] - edge
    ]


def text_of(pdf: bytes) -> list[str]:
    """Return what can be read of each page, spaces and line breaks as one space."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    finally:
        document.close()


def pictures_of(pdf: bytes, dots_per_inch: float = 150.0) -> list[Image.Image]:
    """Return each page as a picture in shades of grey, as it is printed."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [page.render(scale=dots_per_inch / 72).to_pil().convert("L") for page in document]
    finally:
        document.close()


def codes_on(picture: Image.Image) -> list[str]:
    """Return what a phone reads from the square codes of a picture."""
    return [code.text for code in zxingcpp.read_barcodes(picture)]


def is_in_order(pdf: bytes, *words: str) -> bool:
    """Tell whether words stand on a sheet one after the other."""
    whole = " ".join(text_of(pdf))
    places = [whole.find(one) for one in words]
    return places[0] >= 0 and all(0 <= a < b for a, b in pairwise(places))
