"""A printed page as a picture, for a look before printing and for the virtual painter."""

from __future__ import annotations

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
from numpy.typing import NDArray


def page_picture(pdf: bytes, page: int, dpi: float = 150.0) -> NDArray[np.uint8]:
    """Return one page as grey levels, 0 black to 255 white, shape (rows, cols).

    Parameters
    ----------
    pdf : the document
    page : 1 for the first
    dpi : pixels an inch, exactly: a mm is ``dpi / 25.4`` pixels from the top left, whatever the page's size
    """
    document = pypdfium2.PdfDocument(pdf)
    try:
        sheet = document[page - 1]
        width, height = (max(1, round(side * dpi / 72)) for side in sheet.get_size())
        picture = pypdfium2.PdfBitmap.new_native(width, height, pdfium.FPDFBitmap_Gray)
        picture.fill_rect((255, 255, 255, 255), 0, 0, width, height)
        scale = pdfium.FS_MATRIX(dpi / 72, 0, 0, dpi / 72, 0, 0)
        whole = pdfium.FS_RECTF(0, 0, width, height)
        pdfium.FPDF_RenderPageBitmapWithMatrix(picture, sheet, scale, whole, pdfium.FPDF_ANNOT)
        return np.asarray(picture.to_numpy()).reshape(height, width).copy()
    finally:
        document.close()
