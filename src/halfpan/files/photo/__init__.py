"""Pictures from disk: decoded, turned upright, in linear light, with what the file says about itself."""

from halfpan.files.photo.picture import Picture, load_photo, open_pictures
from halfpan.files.photo.taken import Taken

__all__ = ["Picture", "Taken", "load_photo", "open_pictures"]
