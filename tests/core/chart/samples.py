"""Invented paints for charts, and a width of text that needs no font."""

from __future__ import annotations

from halfpan.core.chart.label import BoxLabel

MAKERS = ("Larkspur Mill", "Old Quarry", "Tidewater")
FAMILIES = {
    "Yellows": ("Lemon Yellow", "Bismuth Yellow", "Arylide Yellow Light", "Indian Yellow"),
    "Reds": ("Scarlet", "Cadmium Red", "Pyrrole Red", "Anthraquinone Red", "Alizarin Crimson"),
    "Blues": ("Ultramarine", "Cobalt Blue", "Phthalo Blue, green shade", "Prussian Blue"),
    "Whites": ("Chinese White", "Titanium White"),
}


def labels(count=15):
    every = [
        BoxLabel(
            f"P{k}",
            name,
            ("PY3", "PW6"),
            MAKERS[k % 3],
            "Studio" if k % 2 else "",
            family,
            family == "Whites",
        )
        for family, names in FAMILIES.items()
        for k, name in enumerate(names)
    ]
    repeated = every * -(-count // len(every))
    return [
        BoxLabel(f"P{k + 1}", p.name, p.codes, p.maker, p.range, p.family, p.pale)
        for k, p in enumerate(repeated[:count])
    ]


def plain_width(text, face, size):
    """Every letter 0.5 em wide."""
    return 0.5 * len(text) * size * 25.4 / 72
