"""Pictures cut from the painter's own photos, and the pictures kept with mixes."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import FileResponse, Response

from halfpan.studio.cut_crops import crop_file
from halfpan.studio.see_mix_photo import mix_photo
from halfpan.web.asked import AskedCutting, AskedStudio
from halfpan.web.static import FOR_EVER

router = APIRouter(include_in_schema=False)


@router.get("/crops/{page_read}/{box}.webp")
def wall_crop(page_read: int, box: str, studio: AskedStudio, cutting: AskedCutting) -> Response:
    """Answer with one box as the wall shows it."""
    with cutting:
        path = crop_file(studio, page_read, box)
    return FileResponse(path, media_type="image/webp", headers={"cache-control": FOR_EVER})


@router.get("/crops/{page_read}/{box}/large.webp")
def large_crop(page_read: int, box: str, studio: AskedStudio, cutting: AskedCutting) -> Response:
    """Answer with one box as large as the photo holds it."""
    with cutting:
        path = crop_file(studio, page_read, box, large=True)
    return FileResponse(path, media_type="image/webp", headers={"cache-control": FOR_EVER})


@router.get("/mixes/log/{number}.webp")
def picture_of_mix(number: int, studio: AskedStudio, cutting: AskedCutting) -> Response:
    """Answer with the picture that was kept with a mix, small enough to look at."""
    with cutting:
        path = mix_photo(studio, number)
    return FileResponse(path, media_type="image/webp")
