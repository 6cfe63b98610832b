"""Eyes: a page of a PDF turned into a picture, and the QR codes that two independent decoders find in a picture."""

from collections.abc import Iterable
from typing import Any

import cv2
import numpy as np
import pypdfium2
import zxingcpp
from PIL import Image, ImageFilter

Box = tuple[float, float, float, float]


def render(pdf: bytes, page: int = 0, dpi: float = 300, *, grey: bool = False) -> Image.Image:
    """A page as a picture, in colour or in grey. Pages count from 0."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        picture = document[page].render(scale=dpi / 72).to_pil()
    finally:
        document.close()
    return picture.convert("L" if grey else "RGB")


def blurred(picture: Image.Image, sigma_pixels: float) -> Image.Image:
    """The picture out of focus."""
    return picture.filter(ImageFilter.GaussianBlur(sigma_pixels))


def crop(picture: Image.Image, box_mm: Box, dpi: float) -> Image.Image:
    """A part of a page, given by left, top, right and bottom in mm."""
    left, top, right, bottom = (round(side / 25.4 * dpi) for side in box_mm)
    return picture.crop((left, top, right, bottom))


def decode_qr(picture: Image.Image) -> set[str]:
    """What zxing-cpp reads, wherever it stands in the picture."""
    found = zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)
    return {code.text for code in found}


def decode_qr_opencv(picture: Image.Image, boxes_mm: Iterable[Box] = (), dpi: float = 300) -> set[str]:
    """What OpenCV reads; give it the places of the codes, where it is to read several on a page."""
    parts = [crop(picture, box, dpi) for box in boxes_mm] or [picture]
    return {text for part in parts for text in _opencv(np.asarray(part.convert("L")))}


def _opencv(pixels: Any) -> set[str]:
    """Tried at two sizes: the detector is choosy about how many pixels a module has."""
    for factor in (1, 2):
        sized = cv2.resize(pixels, None, fx=factor, fy=factor, interpolation=cv2.INTER_CUBIC)
        _, texts, _, _ = cv2.QRCodeDetector().detectAndDecodeMulti(sized)
        if any(texts):
            return {text for text in texts if text}
    return set()
