"""A printed page as a picture, for a look before printing and for the virtual painter."""

from __future__ import annotations

import numpy as np
import pypdfium2
from numpy.typing import NDArray


def page_picture(pdf: bytes, page: int, dpi: float = 150.0) -> NDArray[np.uint8]:
    """Return one page as grey levels, 0 black to 255 white, shape (rows, cols).

    Parameters
    ----------
    pdf : the document
    page : 1 for the first
    dpi : pixels an inch
    """
    document = pypdfium2.PdfDocument(pdf)
    try:
        picture = document[page - 1].render(scale=dpi / 72, grayscale=True)
        return np.asarray(picture.to_numpy()).reshape(picture.height, picture.width).copy()
    finally:
        document.close()
