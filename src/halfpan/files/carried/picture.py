"""Pictures made small enough to carry many of them."""

from __future__ import annotations

from io import BytesIO

from PIL import Image


def smaller(picture: bytes, width: int, *, quality: int = 70) -> bytes:
    """Return a picture brought to a width in pixels, never enlarged, as WebP."""
    with Image.open(BytesIO(picture)) as opened:
        image = opened.convert("RGB")
    if image.width > width:
        image = image.resize((width, round(image.height * width / image.width)), Image.Resampling.LANCZOS)
    small = BytesIO()
    image.save(small, "WEBP", quality=quality, method=4)
    return small.getvalue()
