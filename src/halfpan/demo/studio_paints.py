"""The invented studio: three invented makers, their paints as the labels print them, and the film of each."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import cache

from halfpan.core.paint.paint import Label, Paint
from halfpan.demo.film import Film, mix_films
from halfpan.demo.pigments import Curve, pigment_curves, table_rows


@dataclass(frozen=True, slots=True, eq=False)
class StudioPaint:
    """One paint of the invented studio: what its tube says, the family it is filed under, its true film."""

    paint: Paint
    family: str
    film: Film


def _slug(text: str) -> str:
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")


def _film(parts: str, curves: dict[str, Curve]) -> Film:
    named = [part.split("=") for part in parts.split("+")]
    chosen = [curves[name] for name, _ in named]
    films = [Film(c.absorption, c.scattering, c.grain, c.staining, c.flow) for c in chosen]
    return mix_films(films, [float(amount) for _, amount in named])


def _label(row: dict[str, str], maker: dict[str, str]) -> Label:
    scales = ", ".join(maker[k] for k in ("light_scale", "body_scale", "grain_scale", "stain_scale"))
    return Label(
        name=row["name"],
        codes=row["codes"],
        lightfastness=maker[row["light"]],
        transparency=maker[row["body"]],
        granulation=maker[row["grain"]],
        staining=maker[row["stain"]],
        health=row["health"],
        scales=scales,
    )


def _paint(row: dict[str, str], maker: dict[str, str]) -> Paint:
    return Paint(
        id=_slug(f"{row['name']} {row['maker']}"),
        maker=row["maker"],
        range=maker["range"],
        name=row["name"],
        codes=tuple(row["codes"].split()),
        label=_label(row, maker),
        form=row["form"],
        size_ml=float(row["size_ml"]),
        price=float(row["price"]),
        currency="EUR",
        series=row["series"],
    )


@cache
def studio_paints() -> tuple[StudioPaint, ...]:
    """Return the paints of the invented studio, filed by family."""
    curves = pigment_curves()
    makers = {row["maker"]: row for row in table_rows("makers.csv")}
    return tuple(
        StudioPaint(
            _paint(row, makers[row["maker"]]),
            row["family"],
            _film(row["parts"], curves),
        )
        for row in table_rows("studio_paints.csv")
    )


def studio_films() -> dict[str, Film]:
    """Return the true film of every paint of the invented studio by the paint's id."""
    return {entry.paint.id: entry.film for entry in studio_paints()}
